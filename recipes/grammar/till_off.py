"""What was rung up and never sold: columns that count it, beside columns that mark it.

A till may have several at once, voids beside returns: all of them are taken off."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

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
    columns by their places: those that say it, and those whose cells say nothing of the kind."""

    counts: list[float]
    said: list[str]
    read: list[int]
    unread: list[int]


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
    columns: Mapping[int, Sequence[str]], names: Sequence[str], sold: Sequence[str], sign: str
) -> TakenOff:
    counts = till_cells.figures(sold, sign)
    found = TakenOff([0.0] * len(sold), [""] * len(sold), [], [])
    for place, column in columns.items():
        cells = [cell if re.search(r"\w", cell) else "" for cell in column]
        off = None if fold(names[place]) in MARKS else _figures(cells, sold, counts, sign)
        if off is not None:
            found.counts[:] = (a + b for a, b in zip(found.counts, off, strict=True))
        elif _says_nothing(cells, sign):
            found.unread.append(place)
            continue
        else:
            marks = (cell if _is_mark(cell) else "" for cell in cells)
            found.said[:] = (a or b for a, b in zip(found.said, marks, strict=True))
        found.read.append(place)
    return found


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
