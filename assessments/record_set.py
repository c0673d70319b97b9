"""What a trainer sets for others: quiz sheets, drills, try-outs, and which drink was made instead.

Each verb is one transaction. `record` holds what the hires themselves do.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Mapping, Sequence
from typing import Any

from django.db import transaction

from assessments import record_steps as steps
from assessments.measures.marking import RIGHT_DRINK
from assessments.models import (
    Drill,
    DrillFor,
    MadeInstead,
    QuizSheet,
    SheetModule,
    TryOut,
    WatchedBuild,
)
from assessments.models.sheet import Stands
from assessments.record_quiz import end_try_out
from barcourse.people import log
from barcourse.people.models import Membership, Venue
from barcourse.people.reasons import refuse
from recipes.models import Module, Recipe

SHEET_FIELDS = (
    "name", "length", "scenarios", "cards", "mix", "critical", "pass_mark", "minutes",
    "retake_hours",
)  # fmt: skip


@transaction.atomic
def save_sheet(
    *,
    by: Membership,
    sheet: QuizSheet | None,
    said: Mapping[str, Any],
    modules: Collection[Module],
    at: dt.datetime,
) -> QuizSheet:
    """A new sheet, or another plan for one that is in use. Quizzes begun keep theirs."""
    if not modules:
        raise refuse("sheet_needs_a_module", "modules")
    for row in (*modules, *([sheet] if sheet else [])):
        steps.refuse_other_house(by, row)
    if sheet and sheet.retired_at:
        raise refuse("sheet_out_of_use")
    if said["scenarios"] + said["cards"] > said["length"]:
        raise refuse("sheet_too_short", "length")
    _refuse_same_name(by, sheet, said["name"])
    sheet, is_new = sheet or QuizSheet(venue=by.venue), sheet is None
    for field in SHEET_FIELDS:
        setattr(sheet, field, said[field])
    sheet.save()
    SheetModule.objects.filter(sheet=sheet).delete()
    SheetModule.objects.bulk_create(
        SheetModule(venue=by.venue, sheet=sheet, module=m) for m in modules
    )
    kind = "sheet_made" if is_new else "sheet_changed"
    log.append(venue=by.venue, by=by, kind=kind, facts={"sheet": sheet.code}, at=at)
    return sheet


def _refuse_same_name(by: Membership, sheet: QuizSheet | None, name: str) -> None:
    """Hires choose a plan by its name; one out of use leaves its name free."""
    Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)
    in_use = QuizSheet.objects.in_house(by.venue).in_use()
    others = in_use.exclude(pk=sheet.pk) if sheet else in_use
    if name.casefold() in {n.casefold() for n in others.values_list("name", flat=True)}:
        raise refuse("sheet_name_taken", "name", name=name)


@transaction.atomic
def retire_sheet(*, by: Membership, sheet: QuizSheet, at: dt.datetime) -> None:
    """Nobody begins a quiz by it any more; those begun go on."""
    steps.refuse_other_house(by, sheet)
    if sheet.retired_at is None:
        sheet.retired_at = at
        sheet.save(update_fields=["retired_at"])
        log.append(venue=by.venue, by=by, kind="sheet_retired", facts={"sheet": sheet.code}, at=at)


@transaction.atomic
def set_drill(
    *, by: Membership, one: Recipe, other: Recipe, hires: Sequence[Membership], at: dt.datetime
) -> Drill:
    """A drill on two drinks for these people; who has one on them still to do gets no second.
    Refuses a drink with itself, nobody to drill, and where all of them have it already."""
    for row in (one, other, *hires):
        steps.refuse_other_house(by, row)
    if one.pk == other.pk:
        raise refuse("drill_needs_two_drinks")
    if not hires:
        raise refuse("drill_needs_people", "hires")
    for hire in sorted(hires, key=lambda h: h.pk):
        steps.lock_hire(hire)
    waiting = DrillFor.objects.to_do().on(one, other).filter(hire__in=hires)
    has = set(waiting.values_list("hire_id", flat=True))
    if not (hires := [h for h in hires if h.pk not in has]):
        raise refuse("drill_waits_already", "hires")
    drill = Drill.objects.create(venue=by.venue, one=one, other=other, by=by, at=at)
    DrillFor.objects.bulk_create(DrillFor(venue=by.venue, drill=drill, hire=h) for h in hires)
    for hire in hires:
        log.append(
            venue=by.venue, by=by, kind="drill_set", subject=hire, facts={"drill": drill.code},
            at=at,
        )  # fmt: skip
    return drill


@transaction.atomic
def offer_try_out(*, by: Membership, hire: Membership, at: dt.datetime) -> TryOut:
    """Let a hire show what they know already; twice is once while it is open. One whose time is up
    is closed by it."""
    steps.refuse_watching(by, hire, at)
    steps.lock_hire(hire)
    waiting = TryOut.objects.of(hire).to_do().select_related("quiz").first()
    if waiting and waiting.stands(at) is not Stands.RAN_OUT:
        return waiting
    if waiting:
        end_try_out(by=by, try_out=waiting, at=at)
    row = TryOut.objects.create(venue=by.venue, hire=hire, by=by, offered_at=at)
    log.append(venue=by.venue, by=by, kind="try_out_offered", subject=hire, at=at)
    return row


@transaction.atomic
def say_made_instead(
    *, by: Membership, watched: WatchedBuild, made: Recipe, at: dt.datetime
) -> MadeInstead:
    """Which drink a hire made where another one was called; said once, by whoever watched."""
    steps.refuse_other_house(by, watched)
    steps.refuse_other_house(by, made)
    if watched.trainer_id != by.pk:
        raise refuse("only_who_watched_says")
    if RIGHT_DRINK.key not in watched.off or made.pk == watched.recipe_id:
        raise refuse("it_was_the_right_drink")
    steps.lock_build(watched)
    said = MadeInstead.objects.filter(watched=watched).first()
    if said:
        return said
    row = MadeInstead.objects.create(
        venue=by.venue, watched=watched, hire=watched.hire, made=made, by=by, at=at
    )
    log.append(venue=by.venue, by=by, kind="made_instead", subject=watched.hire, row=row, at=at)
    return row
