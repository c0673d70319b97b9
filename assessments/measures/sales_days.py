"""Which days of which exports count, where several tell of the same business day.

For each business day the newest export counts; an older one keeps its other days. Two that both
tell hours, and no hour twice, are parts of one evening (one ends at midnight, the next begins
there), and add up. Where they share hours, an older one that tells more hours of the day goes on
counting there: an export may hold a piece of an evening alone, as a till that counts by the
calendar has the small hours of the evening before. What has no day counts beside everything else,
until an export says that it takes the place of what came without days before.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

Hours = tuple[int, int]
"""The first and the last hour of a business day in which something was sold, counted from its
beginning."""


@dataclass(frozen=True)
class Part:
    """What an export tells of one day; `day` None for rows without one, `hours` None where a row of
    it has no hour. `told` is in how many different hours something was sold; None for all of them,
    from the first to the last."""

    day: dt.date | None = None
    hours: Hours | None = None
    told: int | None = None

    @property
    def length(self) -> int | None:
        """How many hours it tells; None where it doesn't say."""
        if self.hours is None:
            return None
        return self.hours[1] - self.hours[0] + 1 if self.told is None else self.told


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


@dataclass(frozen=True)
class _Claim:
    """A day that the part of a newer export counts for."""

    export: int
    place: int
    part: Part


@dataclass
class _Claimed:
    """The days that newer exports tell of."""

    days: dict[dt.date, list[_Claim]]
    spans: list[tuple[dt.date, dt.date]]
    without_days: bool = False

    def against(self, part: Part) -> list[_Claim] | None:
        """The claims that the part takes the place of; None where it doesn't count."""
        day = part.day
        if day is None:
            return []
        if any(first <= day <= last for first, last in self.spans):
            return None
        met = [c for c in self.days.get(day, ()) if not _beside(part.hours, c.part.hours)]
        return met if all(_is_shorter(c.part, part) for c in met) else None

    def leaves_span(self, span: tuple[dt.date, dt.date]) -> bool:
        days = any(span[0] <= day <= span[1] for day, claims in self.days.items() if claims)
        return not days and not any(s[0] <= span[1] and span[0] <= s[1] for s in self.spans)


def _is_shorter(one: Part, other: Part) -> bool:
    """Whether the other tells more hours."""
    if one.length is None or other.length is None:
        return False
    return one.length < other.length


def _beside(one: Hours | None, other: Hours | None) -> bool:
    if one is None or other is None:
        return False
    return one[1] < other[0] or other[1] < one[0]


def counting(newest_first: Sequence[Export]) -> list[tuple[int, ...]]:
    """Of each export the places of those parts that count."""
    claimed = _Claimed(defaultdict(list), [])
    found: list[list[int]] = []
    for number, export in enumerate(newest_first):
        found.append(_left(export, claimed))
        if export.span and found[number]:
            claimed.spans.append(export.span)
        for place in found[number]:
            _claim(number, place, export, claimed, found)
        claimed.without_days |= export.instead
    return [tuple(places) for places in found]


def outdone(newest_first: Sequence[Export], counted: Sequence[Sequence[int]]) -> list[list[int]]:
    """Of each export the places of those parts that don't count since an older export tells those
    hours of the day and more."""
    found = []
    for number, export in enumerate(newest_first):
        lost = [n for n in range(len(export.parts)) if n not in counted[number]]
        older = _counting_of_older(newest_first, counted, number) if lost else []
        found.append([n for n in lost if any(_tells_more(o, export.parts[n]) for o in older)])
    return found


def _counting_of_older(
    newest_first: Sequence[Export], counted: Sequence[Sequence[int]], number: int
) -> list[Part]:
    pairs = zip(newest_first[number + 1 :], counted[number + 1 :], strict=True)
    return [older.parts[n] for older, places in pairs for n in places]


def _tells_more(older: Part, part: Part) -> bool:
    shares = part.day is not None and older.day == part.day
    beside = _beside(part.hours, older.hours)
    return shares and not beside and _is_shorter(part, older)


def _claim(
    number: int, place: int, export: Export, claimed: _Claimed, found: list[list[int]]
) -> None:
    """The part counts from here on, and what it takes the place of no longer does."""
    part = export.parts[place]
    if part.day is None:
        return
    claims = claimed.days[part.day]
    for met in claimed.against(part) or ():
        claims.remove(met)
        found[met.export].remove(met.place)
    claims.append(_Claim(number, place, part))


def _left(export: Export, claimed: _Claimed) -> list[int]:
    everything = list(range(len(export.parts)))
    if export.span:
        return everything if claimed.leaves_span(export.span) else []
    if not export.has_days:
        return [] if claimed.without_days else everything
    found = [n for n in everything if claimed.against(export.parts[n]) is not None]
    return found if any(export.parts[n].day for n in found) else []
