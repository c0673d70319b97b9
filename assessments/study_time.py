"""Minutes studied a day, for oneself and for who pays them.

Whether a day's minutes are paid is what the house rule said on that day, read off the house's log:
a change of the rule alters no day before it. A day on which it changed is paid.
"""

from __future__ import annotations

import csv
import datetime as dt
import io
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from assessments.measures.study import Moment, seconds_by_day
from assessments.models import Answer, CallAnswer, CardMark, ReadingTime
from barcourse.people.models import LogEntry, Membership, Venue
from recipes.grammar.sheet_text import as_text

DAYS = 14
"""So many business days back are told, today included."""


@dataclass(frozen=True)
class Studied:
    """One person on one business day. Minutes are rounded up: a begun minute is one."""

    hire: Membership
    day: dt.date
    minutes: int
    is_paid: bool


def studied(
    venue: Venue, hires: Sequence[Membership], at: dt.datetime, days: int = DAYS
) -> list[Studied]:
    """The newest day first, then by the order of the hires; in five queries."""
    first = venue.business_day(at) - dt.timedelta(days=days - 1)
    return studied_since(venue, hires, first, at)


def studied_since(
    venue: Venue, hires: Sequence[Membership], first: dt.date, until: dt.datetime
) -> list[Studied]:
    """The same from one business day on, until a moment."""
    moments = _moments(hires, venue.business_day_begins(first), until)
    is_paid = _paid_on(venue)
    found = [
        Studied(hire, day, -int(-seconds // 60), is_paid(day))
        for hire in hires
        for day, seconds in seconds_by_day(moments[hire.pk], venue.business_day).items()
    ]
    return sorted(found, key=lambda s: s.day, reverse=True)


@dataclass(frozen=True)
class InAll:
    """One person's minutes of all days told."""

    hire: Membership
    paid: int
    optional: int


def in_all(rows: Iterable[Studied]) -> list[InAll]:
    """By name."""
    paid: dict[Membership, int] = defaultdict(int)
    optional: dict[Membership, int] = defaultdict(int)
    for row in rows:
        (paid if row.is_paid else optional)[row.hire] += row.minutes
    hires = sorted({*paid, *optional}, key=lambda h: (h.name, h.pk))
    return [InAll(h, paid[h], optional[h]) for h in hires]


def seconds_today(hire: Membership, at: dt.datetime) -> float:
    """Studied since the business day began."""
    venue = hire.venue
    today = venue.business_day(at)
    moments = _moments([hire], venue.business_day_begins(today), at)[hire.pk]
    return seconds_by_day(moments, venue.business_day).get(today, 0.0)


def _paid_on(venue: Venue) -> Callable[[dt.date], bool]:
    """Whether the house pays a business day's minutes, by every change of the rule in the log."""
    logged = LogEntry.objects.filter(venue=venue, kind="house_changed").order_by("number")
    changes = [
        (venue.business_day(at), *facts["study_is_paid"])
        for at, facts in logged.values_list("at", "facts")
        if "study_is_paid" in facts
    ]

    def is_paid(day: dt.date) -> bool:
        if any(changed == day for changed, _, _ in changes):
            return True
        return bool(next((was for on, was, _ in changes if on > day), venue.study_is_paid))

    return is_paid


def _moments(
    hires: Sequence[Membership], since: dt.datetime, until: dt.datetime
) -> dict[int, list[Moment]]:
    asked: Iterable[tuple[str, Iterable[tuple[int, dt.datetime, int | None]]]] = (
        ("cards", CardMark.objects.filter(hire__in=hires, at__gte=since, at__lte=until)
         .values_list("hire_id", "at", "milliseconds")),
        ("answers", Answer.objects.of(*hires).in_time().filter(at__gte=since, at__lte=until)
         .values_list("item__quiz__hire_id", "at", "milliseconds")),
        ("calls", CallAnswer.objects.filter(call__run__hire__in=hires, at__gte=since, at__lte=until)
         .values_list("call__run__hire_id", "at", "milliseconds")),
    )  # fmt: skip
    found: dict[int, list[Moment]] = defaultdict(list)
    for _, rows in asked:
        for hire, at, milliseconds in rows:
            found[hire].append(Moment(at, milliseconds))
    read = ReadingTime.objects.of(*hires).between(since, until)
    for hire, at, seconds in read.values_list("hire_id", "at", "seconds"):
        found[hire].append(Moment(at, 1000 * seconds, is_read=True))
    return found


def sheet(rows: Iterable[Studied]) -> str:
    """CSV for payroll: a person and day a row. A name that a spreadsheet could take for a formula
    is written as text."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(["person", "code", "day", "minutes", "paid"])
    for row in rows:
        paid = "paid" if row.is_paid else "optional"
        writer.writerow(
            [as_text(row.hire.name), row.hire.code, row.day.isoformat(), row.minutes, paid]
        )
    return out.getvalue()
