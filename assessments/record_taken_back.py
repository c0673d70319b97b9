"""What was put on record about hands, taken back: it stays, struck through, and counts no more."""

from __future__ import annotations

import datetime as dt

from django.db import transaction

from assessments import record
from assessments import record_steps as steps
from assessments.models import TakenBack, WatchedBuild, WatchedRound
from assessments.models.kinds import OfHands, kind_of
from barcourse.people import log
from barcourse.people.models import Membership
from barcourse.people.reasons import refuse
from barcourse.people.roles import May


@transaction.atomic
def take_back_hand(*, by: Membership, row: OfHands, reason: str, at: dt.datetime) -> TakenBack:
    """By whoever put it on record, or a manager; nobody takes back what is about themselves. The
    builds of a round go with it."""
    steps.refuse_other_house(by, row)
    if row.hire_id == by.pk:
        raise refuse("nobody_voids_their_own")
    if not may_take_back(by, row):
        raise refuse("only_who_marked_takes_back")
    if not reason.strip():
        raise refuse("void_needs_reason", "reason")
    steps.lock_hire(row.hire)
    kind = kind_of(row)
    if TakenBack.objects.filter(**{kind: row}).exists():
        raise refuse("taken_back_already")
    text = log.keep_text(about=row.hire, text=reason.strip())
    void = TakenBack.objects.create(
        venue=row.venue, hire=row.hire, by=by, reason_code=text.code, at=at, **{kind: row}
    )
    log.append(
        venue=by.venue, by=by, kind="hands_voided", subject=row.hire, row=void, text=text, at=at
    )
    if isinstance(row, WatchedRound):
        _void_builds(row, by=by, reason=reason, at=at)
    return void


def may_take_back(by: Membership, row: OfHands) -> bool:
    """Whether somebody could, were it not void already."""
    theirs = by.pk == row.trainer_id and by.may(May.VOID)
    return by.pk != row.hire_id and (theirs or by.may(May.SEE_LOG))


def _void_builds(row: WatchedRound, *, by: Membership, reason: str, at: dt.datetime) -> None:
    """Those of its builds that nobody has voided yet."""
    builds = WatchedBuild.objects.in_house(row.venue).coded(row.builds)
    for build in builds.filter(void__isnull=True).order_by("pk"):
        record.void_build(by=by, watched=build, reason=reason, at=at)
