"""A rota as it hangs on the wall: names down, days across (or the other way round), pasted from a
sheet. Each filled cell is a shift.

As with lines, whatever a cell leaves open stays open: it is asked about, never guessed or dropped.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import zip_longest

from assessments import rota_open
from assessments.rota_lines import (
    OFF_MARKS,
    RotaLine,
    RotaWords,
    dates_in,
    hour_in,
    hour_is_left,
    hours_in,
    says_dots,
    who_in,
    who_is_left,
    words_in,
)
from recipes.grammar.reasons import Reason

Row = Sequence[str]

_BETWEEN = (r"\t", r"\|", r";", r",", r" {2,}")
"""What stands between cells; blanks last, for they lose empty cells."""
_BLANKS = _BETWEEN[-1]

_CLOCK = re.compile(r"\d[:.h]\d\d|\d\s*[ap]\.?m\b", re.IGNORECASE)
_NUMBER = re.compile(r"(?<!\d)(\d{1,2})(?:st|nd|rd|th|\.)?(?!\d)")
_ONE = r"\d{1,2}(?:[:.h]\d{2})?\s*(?:[ap]\.?m\.?)?"
_RANGE = re.compile(
    rf"(?<!\d){_ONE}\s*(?:[-\u2013\u2014]|to|till|until)\s*{_ONE}(?!\d)", re.IGNORECASE
)
_EMPTY = re.compile(r"[-\u2013\u2014/.\s]*")

BACK, FORTH = 7, 60
"""A weekday with a number is the first such day from a week ago on, two months at most."""

FEWEST_DAYS = 2


@dataclass(frozen=True)
class Column:
    """A day across the top as it was said: the date, or the weekday alone; neither where nobody
    could tell."""

    said: str
    date: dt.date | None
    weekday: int | None


@dataclass(frozen=True)
class Grid:
    """`first` is where the days begin; `is_loose`: a row of another length has lost cells; `words`
    are those it is read by."""

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    first: int
    is_loose: bool
    words: RotaWords

    @property
    def by_24(self) -> bool:
        """Whether its days are written as where the clock has 24 hours."""
        return any(says_dots(c.said) for c in self.columns)

    def is_off(self, cell: str) -> bool:
        """Whether a cell says that nobody works. An x does so beside cells with hours; where no
        cell has one it may as well mean that somebody does, and is asked about."""
        said = cell.casefold().strip(". ")
        if _EMPTY.fullmatch(cell) or said in self.words.off:
            return True
        return said in OFF_MARKS and self._says_hours

    @property
    def _says_hours(self) -> bool:
        return any(hours_in(cell) for row in self.rows for cell in row[self.first or 1 :])

    @property
    def needs_first_day(self) -> bool:
        """Weekdays alone say no week."""
        dated = next((n for n, c in enumerate(self.columns) if c.date), len(self.columns))
        return any(c.weekday is not None for c in self.columns[:dated])


def find_grid(
    text: str, *, people: Mapping[str, str], words: RotaWords, now: dt.datetime
) -> Grid | None:
    """None where no row says two days or more, each in a cell of its own."""
    lines = [line.rstrip() for line in text.splitlines() if line.strip()]
    for between in _BETWEEN:
        rows = [[cell.strip() for cell in re.split(between, line)] for line in lines]
        if grid := _grid(rows, people, words, now.date(), is_loose=between == _BLANKS):
            return grid
        other = _turned(rows, people, words, now.date())
        if other and between != _BLANKS:
            return other
    return None


def _turned(
    rows: Sequence[Row], people: Mapping[str, str], words: RotaWords, today: dt.date
) -> Grid | None:
    """Days down, names across; a list of shifts, turned, has no row that begins with a name."""
    turned: list[Row] = list(zip_longest(*rows, fillvalue=""))
    grid = _grid(turned, people, words, today, is_loose=False)
    named = grid and any(who_in(words_in(_name(grid, row)), people) for row in grid.rows)
    return grid if named else None


def _name(grid: Grid, row: Row) -> str:
    """What stands before the days; where the head has lost its corner, a name stands there."""
    return " ".join(filter(None, row[: grid.first or 1]))


def _grid(
    rows: Sequence[Row],
    people: Mapping[str, str],
    words: RotaWords,
    today: dt.date,
    *,
    is_loose: bool,
) -> Grid | None:
    """From the first row of days on; a second one below it (dates under weekdays) belongs to it."""
    heads = [n for n, row in enumerate(rows) if _is_head(row, people, words)]
    if not heads:
        return None
    top, below = heads[0], rows[heads[0] + 1 :]
    head = list(rows[top])
    if heads[1:2] == [top + 1]:
        head = [f"{a} {b}".strip() for a, b in zip_longest(head, below[0], fillvalue="")]
        below = below[1:]
    days = [n for n, cell in enumerate(head) if _says_a_day(cell, words)]
    if not below:
        return None
    columns = tuple(_column(cell, words, today) for cell in head[days[0] :])
    return Grid(columns, tuple(below), days[0], is_loose, words)


def _is_head(row: Row, people: Mapping[str, str], words: RotaWords) -> bool:
    days = sum(_says_a_day(cell, words) for cell in row)
    return days >= FEWEST_DAYS and who_in(words_in(" ".join(row)), people) is None


def _says_a_day(cell: str, words: RotaWords) -> bool:
    """A day and no hour."""
    if any(w in words.weekdays for w in words_in(cell)):
        return not _CLOCK.search(cell)
    return any(True for _ in dates_in(cell, words, dt.date.min))


def _column(cell: str, words: RotaWords, today: dt.date) -> Column:
    weekdays = {words.weekdays[w] for w in words_in(cell) if w in words.weekdays}
    dates = {day for _, _, day in dates_in(cell, words, today)}
    weekday = next(iter(weekdays)) if len(weekdays) == 1 else None
    if dates:
        day = next(iter(dates)) if len(dates) == 1 else None
        agrees = day is not None and weekdays <= {day.weekday()}
        return Column(cell, day if agrees else None, None)
    number = _NUMBER.search(cell)
    if weekday is None or number is None:
        return Column(cell, None, weekday)
    return Column(cell, _numbered(weekday, int(number[1]), today), None)


def _numbered(weekday: int, number: int, today: dt.date) -> dt.date | None:
    days = (today + dt.timedelta(days=n) for n in range(-BACK, FORTH + 1))
    return next((d for d in days if (d.weekday(), d.day) == (weekday, number)), None)


def read_grid(
    grid: Grid, *, people: Mapping[str, str], begins: dt.date | None = None
) -> tuple[RotaLine, ...]:
    """Its shifts, row by row. `begins` is the day of the first column where the grid says weekdays
    alone; a row without a name goes on with the one above it."""
    days, found, above = _days(grid, begins), list[RotaLine](), ""
    for row in grid.rows:
        above = name = _name(grid, row) or above
        cells = list(row[grid.first or 1 :])
        is_lost = grid.is_loose and len(cells) != len(grid.columns)
        who, shifts = who_in(words_in(name), people), list(_shifts(cells, grid))
        for at, said, hour in shifts:
            column = grid.columns[at] if at < len(days) and not is_lost else None
            day = days[at] if column else None
            left = []
            if who is None:
                left.append(who_is_left(name, people, grid.words))
            if day is None:
                left.append(_day_is_left(column))
            if hour is None:
                left.append(hour_is_left(said))
            title = column.said if column else "?"
            found.append(RotaLine(f"{name}, {title}: {said}", who, day, hour, left=tuple(left)))
        if not shifts and who is None and name:
            found.append(RotaLine(name, None, None, None))
    return tuple(found)


def _day_is_left(column: Column | None) -> Reason:
    return rota_open.day([(column.said, None)], ()) if column else rota_open.day_lost()


def _days(grid: Grid, begins: dt.date | None) -> list[dt.date | None]:
    """Days run on: a weekday is the first one after the column before it."""
    found: list[dt.date | None] = []
    before = begins - dt.timedelta(days=1) if begins else None
    for column in grid.columns:
        day = column.date
        if day is None and column.weekday is not None and before:
            ahead = (column.weekday - before.weekday() - 1) % 7 + 1
            day = before + dt.timedelta(days=ahead)
        found.append(day)
        before = day or before
    return found


def _shifts(cells: Sequence[str], grid: Grid) -> Iterator[tuple[int, str, dt.time | None]]:
    """Which column, what it says, from when; a day with two times of work has two shifts."""
    for at, cell in enumerate(cells):
        if grid.is_off(cell):
            continue
        twice = _RANGE.findall(cell)
        for said in twice if len(twice) > 1 else [cell]:
            yield at, said.strip(), hour_in(said, by_24=grid.by_24)
