"""Open builds of trainers who left: which there are, who took them over, and what became of those
that a page still offered."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Collection

from django.utils.translation import gettext as _

from assessments.models import HandedOver, WatchedBuild
from barcourse.people.models import Membership, Venue


def left_open(venue: Venue, at: dt.datetime) -> list[WatchedBuild]:
    """Passed, and whoever watched them has left without signing; nobody has signed the drink off
    since, nor has it been handed over."""
    today = venue.business_day(at)
    rows = (
        WatchedBuild.objects.in_house(venue)
        .standing(at)
        .open()
        .filter(handed_over__isnull=True)
        .select_related("hire__person", "trainer__person", "recipe")
        .order_by("at", "pk")
    )
    return [r for r in rows if r.hire.is_here(today) and not r.trainer.is_here(today)]


def left_open_by(venue: Venue, at: dt.datetime) -> list[tuple[Membership, list[WatchedBuild]]]:
    """Each trainer who left, with what is open of theirs."""
    found: dict[int, list[WatchedBuild]] = defaultdict(list)
    for row in left_open(venue, at):
        found[row.trainer_id].append(row)
    return [(rows[0].trainer, rows) for rows in found.values()]


def no_longer_open(trainer: Membership, codes: Collection[str], at: dt.datetime) -> list[str]:
    """Of builds of this trainer that a page offered: why each can't be handed over any more."""
    still = {row.code for row in left_open(trainer.venue, at)}
    wanted = [code for code in codes if code not in still]
    rows = WatchedBuild.objects.in_house(trainer.venue).coded(wanted).filter(trainer=trainer)
    return [_why_not(row) for row in rows.with_all().order_by("at", "pk")]


def _why_not(row: WatchedBuild) -> str:
    said = {"drink": row.recipe.name, "hire": row.hire.name}
    if (handed := handed_over(row)) is not None:
        said |= {"to": handed.to.name, "by": handed.by.name}
        return _("%(drink)s, %(hire)s: handed over to %(to)s by %(by)s meanwhile.") % said
    if hasattr(row, "void"):
        said |= {"by": row.void.by.name}
        return _("%(drink)s, %(hire)s: voided by %(by)s meanwhile.") % said
    if row.is_signed_since():
        return _("%(drink)s, %(hire)s: signed off meanwhile.") % said
    said |= {"trainer": row.trainer.name}
    return _("%(drink)s, %(hire)s: not open any more. Is %(trainer)s back?") % said


def taken_over(trainer: Membership, at: dt.datetime) -> list[WatchedBuild]:
    """What was handed over to a trainer, and the drink not signed off since it was watched, nor the
    build voided: of one hire and drink the newest alone, since one build settles them all."""
    today = trainer.venue.business_day(at)
    rows = WatchedBuild.objects.filter(handed_over__to=trainer).standing(at).open()
    rows = rows.select_related("hire__person", "trainer__person", "recipe").order_by("at", "pk")
    newest = {(row.hire_id, row.recipe_id): row for row in rows if row.hire.is_here(today)}
    return list(newest.values())


def handed_over(watched: WatchedBuild) -> HandedOver | None:
    """Who took it over, if anybody, when its trainer had left."""
    rows = HandedOver.objects.of_build(watched)
    return rows.select_related("to__person", "by__person").first()
