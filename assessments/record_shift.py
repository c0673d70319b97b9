"""When somebody works next: typed by themselves, or set by who fills the rota. It moves the plan
of their cards and nothing else, so it is not logged."""

from __future__ import annotations

import datetime as dt

from django.db import transaction

from assessments import record_steps as steps
from assessments.models import ShiftAhead
from assessments.models.shift import MOST_MINUTES
from barcourse.people.models import Membership
from barcourse.people.reasons import refuse
from barcourse.people.roles import May

FARTHEST = dt.timedelta(days=60)


@transaction.atomic
def say_next_shift(
    *, by: Membership, hire: Membership, starts_at: dt.datetime, minutes: int, at: dt.datetime
) -> ShiftAhead:
    """The one shift that comes next, in place of what was said before. Refuses a moment gone by or
    far off, minutes out of reason, and somebody else's shift to all but who fills the rota."""
    steps.refuse_other_house(by, hire)
    if by.pk != hire.pk and not by.may(May.INVITE):
        raise refuse("not_your_shift")
    if not at < starts_at <= at + FARTHEST:
        raise refuse("shift_not_ahead", "day", days=FARTHEST.days)
    if not 1 <= minutes <= MOST_MINUTES:
        raise refuse("minutes_out_of_reason", "minutes", most=MOST_MINUTES)
    steps.lock_hire(hire)
    ShiftAhead.objects.of(hire).after(at).delete()
    return ShiftAhead.objects.create(
        venue=by.venue, hire=hire, starts_at=starts_at, minutes=minutes, said_by=by
    )
