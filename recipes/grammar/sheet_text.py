"""A sheet of recipes as text: bytes into rows of named cells and back.

A byte-order mark decides the encoding; without one it is UTF-8 where that can be read strictly,
else cp1252, which reads nearly everything (so say which it was, and let people switch). The
delimiter is the one that finds the most known columns in the first row.

A cell that a spreadsheet would take for a formula is written with an apostrophe before it, and
read without; numbers are left alone.
"""

import codecs
import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from recipes.grammar.course import fold
from recipes.grammar.reasons import CannotBuild, Reason

COLUMNS = ("name", "module", "glass", "ice", "method", "ingredients", "garnish", "aliases")
NEEDED = ("name", "ingredients")
ON_THE_MENU = ("price", "share", "must_know", "poured")
"""How the drink stands on the menu. They may be left out, and follow the others where written."""

ALL = (*COLUMNS, *ON_THE_MENU)
MOST_ROWS = 2000
MOST_IN_A_CELL = 4000

CODES = frozenset(
    {
        "sheet_empty",
        "sheet_unreadable",
        "sheet_without_rows",
        "sheet_too_long",
        "column_missing",
        "column_twice",
        "cell_too_long",
        "row_too_wide",
        "row_too_narrow",
    }
)

_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_DELIMITERS = (",", ";", "\t")
_FORMULA = ("=", "+", "-", "@", "\t", "\r")
_NUMBER = re.compile(r"[+-]?\d+(?:[.,]\d+)?")


@dataclass(frozen=True)
class SheetRow:
    """Cells by column, without surplus blanks; `line` is where it begins, the header being 1.

    With `reasons` its cells don't fit the columns, so that nobody knows which is which.
    """

    line: int
    cells: Mapping[str, str]
    reasons: tuple[Reason, ...] = ()


@dataclass(frozen=True)
class Sheet:
    """`ignored` are columns that nobody reads here."""

    rows: tuple[SheetRow, ...]
    ignored: tuple[str, ...]


def decode(data: bytes, encoding: str | None = None) -> tuple[str, str]:
    """The text and the encoding that it was read in: the one given, else the one found out."""
    for mark, name in _MARKS:
        if data.startswith(mark):
            return _decoded(data, "utf-8-sig" if name == "utf-8" else name), name
    if encoding is not None:
        return _decoded(data, encoding), encoding
    try:
        return data.decode("utf-8"), "utf-8"
    except UnicodeDecodeError:
        return _decoded(data, "cp1252"), "cp1252"


def _decoded(data: bytes, encoding: str) -> str:
    """A byte that means nothing stands as the sign for that, to be seen in the preview."""
    return data.decode(encoding, errors="replace")


def read_sheet(text: str) -> Sheet:
    """The rows of a CSV text; `CannotBuild` where it is no sheet of recipes."""
    text, preface = re.subn(r"\A\ufeff?\"?sep=.\"?\r?\n", "", text)
    text = text.removeprefix("\ufeff")
    if not text.strip():
        raise _refused("sheet_empty")
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=_delimiter(text), strict=False)
    numbered, line = [], 1
    try:
        for cells in reader:
            numbered.append((line + preface, cells))
            line = reader.line_num + 1
    except csv.Error as bad:
        raise _refused("sheet_unreadable", line=line + preface) from bad
    return sheet_of(numbered)


def sheet_of(numbered: Sequence[tuple[int, Sequence[str]]]) -> Sheet:
    """The sheet whose first row with anything in it names the columns."""
    filled = [(line, cells) for line, cells in numbered if any(c.strip() for c in cells)]
    if not filled:
        raise _refused("sheet_empty")
    (first, head), *rest = filled
    if not rest:
        _refuse_columns(first, [fold(_plain(c)).replace(" ", "_") for c in head], head)
        raise _refused("sheet_without_rows")
    if len(rest) > MOST_ROWS:
        raise _refused("sheet_too_long", most=MOST_ROWS)
    columns = [fold(_plain(c)).replace(" ", "_") for c in head]
    _refuse_columns(first, columns, head)
    width = max(i for i, c in enumerate(columns, start=1) if c)
    least = max(columns.index(c) for c in NEEDED) + 1
    rows = tuple(
        SheetRow(line, _cells(columns, cells), tuple(_misshapen(line, cells, width, least)))
        for line, cells in rest
    )
    named = zip(columns, head, strict=True)
    return Sheet(rows, tuple(h.strip() for c, h in named if c and c not in ALL))


def write_sheet(rows: Iterable[Mapping[str, str]]) -> str:
    """CSV text with the columns in their order, formula-looking cells written as text."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(ALL)
    for row in rows:
        writer.writerow([as_text(row.get(column, "")) for column in ALL])
    return out.getvalue()


def as_text(cell: str) -> str:
    """The cell as no spreadsheet takes it for a formula."""
    return f"'{cell}" if _looks_like_formula(cell) else cell


def _plain(cell: str) -> str:
    """What `as_text` was given; cells that nobody escaped stay as they are."""
    escaped = cell.startswith("'") and _looks_like_formula(cell[1:])
    return cell[1:] if escaped else cell


def _looks_like_formula(cell: str) -> bool:
    """Apostrophes before it count: what was escaped once is escaped again."""
    bare = cell.lstrip("'")
    return bare.startswith(_FORMULA) and not _NUMBER.fullmatch(cell)


def _delimiter(text: str) -> str:
    head = next(line for line in text.splitlines() if line.strip())

    def known(delimiter: str) -> int:
        return sum(fold(c.strip(' "')).replace(" ", "_") in ALL for c in head.split(delimiter))

    return max(_DELIMITERS, key=known)


def _cells(columns: Sequence[str], cells: Sequence[str]) -> dict[str, str]:
    named = dict(zip(columns, cells, strict=False))
    return {c: _plain(named.get(c, "")).strip(" \t") for c in ALL}  # lines may matter


def _refuse_columns(line: int, columns: Sequence[str], head: Sequence[str]) -> None:
    missing = not set(NEEDED) <= set(columns)
    twice = [c for c in ALL if columns.count(c) > 1]
    had = ", ".join(h.strip() for h in head if h.strip())[:200]
    reasons = [Reason.of("column_missing", line=line, had=had)] if missing else []
    reasons += [Reason.of("column_twice", line=line, column=c) for c in twice]
    if reasons:
        raise CannotBuild(tuple(reasons))


def _misshapen(line: int, cells: Sequence[str], width: int, least: int) -> Iterable[Reason]:
    """Cells missing at the end are empty ones, as long as those that a drink needs are there."""
    if any(c.strip() for c in cells[width:]):
        yield Reason.of("row_too_wide", line=line, cells=len(cells), columns=width)
    if len(cells) < least:
        yield Reason.of("row_too_narrow", line=line, cells=len(cells), columns=width)
    if any(len(c) > MOST_IN_A_CELL for c in cells):
        yield Reason.of("cell_too_long", line=line, most=MOST_IN_A_CELL)


def _refused(code: str, **values: int) -> CannotBuild:
    return CannotBuild((Reason.of(code, **values),))
