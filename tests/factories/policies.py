"""What ready takes in a house, and who stands for one shift on a manager's word."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from assessments.measures.ready_facts import ReadyPolicy
from assessments.measures.sales_mix import ShiftKind
from assessments.models import Override, PolicyVersion
from assessments.policy import opening
from assessments.record_policy import end_override, let_stand_once, set_policy
from assessments.shifts import Shift
from barcourse.people.models import Membership, Station
from tests.factories.assessments import NOW

EVERY_GATE = ReadyPolicy(
    least_right=0.8, most_wrong=0.05, second_right=0.6, permits=("serving",), pour_days=90,
    least_pace=40, pace_days=60,
)  # fmt: skip


def station(member: Membership, slug: str = "well") -> Station:
    return Station.objects.get(venue=member.venue, slug=slug)


def ask_for(
    by: Membership,
    slug: str = "",
    shift: ShiftKind | None = None,
    *,
    from_day: dt.date | None = None,
    at: dt.datetime = NOW,
    **said: Any,
) -> PolicyVersion:
    """What the house opened with, and this instead."""
    found = station(by, slug) if slug else None
    policy = replace(opening(by.venue), **said)
    return set_policy(by=by, station=found, shift=shift, policy=policy, from_day=from_day, at=at)


def let(
    by: Membership,
    hire: Membership,
    slug: str = "well",
    *,
    days: int = 0,
    late: bool = True,
    reason: str = "Two are ill.",
    at: dt.datetime = NOW,
) -> Override:
    day = by.venue.business_day(at) + dt.timedelta(days=days)
    shift = Shift.of(by.venue, day, late=late)
    return let_stand_once(
        by=by, hire=hire, station=station(by, slug), shift=shift, reason=reason, at=at
    )


def policy_set(
    manager: Membership, hire: Membership, at: dt.datetime, now: dt.datetime,
    words: Callable[[str], str],
) -> dict[str, Any]:  # fmt: skip
    """A policy of the service bar's own late on weekends; one word for tonight, one taken back."""
    set_policy(
        by=manager, station=station(manager, "service-bar"), shift=ShiftKind.WEEKEND_LATE,
        policy=EVERY_GATE, at=at,
    )  # fmt: skip
    once = let(manager, hire, reason=words("Two are ill."), at=now)
    ended = let(manager, hire, days=1, reason=words("A full house."), at=now)
    end_override(by=manager, override=ended, at=now)
    return {"once": once}
