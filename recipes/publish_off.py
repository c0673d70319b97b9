"""Saying that a bottle or a drink is out tonight, and lifting it. Each verb is one transaction
with its log entry."""

from __future__ import annotations

import datetime as dt
from typing import Any

from django.db import transaction

from barcourse.people import log
from barcourse.people.models import Membership, Venue
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.models import Ingredient, OffTonight, Recipe
from recipes.models.off_tonight import OffTonightQuerySet

CODES = frozenset({"substitute_is_itself", "substitute_is_out"})


@transaction.atomic
def say_bottle_out(
    *, by: Membership, ingredient: Ingredient, substitute: Ingredient | None = None, at: dt.datetime
) -> OffTonight:
    """The bottle is out until somebody lifts it. Said of one that is out already with another
    substitute, this one takes its place; said the same once more, nothing happens.

    Raises `CannotBuild` for a substitute that is the bottle itself or is out too.
    """
    venue = _lock(by)
    _refuse(venue, ingredient, substitute)
    standing = _standing(venue).filter(ingredient=ingredient).first()
    if standing is not None and standing.substitute_id == (substitute and substitute.pk):
        return standing
    if standing is not None:
        _lift(standing, by, at)
    facts = {"bottle": ingredient.slug, "use": substitute.slug if substitute else ""}
    return _say(by, at, "bottle_out", facts, ingredient=ingredient, substitute=substitute)


@transaction.atomic
def say_drink_out(*, by: Membership, recipe: Recipe, at: dt.datetime) -> OffTonight:
    """The drink is off until somebody lifts it; said once more, nothing happens."""
    standing = _standing(_lock(by)).filter(recipe=recipe).first()
    if standing is not None:
        return standing
    return _say(by, at, "drink_out", {"drink": recipe.slug}, recipe=recipe)


@transaction.atomic
def lift(*, by: Membership, off: OffTonight, at: dt.datetime) -> bool:
    """It is there again; whether it was still out."""
    standing = _standing(_lock(by)).filter(pk=off.pk).first()
    if standing is None:
        return False
    _lift(standing, by, at)
    log.append(venue=by.venue, by=by, kind="off_lifted", facts=_facts(standing), at=at)
    return True


def _lock(by: Membership) -> Venue:
    """The house, locked: of two who say the same at once the second finds the first's row."""
    return Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)


def _standing(venue: Venue) -> OffTonightQuerySet:
    return OffTonight.objects.in_house(venue).standing().with_all()


def _refuse(venue: Venue, ingredient: Ingredient, substitute: Ingredient | None) -> None:
    if substitute is None:
        return
    if substitute == ingredient:
        raise CannotBuild((Reason.of("substitute_is_itself", ingredient=substitute.slug),))
    if _standing(venue).filter(ingredient=substitute).exists():
        raise CannotBuild((Reason.of("substitute_is_out", ingredient=substitute.slug),))


def _say(
    by: Membership, at: dt.datetime, kind: str, facts: dict[str, str], **what: Any
) -> OffTonight:
    row = OffTonight.objects.create(venue=by.venue, said_by=by, said_at=at, **what)
    log.append(venue=by.venue, by=by, kind=kind, facts=facts, at=at)
    return row


def _lift(row: OffTonight, by: Membership, at: dt.datetime) -> None:
    row.lifted_by, row.lifted_at = by, at
    row.save(update_fields=["lifted_by", "lifted_at"])


def _facts(row: OffTonight) -> dict[str, str]:
    if row.ingredient:
        return {"bottle": row.ingredient.slug}
    return {"drink": row.recipe.slug} if row.recipe else {}
