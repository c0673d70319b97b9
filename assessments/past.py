"""How one person came to where they stand at a station: figures of days gone by, and what happened
between them."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from assessments.board import Row
from assessments.history import EPOCH, day_of, shown_by
from assessments.measures.house_miss import as_kept
from assessments.measures.orders import LEVEL, Shown
from assessments.measures.orders.past import days_of, over_time
from assessments.measures.sales_mix import ShiftKind
from assessments.models import QuizResult, SignOff
from assessments.policy import changes_of
from barcourse.people.models import Venue
from recipes.menu import Menu
from recipes.models import Revision, RulesVersion

SECOND = dt.timedelta(seconds=1)


@dataclass(frozen=True)
class Point:
    """Right as it would have been said at that moment, as shares."""

    at: dt.datetime
    right: float
    low: float
    high: float


@dataclass(frozen=True)
class Day:
    """A business day on which something happened or a point stands, or both: how much of each kind
    happened on it. Points are up to a week apart, so most days have none."""

    day: dt.date
    point: Point | None
    signed_off: int
    quizzes: int
    menu_changes: int
    policy_changes: int


@dataclass(frozen=True)
class Past:
    """`points` in the order of time, two or more; the moments of what happened, for the plot; and
    both by day, for the table."""

    points: tuple[Point, ...]
    signed_off: tuple[dt.datetime, ...]
    quizzes: tuple[dt.datetime, ...]
    menu_changes: tuple[dt.datetime, ...]
    policy_changes: tuple[dt.datetime, ...] = ()
    days: tuple[Day, ...] = ()

    @property
    def begins(self) -> dt.datetime:
        """The first moment of which there is anything to show."""
        changes = (*self.menu_changes, *self.policy_changes)
        happened = (*self.signed_off, *self.quizzes, *changes)
        return min((self.points[0].at, *happened))


def past_of(
    row: Row, menu: Menu, now: dt.datetime | None = None, shift: ShiftKind | None = None
) -> Past | None:
    """None where there is no past to show yet. `shift` is the kind that the row is held against
    the policy of. Where the row is of a moment to come, that of the
    menu, `now` is where what has been ends; the last point is that moment's."""
    numbered = row.sheet.numbered
    shown = shown_by([row.hire], numbered)[row.hire.pk]
    days = _ends_of_days(shown, menu.venue, now or menu.at) if row.sheet.items else []
    if len(days) < 2:
        return None
    if now and menu.at > now:
        days.append(day_of(menu.at))
    said = over_time(numbered.for_orders, shown, row.sheet.sales, days, LEVEL)
    figures = [as_kept(f, row.sheet.miss, LEVEL).right for f in said]
    moments = [EPOCH + dt.timedelta(days=day) for day in days]
    begun = EPOCH + dt.timedelta(days=min(one.day for one in shown))
    events = _events(row, begun, menu.at, shift)
    points = tuple(
        Point(at, float(f.mean[0]), float(f.low[0]), float(f.high[0]))
        for at, f in zip(moments, figures, strict=True)
    )
    return Past(points, *events, days=_by_day(points, events, menu.venue))


def _ends_of_days(shown: Sequence[Shown], venue: Venue, now: dt.datetime) -> list[float]:
    """The moments of the points: each day of the house when it was over, and this moment, so that
    what happened on a day stands beside that day."""
    today = day_of(now)
    seen = [one.day for one in shown if one.day <= today]
    if not seen:
        return []
    first = venue.business_day_begins(venue.business_day(EPOCH + dt.timedelta(days=min(seen))))
    *before, _ = days_of(shown, today, day_of(first))
    nights = {venue.business_day(EPOCH + dt.timedelta(days=day)) for day in before}
    over = (venue.business_day_begins(day + dt.timedelta(days=1)) - SECOND for day in nights)
    return [*sorted(day_of(at) for at in over if at < now), today]


Moments = tuple[dt.datetime, ...]
Events = tuple[Moments, Moments, Moments, Moments]


def _events(row: Row, begun: dt.datetime, last: dt.datetime, shift: ShiftKind | None) -> Events:
    """Every sign-off and quiz; of the changes of menu and rules, and of what ready takes there,
    those since the person began, for what was so before is no part of their past."""
    hire, venue = row.hire, row.hire.venue
    changes = {
        *Revision.objects.in_house(venue).in_effect(last).values_list("takes_effect_at", flat=True),
        *RulesVersion.objects.in_house(venue)
        .in_effect(last)
        .values_list("takes_effect_at", flat=True),
    }
    kinds: tuple[Iterable[dt.datetime], ...] = (
        SignOff.objects.of(hire).standing(last).values_list("at", flat=True),
        QuizResult.objects.of(hire).until(last).values_list("at", flat=True),
        {at for at in changes if at > begun},
        (at for at in changes_of(row.station, shift, last) if at > begun),
    )
    signed, quizzes, menus, policies = (tuple(sorted(kind)) for kind in kinds)
    return signed, quizzes, menus, policies


def _by_day(points: Sequence[Point], events: Events, venue: Venue) -> tuple[Day, ...]:
    """In the order of time."""
    stands = {venue.business_day(p.at): p for p in points}
    counts = [Counter(map(venue.business_day, kind)) for kind in events]
    days = sorted(set(stands).union(*counts))
    return tuple(Day(day, stands.get(day), *(kind[day] for kind in counts)) for day in days)
