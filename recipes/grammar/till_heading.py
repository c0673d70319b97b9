"""A heading over two rows, the upper ones spanning the lower: read as one where that tells more."""

from __future__ import annotations

from collections.abc import Sequence

from recipes.grammar import till_cells
from recipes.grammar.course import fold
from recipes.grammar.till_columns import Rows, places_of

LOOKED_AT = 25
"""Rows in which the names of the columns are looked for."""


def in_one_row(rows: Rows) -> Rows:
    """The rows with the first such heading in one row, the number of the lower; else as they are.
    A second row of figures or days is data, and one in which a name stands twice belongs to groups
    that nobody can tell apart."""
    for at in range(min(len(rows) - 1, LOOKED_AT)):
        upper, lower = ([cell.strip() for cell in row] for _n, row in rows[at : at + 2])
        if names := _joined(upper, lower):
            return [*rows[:at], (rows[at + 1][0], names), *rows[at + 2 :]]
        if {"item", "quantity"} <= _known(upper):
            break
    return rows


def joined(upper: Sequence[str], lower: Sequence[str]) -> list[str]:
    """Both rows as one: what the lower one names, else what stands above it."""
    longer = max(len(upper), len(lower))
    pairs = zip(*([*row, *[""] * (longer - len(row))] for row in (upper, lower)), strict=True)
    return [below or above for above, below in pairs]


def _joined(upper: Sequence[str], lower: Sequence[str]) -> list[str]:
    """Empty where they are no heading together."""
    if not (_are_names(upper) and _are_names(lower)):
        return []
    names = joined(upper, lower)
    said = [fold(name) for name in names if name]
    if len({*said}) < len(said):
        return []
    above, below, both = map(_known, (upper, lower, names))
    if not {"item", "quantity"} <= both or len(both) < max(len(above), len(below)):
        return []
    if "item" in above:
        at = places_of([fold(c) for c in upper])["item"]
        spans = at >= len(lower) or not lower[at]
        more = len(both) > len(above) or "quantity" in below
        return names if spans and more else []
    return names if "item" in below and len(both) > len(below) else []


def _known(cells: Sequence[str]) -> set[str]:
    return {*places_of([fold(cell) for cell in cells])}


def _are_names(cells: Sequence[str]) -> bool:
    said = [cell for cell in cells if cell]
    every = all(any(c.isalpha() for c in cell) and not till_cells.is_day(cell) for cell in said)
    return bool(said) and every
