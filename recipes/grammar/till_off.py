"""What was rung up and never sold: columns that count it, beside columns that mark it.

A till may have several at once, voids beside returns: all of them are taken off. An item whose row
tells several sizes or days has each figure once for all of them: it comes off what sold most."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from recipes.grammar import till_cells
from recipes.grammar.course import fold
from recipes.grammar.till_columns import COLUMNS, MARKS
from recipes.grammar.till_names import VOID
from recipes.grammar.till_sums import PAYMENT

BACK = re.compile(r"\W*(?:refund|return|rückgabe|retour|devoluci)", re.IGNORECASE)
YES = frozenset({"yes", "y", "true", "1", "x", "v", "ja", "oui", "sí", "si"})


@dataclass(frozen=True)
class TakenOff:
    """By row: how many a figure takes off, and the first word or mark that says the row was. The
    columns by their places: those that say it, and those whose cells say nothing of the kind.
    `shared` are the lines where a figure is for several rows and is neither none nor all of it."""

    counts: list[float]
    said: list[str]
    read: list[int]
    unread: list[int]
    shared: list[int]


def places_off(places: Mapping[str, int], names: Sequence[str]) -> list[int]:
    """The column that was found or chosen, and all others with a heading that is known; it alone
    where somebody chose one that isn't."""
    first = places.get("status")
    known = COLUMNS["status"]
    if first is None or fold(names[first]) not in known:
        return [] if first is None else [first]
    others = (n for n, name in enumerate(names) if fold(name) in known)
    return [first, *(n for n in others if n not in places.values())]


def taken_off(
    columns: Mapping[int, Sequence[str]], names: Sequence[str], sold: Sequence[str], sign: str,
    lines: Sequence[int],
) -> TakenOff:  # fmt: skip
    """`lines` are the lines of the file that the rows come from, where one may give several: what
    is said there is said once for all of them."""
    counts = till_cells.figures(sold, sign)
    found = TakenOff([0.0] * len(sold), [""] * len(sold), [], [], [])
    items = _items(lines)
    totals = [_total([counts[row] for row in rows]) for rows in items]
    off = [0.0] * len(items)
    for place, column in columns.items():
        cells = [cell if re.search(r"\w", cell) else "" for cell in column]
        each = [cells[rows[0]] for rows in items]
        more = None if fold(names[place]) in MARKS else _figures(each, sold, totals, sign)
        if more is not None:
            off = [a + b for a, b in zip(off, more, strict=True)]
        elif _says_nothing(cells, sign):
            found.unread.append(place)
            continue
        else:
            marks = (cell if _is_mark(cell) else "" for cell in cells)
            found.said[:] = (a or b for a, b in zip(found.said, marks, strict=True))
        found.read.append(place)
    for rows, total, n in zip(items, totals, off, strict=True):
        _share(found, rows, counts, n)
        if len(rows) > 1 and 0 < n < (total or 0.0):
            found.shared.append(lines[rows[0]])
    return found


def _items(lines: Sequence[int]) -> list[list[int]]:
    """The rows of each line; they stand one below the other."""
    return [[row for row, _n in rows] for _n, rows in groupby(enumerate(lines), lambda x: x[1])]


def _total(counts: Sequence[float | None]) -> float | None:
    known = [count for count in counts if count is not None]
    return sum(known) if known else None


def _share(
    found: TakenOff, rows: Sequence[int], counts: Sequence[float | None], off: float
) -> None:
    """From the row that sold most first, and from no row more than it sold; what is more than all
    of them sold stays with the first, so that nothing is lost."""
    most = sorted(rows, key=lambda row: -(counts[row] or 0.0))
    for row in most:
        found.counts[row] = min(off, max(counts[row] or 0.0, 0.0))
        off -= found.counts[row]
    found.counts[most[0]] += off


def _figures(
    cells: Sequence[str], sold: Sequence[str], counts: Sequence[float | None], sign: str
) -> list[float] | None:
    """How many of each row were taken off, below zero or above, where a column of figures says it:
    with more than one somewhere, or fewer than were sold, and nowhere more. A lone 1 of 1 is a mark
    as good as a figure. None where the cells are words, marks or money."""
    found = [n if n is None else abs(n) for n in till_cells.figures(cells, sign)]
    if any(c and n is None for c, n in zip(cells, found, strict=True)) or _is_money(cells, sold):
        return None
    pairs = [(n, count) for n, count in zip(found, counts, strict=True) if n and count is not None]
    fits = all(n <= abs(count) for n, count in pairs if count)
    if fits and any(n > 1 or n < count for n, count in pairs):
        rows = zip(found, counts, strict=True)
        return [n if n and count is not None and count >= 0 else 0.0 for n, count in rows]
    return None


def _is_money(cells: Iterable[str], sold: Iterable[str]) -> bool:
    """Written with two decimals where what was sold isn't."""
    return any(map(till_cells.is_money, cells)) and not any(map(till_cells.is_money, sold))


def _is_mark(cell: str) -> bool:
    return bool(VOID.match(cell) or BACK.match(cell) or PAYMENT.match(cell) or fold(cell) in YES)


def _says_nothing(cells: Sequence[str], sign: str) -> bool:
    """Whether figures stand in it that are no marks, or money: more than were sold, or a code."""
    numbers = till_cells.figures(cells, sign)
    if any(abs(n or 0) > 1 for n in numbers) or any(map(till_cells.is_money, cells)):
        return not any(_is_mark(c) for c, n in zip(cells, numbers, strict=True) if n is None)
    return False
