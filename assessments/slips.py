"""When a watched build is a slip of the thumb: taken back without a reason, as if never tapped.

After that there is only the void, with a reason and a name."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from assessments.models import (
    Answered,
    HandedOver,
    PlanDecided,
    Reply,
    SecondMark,
    SignOff,
    Void,
    WatchedBuild,
)
from barcourse.people.models import LogEntry, Membership, Venue
from barcourse.people.reasons import Reason

SLIP_WITHIN = dt.timedelta(minutes=10)
"""So long a wrong tap is a slip: the drink still stands there. (Our own number, no source.)"""
TAKEN_BACK = "build_taken_back"
"""The kind of the log's entry; that of a void with a reason is another."""


@dataclass(frozen=True)
class Since:
    """What has come of a build since it was put on record. `late`: how long ago that was."""

    late: dt.timedelta
    same_day: bool = True
    ours: bool = True
    void: bool = False
    signed: bool = False
    answered: bool = False
    decided: bool = False


def why_no_slip(since: Since) -> Reason | None:
    """Why it can't be taken back without a reason; None where it can."""
    refusals = (
        (not since.ours, "only_who_watched_takes_back"),
        (since.void, "voided_already"),
        (since.signed, "signed_already"),
        (since.answered, "slip_answered"),
        (since.decided, "slip_decided_on"),
    )
    for holds, code in refusals:
        if holds:
            return Reason.of(code)
    if since.late > SLIP_WITHIN or not since.same_day:
        return Reason.of("slip_too_late", minutes=SLIP_WITHIN // dt.timedelta(minutes=1))
    return None


def since(by: Membership, watched: WatchedBuild, at: dt.datetime) -> Since:
    """As it stands on record for whoever would take it back."""
    day = watched.venue.business_day
    return Since(
        late=at - watched.at,
        same_day=day(watched.at) == day(at),
        ours=watched.trainer_id == by.pk,
        void=Void.objects.filter(watched=watched).exists(),
        signed=SignOff.objects.filter(watched=watched).exists(),
        answered=_is_answered(watched),
        decided=_is_decided_on(watched),
    )


def may_slip(by: Membership, watched: WatchedBuild, at: dt.datetime) -> bool:
    return watched.trainer_id == by.pk and why_no_slip(since(by, watched, at)) is None


def _is_answered(watched: WatchedBuild) -> bool:
    return Reply.objects.to(watched).exists() or Answered.objects.about("build", watched).exists()


def _is_decided_on(watched: WatchedBuild) -> bool:
    """Marked a second time, handed over, or part of the fails that a plan was made for."""
    plans = PlanDecided.objects.of(watched.hire).filter(recipe=watched.recipe)
    return (
        SecondMark.objects.filter(watched=watched).exists()
        or HandedOver.objects.of_build(watched).exists()
        or plans.filter(at__gte=watched.at).exists()
    )


def slips_since(venue: Venue, at: dt.datetime) -> list[int]:
    """The voids of a house that were slips, by their keys."""
    entries = LogEntry.objects.filter(venue=venue, kind=TAKEN_BACK, at__gte=at)
    return [int(key) for key in entries.values_list("row_id", flat=True)]
