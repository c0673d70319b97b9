"""Steps that the verbs of `record` share: refusals, locks, quizzes drawn up and counted."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Any

from assessments import checklist, prints
from assessments.models import MeasuredPours, Void, WatchedBuild
from assessments.models.kinds import Entry
from barcourse.people import log
from barcourse.people.models import Membership
from barcourse.people.reasons import refuse
from recipes.grammar.drink import Drink
from recipes.menu import MenuDrink


def refuse_other_house(by: Membership, row: Any) -> None:
    if row.venue_id != by.venue_id:
        raise refuse("other_house")


def refuse_watching(by: Membership, hire: Membership, at: dt.datetime) -> None:
    """Nobody watches their own build, or somebody of another house or who has left."""
    refuse_other_house(by, hire)
    if hire.pk == by.pk:
        raise refuse("nobody_signs_for_themselves")
    if not hire.is_here(by.venue.business_day(at)):
        raise refuse("has_left_already")


def refuse_changed(item: MenuDrink, seen: str | None) -> None:
    """The drink is no longer built as the screen showed it. None: no screen was involved."""
    if seen is not None and seen != prints.of_build(item.drink):
        raise refuse("drink_changed", drink=item.drink.name)


def lock_hire(hire: Membership) -> None:
    """Of two answers of one person at once, the second knows what the first taught them."""
    Membership.objects.select_for_update(no_key=True).get(pk=hire.pk)


def lock_build(watched: WatchedBuild) -> None:
    """Of a sign-off and a void at once, the second sees the first."""
    WatchedBuild.objects.select_for_update(no_key=True).get(pk=watched.pk)


def lock_entry(entry: Entry) -> None:
    """Of an answer, a manager's word and a void at once, each sees what came before it."""
    if isinstance(entry, WatchedBuild):
        lock_build(entry)
    else:
        lock_hire(entry.hire)


def refuse_void(watched: WatchedBuild) -> None:
    if Void.objects.filter(watched=watched).exists():
        raise refuse("voided_already")


def keep_measured(
    watched: WatchedBuild,
    drink: Drink,
    measured: Mapping[str, float],
    *,
    by: Membership,
    at: dt.datetime,
) -> None:
    """What was measured in the build, beside what was wanted; nothing where nothing was."""
    pours = {
        key: [round(part.ml or 0.0, 3), round(measured[key], 3)]
        for key, part in checklist.measurable(drink.spec).items()
        if key in measured
    }
    if pours:
        row = MeasuredPours.objects.create(venue=watched.venue, watched=watched, pours=pours)
        log.append(
            venue=by.venue, by=by, kind="pours_measured", subject=watched.hire, row=row, at=at
        )
