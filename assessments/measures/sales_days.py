"""Which days of which exports count, where several tell of the same business day.

For each business day the newest export counts; an older one keeps its other days. Two that both
tell hours, and no hour twice, are parts of one evening (one ends at midnight, the next begins
there), and add up. What has no day counts beside everything else, until an export says that it
takes the place of what came without days before.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

Hours = tuple[int, int]
"""The first and the last hour of a business day in which something was sold, counted from its
beginning."""


@dataclass(frozen=True)
class Part:
    """What an export tells of one day; `day` None for rows without one, `hours` None where a row of
    it has no hour."""

    day: dt.date | None = None
    hours: Hours | None = None


@dataclass(frozen=True)
class Export:
    """`span` is told alone where days were not kept apart: such an export counts as a whole or not
    at all. `instead` takes the place of what came before without days."""

    parts: tuple[Part, ...]
    span: tuple[dt.date, dt.date] | None = None
    instead: bool = False

    @property
    def has_days(self) -> bool:
        return self.span is not None or any(part.day for part in self.parts)


@dataclass
class _Claimed:
    """The days that newer exports tell of."""

    days: dict[dt.date, list[Hours | None]]
    spans: list[tuple[dt.date, dt.date]]
    without_days: bool = False

    def leaves(self, part: Part) -> bool:
        day = part.day
        if day is None:
            return True
        if any(first <= day <= last for first, last in self.spans):
            return False
        return all(_beside(part.hours, hours) for hours in self.days.get(day, ()))

    def leaves_span(self, span: tuple[dt.date, dt.date]) -> bool:
        days = any(span[0] <= day <= span[1] for day in self.days)
        return not days and not any(s[0] <= span[1] and span[0] <= s[1] for s in self.spans)


def _beside(one: Hours | None, other: Hours | None) -> bool:
    if one is None or other is None:
        return False
    return one[1] < other[0] or other[1] < one[0]


def counting(newest_first: Sequence[Export]) -> list[tuple[int, ...]]:
    """Of each export the places of those parts that count."""
    return list(_counting(newest_first))


def _counting(newest_first: Sequence[Export]) -> Iterator[tuple[int, ...]]:
    claimed = _Claimed(defaultdict(list), [])
    for export in newest_first:
        found = _left(export, claimed)
        if export.span and found:
            claimed.spans.append(export.span)
        for place in found:
            part = export.parts[place]
            if part.day:
                claimed.days[part.day].append(part.hours)
        claimed.without_days |= export.instead
        yield found


def _left(export: Export, claimed: _Claimed) -> tuple[int, ...]:
    everything = tuple(range(len(export.parts)))
    if export.span:
        return everything if claimed.leaves_span(export.span) else ()
    if not export.has_days:
        return () if claimed.without_days else everything
    found = tuple(n for n in everything if claimed.leaves(export.parts[n]))
    return found if any(export.parts[n].day for n in found) else ()
