"""What others say to a record: answered by the hire, marked a second time, decided, handed over.

Each verb is one transaction with its entry in the log; none changes the record that it is about.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from django.db import transaction

from assessments import record_steps as steps
from assessments.models import (
    HandedOver,
    MarksSeen,
    PlanDecided,
    Reply,
    SecondMark,
    Settled,
    WatchedBuild,
)
from assessments.models.second_look import PlanChoice
from barcourse.people import log
from barcourse.people.models import Membership
from barcourse.people.reasons import refuse
from barcourse.people.roles import May
from recipes.models import Recipe

SECOND_WITHIN = dt.timedelta(hours=12)
"""Two trainers mark one build the same shift, while both remember it (our own number)."""


@transaction.atomic
def answer_record(
    *, by: Membership, watched: WatchedBuild, words: str, disagrees: bool, at: dt.datetime
) -> Reply:
    """What a hire says to a build of theirs, once. A disagreement goes to the managers."""
    if watched.hire_id != by.pk:
        raise refuse("not_your_record")
    if not words.strip():
        raise refuse("answer_needs_words", "words")
    steps.lock_build(watched)
    if Reply.objects.to(watched).exists():
        raise refuse("answered_already")
    text = log.keep_text(about=by, text=words.strip())
    row = Reply.objects.create(
        venue=by.venue, watched=watched, hire=by, disagrees=disagrees, text_code=text.code, at=at
    )
    log.append(venue=by.venue, by=by, kind="record_answered", subject=by, row=row, text=text, at=at)
    return row


@transaction.atomic
def let_stand(*, by: Membership, reply: Reply, at: dt.datetime) -> Settled:
    """A manager has heard both and the record stands. Nobody settles about their own builds,
    made or watched."""
    steps.refuse_other_house(by, reply)
    if by.pk in (reply.hire_id, reply.watched.trainer_id):
        raise refuse("somebody_else_settles")
    steps.lock_build(reply.watched)
    if Settled.objects.filter(reply=reply).exists():
        raise refuse("settled_already")
    row = Settled.objects.create(venue=by.venue, reply=reply, by=by, at=at)
    log.append(venue=by.venue, by=by, kind="let_stand", subject=reply.hire, row=row, at=at)
    return row


@transaction.atomic
def mark_too(
    *, by: Membership, watched: WatchedBuild, off: Iterable[str], at: dt.datetime
) -> SecondMark:
    """The same build through a second trainer's eyes."""
    steps.refuse_other_house(by, watched)
    if by.pk in (watched.trainer_id, watched.hire_id):
        raise refuse("second_is_another")
    if at - watched.at > SECOND_WITHIN:
        raise refuse("second_too_late")
    off = sorted(set(off))
    if not set(off) <= {step["key"] for step in watched.steps}:
        raise refuse("no_such_choice")
    steps.lock_build(watched)
    if MarksSeen.objects.filter(watched=watched, by=by).exists():
        raise refuse("second_has_seen")
    if SecondMark.objects.filter(watched=watched).exists():
        raise refuse("second_there_already")
    row = SecondMark.objects.create(venue=by.venue, watched=watched, by=by, off=off, at=at)
    log.append(venue=by.venue, by=by, kind="marked_too", subject=watched.hire, row=row, at=at)
    return row


@transaction.atomic
def see_marks(*, by: Membership, watched: WatchedBuild, at: dt.datetime) -> MarksSeen:
    """Open the first marks instead of giving one's own; once is as good as twice."""
    steps.refuse_other_house(by, watched)
    steps.lock_build(watched)
    seen = MarksSeen.objects.filter(watched=watched, by=by).first()
    if seen is None:
        seen = MarksSeen.objects.create(venue=by.venue, watched=watched, by=by, at=at)
        log.append(venue=by.venue, by=by, kind="marks_seen", subject=watched.hire, row=seen, at=at)
    return seen


@transaction.atomic
def decide_plan(
    *,
    by: Membership,
    hire: Membership,
    recipe: Recipe,
    plan: str,
    at: dt.datetime,
    seen: str | None = None,
) -> PlanDecided:
    """How to go on with somebody who failed a drink again and again. A person decides. `seen` is
    the newest decision about it that they had before them, as its key in words, empty for none;
    None: no screen was involved."""
    steps.refuse_other_house(by, hire)
    steps.refuse_other_house(by, recipe)
    if by.pk == hire.pk:
        raise refuse("somebody_else_settles")
    steps.lock_hire(hire)
    newest = PlanDecided.objects.of(hire).about(recipe).newest_last().last()
    if newest is not None and seen is not None and str(newest.pk) != seen:
        raise refuse("decided_meanwhile", name=newest.by.name)
    row = PlanDecided.objects.create(
        venue=by.venue, hire=hire, recipe=recipe, plan=PlanChoice(plan), by=by, at=at
    )
    log.append(venue=by.venue, by=by, kind="plan_decided", subject=hire, row=row, at=at)
    return row


@transaction.atomic
def hand_over(
    *, by: Membership, watched: WatchedBuild, to: Membership, at: dt.datetime
) -> HandedOver:
    """An open build of somebody who left, given to a trainer who watches it once more."""
    steps.refuse_other_house(by, watched)
    steps.refuse_other_house(by, to)
    today = by.venue.business_day(at)
    trainer, to = (Membership.objects.get(pk=pk) for pk in (watched.trainer_id, to.pk))
    if trainer.is_here(today):
        raise refuse("trainer_is_here")
    if not to.is_here(today) or not to.may(May.WATCH) or to.pk == watched.hire_id:
        raise refuse("nobody_to_watch", "to")
    steps.lock_build(watched)
    if HandedOver.objects.filter(watched=watched).exists():
        raise refuse("handed_over_already")
    steps.refuse_void(watched)
    if watched.is_signed_since():
        raise refuse("signed_since")
    row = HandedOver.objects.create(venue=by.venue, watched=watched, to=to, by=by, at=at)
    log.append(venue=by.venue, by=by, kind="handed_over", subject=watched.hire, row=row, at=at)
    return row


@transaction.atomic
def hand_over_all(
    *, by: Membership, builds: Iterable[WatchedBuild], to: Membership, at: dt.datetime
) -> list[HandedOver]:
    """Every one of them, or none."""
    return [hand_over(by=by, watched=watched, to=to, at=at) for watched in builds]
