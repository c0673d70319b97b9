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
from recipes.grammar.till_columns import COLUMNS, MARKS, Rows, places_of
from recipes.grammar.till_heading import LOOKED_AT, joined
from recipes.grammar.till_sizes import is_heading
from recipes.grammar.till_sums import is_sum

SIZE, DATE, QUANTITY = "Size", "Date", "Quantity"
"""What the columns are called that the file hasn't and its rows get."""

_LEAST = 2
"""Columns of sizes or days; one alone is a column of something else."""
_DASHES = str.maketrans({"\u2013": "-", "\u2014": "-", "\u2212": "-"})
_TO_ITSELF = frozenset({"size", "date", "hour"})
"""What tells the rows of one item apart."""

_WHOLE = re.compile(
    r"(?:grand )?(?:total|sum|all|gesamt|summe|insgesamt)"
    r"(?: (?:sold|qty|quantity|count|units|items|sizes))?\W*",
    re.IGNORECASE,
)
"""A heading for the sum of the others."""
_ALMOST = 1e-6
_COUNT_OFF = frozenset(map(fold, COLUMNS["status"])) - {*map(fold, MARKS)}


@dataclass(frozen=True)
class Unequal:
    """A row whose columns add up to `parts` where its sum says `whole`."""

    line: int
    item: str
    parts: float
    whole: float


@dataclass(frozen=True)
class Laid:
    """`rows` as they are read; `wide` the headings that were sizes or days, `as_days` which.
    `unequal` are the rows that don't add up to their `sum`, as its column is called; where nothing
    is `wide` that column counts."""

    rows: Rows
    wide: tuple[str, ...] = ()
    as_days: bool = False
    sum: str = ""
    unequal: tuple[Unequal, ...] = ()


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
    if not _are_counts(body, head):
        return Laid(rows)
    counted, place = _sum_place(body, head)
    unequal = tuple(_unequal(body, place, head)) if place is not None else ()
    name = head.names[place] if unequal and place is not None else ""
    if counted and not all(_adds_up(row, place, head) for _n, row in body):
        some = len(unequal) < sum(1 for _row in _with_sums(body, place, head))
        return Laid(rows, as_days=head.as_days, sum=name, unequal=unequal) if some else Laid(rows)
    kept = [p for p in range(len(head.names)) if p not in head.wide]
    names = [head.names[p] for p in kept] + [DATE if head.as_days else SIZE, QUANTITY]
    long = [(rows[head.ends - 1][0], names), *_long(body, head, kept)]
    return Laid(long, tuple(head.names[p] for p in head.wide), head.as_days, name, unequal)


def _head(rows: Rows) -> _Head | None:
    """The first row, or two, that names items and sizes; in two the upper ones span the lower."""
    for at in range(min(len(rows), LOOKED_AT)):
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
    return joined(above, below)


def _is_wide(name: str, *, as_days: bool) -> bool:
    if not as_days:
        return is_heading(name)
    return till_cells.is_day(name)


def _are_counts(body: Rows, head: _Head) -> bool:
    """Whether they say how many: figures that aren't money."""
    cells = [_cell(row, p) for _n, row in body for p in head.wide]
    said = [c for c in cells if not _is_none(c) and not till_cells.is_formula(c)]
    if not said or all(map(till_cells.is_money, said)):
        return False
    return None not in till_cells.figures(said)


def _sum_place(body: Rows, head: _Head) -> tuple[bool, int | None]:
    """The column that is the sum of the others, and whether it is the file's own quantity: then the
    others count only where they add up to it."""
    place = places_of([fold(n) for n in head.names]).get("quantity")
    if place is not None and place not in head.wide:
        return True, place
    for place, name in enumerate(head.names):
        cells = [_cell(row, place) for _n, row in body]
        said = [cell for cell in cells if cell]
        is_count = None not in till_cells.figures(said) and not any(map(till_cells.is_money, said))
        if said and is_count and _WHOLE.fullmatch(name):
            return False, place
    return False, None


def _adds_up(row: Sequence[str], place: int | None, head: _Head) -> bool:
    """Also where neither says anything, or where the sum leaves out what was taken off."""
    if place is None:
        return True
    parts, whole = _figures(row, place, head)
    more = parts - (whole or 0.0)
    return abs(more) < _ALMOST or abs(more - _off(row, head)) < _ALMOST


def _off(row: Sequence[str], head: _Head) -> float:
    """What the row says was taken off: a sum may be told without it."""
    said = (_cell(row, p) for p, name in enumerate(head.names) if fold(name) in _COUNT_OFF)
    return sum(abs(n or 0.0) for n in till_cells.figures([*said]))


def _figures(row: Sequence[str], place: int, head: _Head) -> tuple[float, float | None]:
    """What the columns add up to, and what their sum says."""
    cells = [_cell(row, p) or "0" for p in head.wide]
    *parts, whole = till_cells.figures([*cells, _cell(row, place)])
    return sum(part or 0.0 for part in parts), whole


def _with_sums(
    body: Rows, place: int | None, head: _Head
) -> Iterator[tuple[int, str, Sequence[str]]]:
    """Rows of items, not of sums, that say what they add up to."""
    item = places_of([fold(n) for n in head.names])["item"]
    for number, row in body:
        name = _cell(row, item)
        if place is not None and name and not is_sum(name) and _cell(row, place):
            yield number, name, row


def _unequal(body: Rows, place: int, head: _Head) -> Iterator[Unequal]:
    for number, name, row in _with_sums(body, place, head):
        parts, whole = _figures(row, place, head)
        if whole is not None and not _adds_up(row, place, head):
            yield Unequal(number, name, parts, whole)


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
