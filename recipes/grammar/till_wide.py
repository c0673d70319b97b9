"""Sheets of a till that lay one item over several cells: a column a size or a day, or a name that
stands in the first of its rows alone. They are laid out again, a row a figure, before anything else
is read; what was done is told.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from recipes.grammar import till_cells
from recipes.grammar.course import fold
from recipes.grammar.till_columns import Rows, places_of
from recipes.grammar.till_sums import is_sum

SIZE, DATE, QUANTITY = "Size", "Date", "Quantity"
"""What the columns are called that the file hasn't and its rows get."""

_LEAST = 2
"""Columns of sizes or days; one alone is a column of something else."""
_LOOKED_AT = 25
_DASHES = str.maketrans({"\u2013": "-", "\u2014": "-", "\u2212": "-"})
_TO_ITSELF = frozenset({"size", "date", "hour"})
"""What tells the rows of one item apart."""

_SIZE = re.compile(
    r"(?:small|sml?|medium|med|large|lge?|regular|reg|triple|pints?|pt|"
    r"(?:single|sgl|double|dbl)(?: (?:tall|short))?|tall|short|"
    r"half(?: pints?| pt)?|1/2 ?(?:pints?|pt)|½ ?(?:pints?|pt)?|schooner|glass|gls|bottle|btl|"
    r"half (?:bottle|btl)|carafe|jug|pitcher|shot|klein|groß|flasche|glas|verre|bouteille|copa|"
    r"botella|\d+(?:[.,]\d+)?\s*(?:ml|cl|l|oz|fl\.? ?oz))\.?(?: (?:qty|sold|count))?",
    re.IGNORECASE,
)


@dataclass(frozen=True)
class Laid:
    """`rows` as they are read; `wide` the headings that were sizes or days, `as_days` which."""

    rows: Rows
    wide: tuple[str, ...] = ()
    as_days: bool = False


@dataclass(frozen=True)
class _Head:
    """Where the names of columns end, what they are, and which are sizes or days."""

    ends: int
    names: Sequence[str]
    wide: Sequence[int]
    as_days: bool


def laid_long(rows: Rows, picked: str = "") -> Laid:
    """As they stand where no heading is a size or a day, where what stands below isn't how many,
    and where somebody `picked` a column of the file to say how many."""
    head = _head(rows)
    if head is None or picked in [*head.names]:
        return Laid(rows)
    body = rows[head.ends :]
    if not _counts(body, head):
        return Laid(rows)
    kept = [p for p in range(len(head.names)) if p not in head.wide]
    names = [head.names[p] for p in kept] + [DATE if head.as_days else SIZE, QUANTITY]
    long = [(rows[head.ends - 1][0], names), *_long(body, head, kept)]
    return Laid(long, tuple(head.names[p] for p in head.wide), head.as_days)


def _head(rows: Rows) -> _Head | None:
    """The first row, or two, that names items and sizes; in two the upper ones span the lower."""
    for at in range(min(len(rows), _LOOKED_AT)):
        above = [cell.strip() for cell in rows[at][1]]
        if "item" not in places_of([fold(c) for c in above]):
            continue
        for ends, names in ((at + 1, above), (at + 2, _with_below(rows, at, above))):
            for as_days in (False, True):
                wide = [p for p, name in enumerate(names) if _is_wide(name, as_days=as_days)]
                if len(wide) >= _LEAST:
                    return _Head(ends, names, wide, as_days)
        return None
    return None


def _with_below(rows: Rows, at: int, above: Sequence[str]) -> Sequence[str]:
    """Both rows as one, where the lower one names nothing where items are named."""
    below = [cell.strip() for cell in rows[at + 1][1]] if at + 1 < len(rows) else []
    item = places_of([fold(c) for c in above])["item"]
    if item < len(below) and below[item]:
        return ()
    longer = max(len(above), len(below))
    pairs = zip(*([*row, *[""] * (longer - len(row))] for row in (above, below)), strict=True)
    return [lower or upper for upper, lower in pairs]


def _is_wide(name: str, *, as_days: bool) -> bool:
    if not as_days:
        return bool(_SIZE.fullmatch(name))
    return any(till_cells.day_of(name, month_first=m) is not None for m in (False, True))


def _counts(body: Rows, head: _Head) -> bool:
    """Whether they say how many: figures that aren't money; and where the file has a quantity too,
    those that add up to it."""
    cells = [_cell(row, p) for _n, row in body for p in head.wide]
    said = [cell for cell in cells if not _is_none(cell)]
    if not said or all(map(till_cells.is_money, said)):
        return False
    if None in till_cells.figures(said):
        return False
    place = places_of([fold(n) for n in head.names]).get("quantity")
    return (
        place is None or place in head.wide or all(_adds_up(row, place, head) for _n, row in body)
    )


def _adds_up(row: Sequence[str], place: int, head: _Head) -> bool:
    parts = till_cells.figures([_cell(row, p) or "0" for p in head.wide])
    [whole] = till_cells.figures([_cell(row, place)])
    return sum(part or 0.0 for part in parts) == (whole or 0.0)


def _long(body: Rows, head: _Head, kept: Sequence[int]) -> Iterator[tuple[int, list[str]]]:
    """A row for each figure. One without any stays, so that it is seen."""
    for number, row in body:
        mine = [_cell(row, p) for p in kept]
        found = [p for p in head.wide if not _is_none(_cell(row, p))]
        for place in found:
            yield number, [*mine, head.names[place], _cell(row, place)]
        if not found and any(mine):
            yield number, [*mine, "", "0" if any(_cell(row, p) for p in head.wide) else ""]


def _is_none(cell: str) -> bool:
    return cell.translate(_DASHES) in ("", "-", "0")


def _cell(row: Sequence[str], place: int) -> str:
    return row[place].strip() if place < len(row) else ""


def named_from_above(
    body: Rows, places: Mapping[str, int]
) -> tuple[list[tuple[int, Sequence[str]]], tuple[tuple[int, str], ...]]:
    """Rows without a name get the one above where the whole sheet is so: no name comes twice, and
    the rows below one say each another size, day or hour. Else all stays as it is."""
    apart = [places[what] for what in places if what in _TO_ITSELF]
    item, name = places["item"], ""
    out: list[tuple[int, Sequence[str]]] = []
    below: list[tuple[int, str]] = []
    names, told = set[str](), set[tuple[str, ...]]()
    for number, row in body:
        own, says = _cell(row, item), tuple(_cell(row, p) for p in apart)
        if own:
            if not is_sum(own) and fold(own) in names:
                return list(body), ()
            names.add(fold(own))
            name, told = ("", set()) if is_sum(own) else (own, {says})
        elif name and any(says):
            if says in told:
                return list(body), ()
            told.add(says)
            below.append((number, name))
            out.append((number, [*row[:item], name, *row[item + 1 :]]))
            continue
        out.append((number, row))
    return out, tuple(below)
