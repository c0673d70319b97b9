"""When somebody works: typed by themselves, or set by who fills the rota. It chooses their cards.

Several shifts ahead may stand, one a business day or two that were said together; the next one
counts. Each can be set otherwise
or taken off by who set it and by who fills the rota, nobody else.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Collection, Iterable

from django.db import transaction

from assessments import record_steps as steps
from assessments.ahead import code_of
from assessments.models import ShiftAhead
from assessments.models.shift import MOST_MINUTES
from barcourse.people import log
from barcourse.people.models import Membership
from barcourse.people.reasons import refuse
from barcourse.people.roles import May

FARTHEST = dt.timedelta(days=60)


def may_change(by: Membership, shift: ShiftAhead) -> bool:
    return by.pk == shift.said_by_id or by.may(May.INVITE)


@transaction.atomic
def say_next_shift(
    *,
    by: Membership,
    hire: Membership,
    starts_at: dt.datetime,
    minutes: int,
    at: dt.datetime,
    beside: Collection[dt.datetime] = (),
) -> ShiftAhead:
    """A shift ahead, in place of what was set for that business day, save for those `beside` it,
    which are said in the same breath. Refuses a moment gone by or
    far off, minutes out of reason, somebody else's shift to all but who fills the rota, and a day
    that somebody else has set."""
    steps.refuse_other_house(by, hire)
    if by.pk != hire.pk and not by.may(May.INVITE):
        raise refuse("not_your_shift")
    if not is_ahead(starts_at, at):
        raise refuse("shift_not_ahead", "day", days=FARTHEST.days)
    if not 1 <= minutes <= MOST_MINUTES:
        raise refuse("minutes_out_of_reason", "minutes", most=MOST_MINUTES)
    steps.lock_hire(hire)
    also = set(beside) - {starts_at}
    before = [s for s in _that_day(hire, starts_at, at) if s.starts_at not in also]
    for row in before:
        if not may_change(by, row):
            raise refuse("shift_set_by_another", "day", name=row.said_by.name)
        if (row.starts_at, row.minutes) == (starts_at, minutes):
            return row
    for row in before[1:]:
        _log_off(by, row, at)
    for row in before:
        row.delete()
    facts = {"starts": code_of(starts_at), "minutes": minutes}
    if before:
        facts["instead_of"] = code_of(before[0].starts_at)
    log.append(venue=by.venue, by=by, kind="shift_set", subject=hire, facts=facts, at=at)
    return ShiftAhead.objects.create(
        venue=by.venue, hire=hire, starts_at=starts_at, minutes=minutes, said_by=by
    )


@transaction.atomic
def set_shifts(
    *,
    by: Membership,
    shifts: Iterable[tuple[Membership, dt.datetime]],
    minutes: int,
    at: dt.datetime,
) -> list[ShiftAhead]:
    """A rota: all of these shifts, or none where one is refused. Two of one person's on one day
    both stand."""
    in_order = sorted(shifts, key=lambda said: (said[0].pk, said[1]))
    together: dict[int, list[dt.datetime]] = defaultdict(list)
    for hire, starts_at in in_order:
        together[hire.pk].append(starts_at)
    return [
        say_next_shift(
            by=by, hire=hire, starts_at=starts_at, minutes=minutes, at=at, beside=together[hire.pk]
        )
        for hire, starts_at in in_order
    ]


@transaction.atomic
def take_off_shift(*, by: Membership, shift: ShiftAhead, at: dt.datetime) -> None:
    """It is no longer worked. Refuses somebody else's word to all but who fills the rota."""
    steps.refuse_other_house(by, shift)
    if not may_change(by, shift):
        raise refuse("shift_set_by_another", "day", name=shift.said_by.name)
    _log_off(by, shift, at)
    shift.delete()


def _log_off(by: Membership, shift: ShiftAhead, at: dt.datetime) -> None:
    facts = {"starts": code_of(shift.starts_at)}
    log.append(
        venue=by.venue, by=by, kind="shift_taken_off", subject=shift.hire, facts=facts, at=at
    )


def is_ahead(starts_at: dt.datetime, at: dt.datetime) -> bool:
    return at < starts_at <= at + FARTHEST


def _that_day(hire: Membership, starts_at: dt.datetime, at: dt.datetime) -> list[ShiftAhead]:
    """What was set for the same business day and has not begun."""
    day = hire.venue.business_day
    return [s for s in ShiftAhead.objects.of(hire).after(at) if day(s.starts_at) == day(starts_at)]
