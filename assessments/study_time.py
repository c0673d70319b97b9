"""Minutes studied a day, for oneself and for who pays them."""

from __future__ import annotations

import csv
import datetime as dt
import io
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from assessments.measures.study import Moment, seconds_by_day
from assessments.models import Answer, CallAnswer, CardMark
from barcourse.people.models import Membership, Venue
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
    """The newest day first, then by the order of the hires; in three queries."""
    first = venue.business_day(at) - dt.timedelta(days=days - 1)
    moments = _moments(hires, venue.business_day_begins(first), at)
    found = [
        Studied(hire, day, -int(-seconds // 60), venue.study_is_paid)
        for hire in hires
        for day, seconds in seconds_by_day(moments[hire.pk], venue.business_day).items()
    ]
    return sorted(found, key=lambda s: s.day, reverse=True)


def _moments(
    hires: Sequence[Membership], since: dt.datetime, until: dt.datetime
) -> dict[int, list[Moment]]:
    asked: Iterable[tuple[str, Iterable[tuple[int, dt.datetime, int | None]]]] = (
        ("cards", CardMark.objects.filter(hire__in=hires, at__gte=since, at__lte=until)
         .values_list("hire_id", "at", "milliseconds")),
        ("answers", Answer.objects.of(*hires).filter(at__gte=since, at__lte=until)
         .values_list("item__quiz__hire_id", "at", "milliseconds")),
        ("calls", CallAnswer.objects.filter(call__run__hire__in=hires, at__gte=since, at__lte=until)
         .values_list("call__run__hire_id", "at", "milliseconds")),
    )  # fmt: skip
    found: dict[int, list[Moment]] = defaultdict(list)
    for _, rows in asked:
        for hire, at, milliseconds in rows:
            found[hire].append(Moment(at, milliseconds))
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
