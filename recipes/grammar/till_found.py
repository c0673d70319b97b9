"""What was found in a till's export: its rows, and how they were read."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from recipes.grammar import till_cells
from recipes.grammar.till_kinds import Kind, TillLine
from recipes.grammar.till_title import TitleDay
from recipes.grammar.till_wide import Unequal


@dataclass(frozen=True)
class Doubt:
    """A cell that can be read in two ways, and how this file's are read: by its own other cells, or
    `by_house` as the country has it."""

    said: str
    meant: dt.date | float
    by_house: bool


@dataclass(frozen=True)
class TillSheet:
    """`columns` are the names that the file has for what we read; `ignored` the others.
    `month_first` is how days were read; None where there are none to doubt. `by_cells` are columns
    known by what stands in them; `also_off` are more columns of the meaning of its "status"; `wide`
    headings that were read as sizes or days; `below` rows that got the name above, `unequal` those
    whose sizes or days don't add up to the column `sum` (`till_wide`); `other_moments` columns that
    say when as well, where another was taken (`till_moments`); `shared_off` rows of several sizes
    or days, and their items, that say once for all of them how many were taken off (`till_off`).
    `title` is the day of a row above where no row has its own (`till_title`): it counts where
    `columns` has what it says as the day."""

    lines: tuple[TillLine, ...]
    columns: Mapping[str, str]
    ignored: tuple[str, ...]
    month_first: bool | None = None
    doubts: tuple[Doubt, ...] = ()
    by_cells: tuple[str, ...] = ()
    also_off: tuple[str, ...] = ()
    wide: tuple[str, ...] = ()
    wide_as_days: bool = False
    below: tuple[tuple[int, str], ...] = ()
    sum: str = ""
    unequal: tuple[Unequal, ...] = ()
    other_moments: tuple[str, ...] = ()
    shared_off: tuple[tuple[int, str], ...] = ()
    title: TitleDay | None = None

    @property
    def rows(self) -> int:
        """How many it has; one may be a sale and a void."""
        return len({line.line for line in self.lines})

    def rows_of(self, kind: Kind) -> int:
        """Each row once, though several sizes or days stand in it."""
        return len({line.line for line in self.of(kind)})

    @property
    def formulas(self) -> tuple[int, ...]:
        """Rows that say by a formula what or how many was sold, and not what that came to."""
        unread = self.of(Kind.UNREADABLE)
        found = (x.line for x in unread if any(map(till_cells.is_formula, (x.item, x.figure))))
        return tuple(dict.fromkeys(found))

    @property
    def has_title_day(self) -> bool:
        return self.title is not None and self.columns.get("date") == self.title.said

    def of(self, kind: Kind) -> tuple[TillLine, ...]:
        return tuple(line for line in self.lines if line.kind is kind)
