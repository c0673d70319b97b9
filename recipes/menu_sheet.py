"""A menu as it arrives: text, or a sheet (CSV, XLSX, ODS) with a column of items and beside it, in
any order, what they cost, what is in them and how many were sold."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from recipes.grammar.course import fold
from recipes.grammar.sheet_text import decode
from recipes.importing import received

COLUMNS: Mapping[str, frozenset[str]] = {
    "item": frozenset({"item", "name", "drink", "product", "article", "menu item"}),
    "list": frozenset({"ingredients", "description", "contains", "what is in it"}),
    "price": frozenset({"price", "unit price", "menu price", "selling price", "sell price"}),
    "sold": frozenset({
        "quantity", "qty", "sold", "quantity sold", "qty sold", "units", "units sold", "count",
        "number sold", "amount sold",
    }),
}  # fmt: skip
"""What the columns of such sheets are called."""
_WORD = re.compile(r"[^\W\d_]{4,}")
"""Longer than any currency is written."""
_DELIMITERS = ",;\t|"


@dataclass(frozen=True)
class TypedMenu:
    """Lines of text, and how many of each line were sold where a sheet says so. `unread` are the
    cells of prices and quantities in which no number stands."""

    text: str
    sold: Mapping[int, float]
    unread: tuple[Unread, ...] = ()


@dataclass(frozen=True)
class Unread:
    """The item, the column ("price" or "sold") and what its cell says."""

    item: str
    column: str
    said: str


def menu_of_file(data: bytes) -> TypedMenu:
    """Raises `CannotBuild` for what is neither text nor a sheet."""
    came = received(data)
    if came.rows is None:
        return menu_of_text(decode(came.data)[0])
    rows = [cells for _line, cells in came.rows if any(c.strip() for c in cells)]
    return _menu(rows) or TypedMenu("\n".join(" | ".join(filter(None, r)) for r in rows), {})


def menu_of_text(text: str) -> TypedMenu:
    """A pasted sheet is known by its first row; any other text is a menu by itself."""
    head = next((line for line in text.splitlines() if line.strip()), "")
    delimiter = max(_DELIMITERS, key=head.count)
    if delimiter not in head:
        return TypedMenu(text, {})
    rows = csv.reader(io.StringIO(text.strip(), newline=""), delimiter=delimiter)
    try:
        return _menu([r for r in rows if any(c.strip() for c in r)]) or TypedMenu(text, {})
    except csv.Error:
        return TypedMenu(text, {})


def written_sold(sold: Mapping[int, float]) -> str:
    return json.dumps({str(line): count for line, count in sold.items()}) if sold else ""


def read_sold(said: str) -> dict[int, float]:
    """What `written_sold` wrote; nothing where it is anything else."""
    try:
        return {int(line): float(count) for line, count in json.loads(said or "{}").items()}
    except (ValueError, TypeError, AttributeError):
        return {}


def _menu(rows: Sequence[Sequence[str]]) -> TypedMenu | None:
    """None where the first row doesn't say that it is a sheet."""
    at = _columns(rows[0]) if rows else {}
    if "item" not in at or len(at) < 2:
        return None
    lines, sold, unread = list[str](), dict[int, float](), list[Unread]()
    for row in rows[1:]:
        cell = {name: " ".join(row[i].split()) for name, i in at.items() if i < len(row)}
        if not fold(cell.get("item", "")):
            continue
        for column, is_read in (("price", _is_price), ("sold", _is_count)):
            if (said := cell.get(column, "")) and not is_read(said):
                unread.append(Unread(cell["item"], column, said))
                del cell[column]
        lines.append(" | ".join(filter(None, (cell.get(n) for n in ("item", "list", "price")))))
        if (count := _count(cell.get("sold", ""))) is not None:
            sold[len(lines)] = count
    return TypedMenu("\n".join(lines), sold, tuple(unread))


def _columns(head: Iterable[str]) -> dict[str, int]:
    """Where each column stands; of two that could be it, the first."""
    found: dict[str, int] = {}
    for place, said in enumerate(head):
        for name, words in COLUMNS.items():
            if fold(said) in words or any(fold(said).startswith(f"{w} ") for w in words):
                found.setdefault(name, place)
                break
    return found


def _is_price(said: str) -> bool:
    """A number, with or without a sign of its currency."""
    return any(c.isdigit() for c in said) and not _WORD.search(said)


def _is_count(said: str) -> bool:
    return _count(said) is not None


def _count(said: str) -> float | None:
    bare = said.replace(" ", "").replace(",", "")
    return float(bare) if bare.replace(".", "", 1).isdigit() else None
