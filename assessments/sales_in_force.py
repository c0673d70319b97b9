"""The exports of a house that count, and of which days."""

from __future__ import annotations

import datetime as dt
from collections import Counter, defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from django.db.models import Count, Q, QuerySet

from assessments.measures.sales_days import Export, Part, counting, outdone
from assessments.models.sales import (
    OrdersByHour,
    SalesDay,
    SalesLine,
    SalesMix,
    SalesReceipts,
)
from barcourse.people.models import Venue

LONGEST_KEPT = 400
"""Exports looked at, newest first: a year of days, each sent alone."""


@dataclass(frozen=True)
class Counts:
    """An export with those parts of it that count, and whether that is all of it."""

    mix: SalesMix
    parts: tuple[SalesDay, ...]
    whole: bool

    def where(self) -> Q:
        days = [part.day for part in self.parts if part.day]
        without = Q(day__isnull=True) if len(days) < len(self.parts) else Q(pk__in=())
        return Q(mix=self.mix) & (Q(day__in=days) | without)


@dataclass(frozen=True)
class Lost:
    """Why parts of an export don't count: the days of which an older one tells more hours, and
    whether newer ones replaced others."""

    to_older: tuple[dt.date, ...] = ()
    to_newer: bool = False


@dataclass(frozen=True)
class InForce:
    """Newest first; an export of which nothing counts is not among them but `replaced`. `lost` are
    those of which not all counts, by their keys."""

    counts: tuple[Counts, ...] = ()
    replaced: tuple[SalesMix, ...] = ()
    lost: Mapping[int, Lost] = field(default_factory=dict)

    def __bool__(self) -> bool:
        return bool(self.counts)

    @property
    def mixes(self) -> tuple[SalesMix, ...]:
        return tuple(one.mix for one in self.counts)

    @property
    def parts(self) -> list[SalesDay]:
        return [part for one in self.counts for part in one.parts]

    def lines(self) -> QuerySet[SalesLine]:
        return SalesLine.objects.filter(self._where())

    def hours(self) -> QuerySet[OrdersByHour]:
        return OrdersByHour.objects.filter(self._where())

    def receipts(self) -> QuerySet[SalesReceipts]:
        """Without their names, which only a telling reads."""
        return SalesReceipts.objects.filter(self._where()).defer("names")

    def quantity(self) -> Decimal:
        return sum((part.quantity for part in self.parts), Decimal(0))

    def counting_of(self, mix: SalesMix) -> Decimal:
        """How much of what an export rang up counts."""
        parts = (part for one in self.counts if one.mix == mix for part in one.parts)
        return sum((part.quantity for part in parts), Decimal(0))

    def orders(self) -> int | None:
        told = [part.orders for part in self.parts if part.orders is not None]
        return sum(told) if told else None

    def telling_orders(self) -> InForce:
        return InForce(tuple(one for one in self.counts if one.mix.orders is not None))

    def without(self, mixes: Collection[int]) -> InForce:
        return InForce(tuple(one for one in self.counts if one.mix.pk not in mixes))

    def _where(self) -> Q:
        found = Q(mix__in=[one.mix.pk for one in self.counts if one.whole])
        for one in self.counts:
            if not one.whole:
                found |= one.where()
        return found


def in_force(venue: Venue, at: dt.datetime) -> InForce:
    """Of every business day the newest export that tells of it, or an older one that tells more of
    it (`measures.sales_days`)."""
    stood = standing(venue, at)
    exports = as_exports(stood)
    counted = counting(exports)
    both = list(zip(stood, counted, strict=True))
    return InForce(
        tuple(
            Counts(mix, tuple(parts[n] for n in found), len(found) == len(parts))
            for (mix, parts), found in both
            if found
        ),
        tuple(mix for (mix, _parts), found in both if not found),
        {
            mix.pk: _lost(parts, found, older)
            for ((mix, parts), found), older in zip(both, outdone(exports, counted), strict=True)
            if len(found) < len(parts) or not found
        },
    )


def _lost(parts: Sequence[SalesDay], counted: Sequence[int], older: Sequence[int]) -> Lost:
    """Rows without a day go with those days that were lost."""
    others = [p for n, p in enumerate(parts) if n not in {*counted, *older}]
    days = tuple(sorted(day for n in older if (day := parts[n].day)))
    return Lost(days, not days or any(part.day for part in others))


def only(mix: SalesMix) -> InForce:
    """One export, as if there were no other."""
    return InForce((Counts(mix, tuple(SalesDay.objects.filter(mix=mix)), whole=True),))


Standing = Sequence[tuple[SalesMix, list[SalesDay]]]


def standing(venue: Venue, at: dt.datetime) -> Standing:
    """What was taken in and not taken back, newest first."""
    found = SalesMix.objects.in_house(venue).standing().filter(at__lte=at)
    rows = found.select_related("by__person").newest_first()
    mixes, parts = list(rows[:LONGEST_KEPT]), defaultdict(list)
    for part in SalesDay.objects.filter(mix__in=mixes).order_by("day", "pk"):
        parts[part.mix_id].append(part)
    return [(mix, parts[mix.pk]) for mix in mixes]


def as_exports(stood: Standing, others: Collection[dt.date] = ()) -> list[Export]:
    """In how many hours they sold something is asked only of days of which several tell hours, or
    that are among `others`: nowhere else does it decide anything."""
    with_hours = [
        (mix.pk, part.day)
        for mix, parts in stood
        for part in parts
        if part.day and part.first_hour is not None
    ]
    days = Counter(day for _mix, day in with_hours)
    days.update(day for day in others if day in days)
    shared = [(mix, day) for mix, day in with_hours if days[day] > 1]
    told = _hours_told({mix for mix, _day in shared}, {day for _mix, day in shared})
    return [_as_export(mix, parts, told) for mix, parts in stood]


HoursTold = Mapping[tuple[int, dt.date | None], int]


def _hours_told(mixes: Collection[int], days: Collection[dt.date]) -> HoursTold:
    """Counted by the database: a row an export and day comes back, not one an hour."""
    if not days:
        return {}
    rows = OrdersByHour.objects.filter(mix__in=mixes, day__in=days).values_list("mix", "day")
    return {(mix, day): n for mix, day, n in rows.annotate(n=Count("pk"))}


def _as_export(mix: SalesMix, parts: Sequence[SalesDay], told: HoursTold) -> Export:
    span = None
    if not mix.days_kept and mix.first_day and mix.last_day:
        span = (mix.first_day, mix.last_day)
    return Export(tuple(_part(part, told) for part in parts), span, mix.instead)


def _part(part: SalesDay, told: HoursTold) -> Part:
    if part.first_hour is None or part.last_hour is None:
        return Part(part.day)
    hours = part.first_hour, part.last_hour
    return Part(part.day, hours, told.get((part.mix_id, part.day)))
