"""Drinks under the days on which they were signed off, set in columns of even height. Pure."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from .shown import SignedDrink

COLUMNS = 3
LEAST_HEIGHT = 6
"""A column this high comes before a second one."""
A_LINE = 20
"""Letters of a drink's name that fit on a line, wide ones among them."""


@dataclass(frozen=True)
class Day:
    """A heading: the business day, in ISO."""

    day: str
    rows: int = 1


@dataclass(frozen=True)
class Line:
    drink: SignedDrink

    @property
    def rows(self) -> int:
        return len(textwrap.wrap(self.drink.name, A_LINE))


@dataclass(frozen=True)
class More:
    """How many did not find room."""

    count: int
    rows: int = 1


Entry = Day | Line | More


def in_columns(drinks: Sequence[SignedDrink], most: int) -> list[list[Entry]]:
    """At most `COLUMNS` columns of at most `most` rows, as low as they can be but for the least.

    What doesn't fit is counted in the last line. No heading stands at the foot of a column.
    """
    by_day = sorted(drinks, key=lambda drink: drink.day)
    everything = list(_entries(by_day, 0))
    for height in range(min(LEAST_HEIGHT, most), most + 1):
        if (columns := _fill(everything, height)) is not None:
            return columns
    for kept in range(len(by_day) - 1, -1, -1):
        entries = list(_entries(by_day[:kept], len(by_day) - kept))
        if (columns := _fill(entries, most)) is not None:
            return columns
    return []


def _entries(drinks: Sequence[SignedDrink], more: int) -> Iterator[Entry]:
    for day, of_the_day in groupby(drinks, key=lambda drink: drink.day):
        yield Day(day)
        yield from (Line(drink) for drink in of_the_day)
    if more:
        yield More(more)


def _fill(entries: Sequence[Entry], height: int) -> list[list[Entry]] | None:
    """The columns at this height, or None where it takes more of them or an entry is higher."""
    columns: list[list[Entry]] = []
    room = 0
    for number, entry in enumerate(entries):
        together = entry.rows + (entries[number + 1].rows if isinstance(entry, Day) else 0)
        if together > room:
            columns.append([])
            room = height
        if together > room or len(columns) > COLUMNS:
            return None
        columns[-1].append(entry)
        room -= entry.rows
    return columns
