"""Everything that changes what the house serves. Each verb is one transaction with its log entry.

Whatever would leave a poured drink that can't be built, now or when something published earlier
takes effect, is refused with `CannotBuild`; `in_effect.broken_from` says how its reasons read.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Mapping
from enum import StrEnum
from typing import Any

from django.db import transaction

from barcourse.people import log
from barcourse.people.models import Membership, Venue
from recipes import publish_course
from recipes.grammar.coursefile import Course
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.refusals import read_spec
from recipes.grammar.rules import HouseRules
from recipes.grammar.rules_nonsense import nonsense
from recipes.grammar.rules_refusals import rules_problems
from recipes.grammar.words_owned import clashes
from recipes.in_effect import broken_from, holding_at
from recipes.menu import NoRules, pantry_of
from recipes.models import Module, Recipe, Revision, RulesVersion
from recipes.naming import named_drinks, words_at

CODES = frozenset({"takes_effect_in_the_past", "rules_unchanged", "revision_unchanged"})
"""Codes of refusals that come from publishing itself, not from the grammar."""


class OnMenu(StrEnum):
    """How a drink stands on the menu."""

    OFF = "off"
    POURED = "poured"
    MUST_KNOW = "must_know"


@transaction.atomic
def publish_rules(
    *,
    by: Membership,
    rules: HouseRules,
    at: dt.datetime,
    takes_effect_at: dt.datetime | None = None,
) -> RulesVersion:
    """A new version of the house rules, in effect now or from a later moment.

    Raises `CannotBuild` where the rules name what the house doesn't have, or a drink on the menu
    could no longer be built under them.
    """
    venue = _lock(by)
    effect = _effect(at, takes_effect_at)
    pantry = pantry_of(venue)
    _refuse(tuple(rules_problems(rules, pantry)))
    versions = list(RulesVersion.objects.in_house(venue))
    version = RulesVersion(
        venue=venue,
        number=len(versions) + 1,
        rules=rules.model_dump(mode="json"),
        takes_effect_at=effect,
        published_at=at,
        published_by=by,
    )
    before = holding_at(versions, effect)
    if before is not None and before.house_rules == rules:
        raise CannotBuild((Reason.of("rules_unchanged"),))
    poured = Recipe.objects.in_house(venue).on_menu(effect).select_related("module")
    _refuse(broken_from(effect, _revisions(venue, poured), [*versions, version], pantry))
    held = before.house_rules if before else None
    _refuse(nonsense(rules, held))
    book = words_at(venue, at) if held else None
    _refuse(tuple(clashes(rules, held, pantry, named_drinks(venue), book)))
    version.save()
    log.append(venue=venue, by=by, kind="rules_published", row=version, at=at)
    return version


@transaction.atomic
def publish_revision(
    *,
    by: Membership,
    recipe: Recipe,
    spec: Mapping[str, Any],
    at: dt.datetime,
    takes_effect_at: dt.datetime | None = None,
) -> Revision:
    """A new revision of a recipe, in effect now or from a later moment; `CannotBuild` says why not.

    A drink that is off the menu must be buildable too.
    """
    venue = _lock(by)
    effect = _effect(at, takes_effect_at)
    pantry, versions = pantry_of(venue), list(RulesVersion.objects.in_house(venue))
    build = read_spec(
        spec, _rules_at(versions, effect), pantry, alcohol_module=recipe.module.alcohol
    )
    earlier = list(recipe.revisions.all())
    before = holding_at(earlier, effect)
    if before is not None and before.build == build:
        raise CannotBuild((Reason.of("revision_unchanged"),))
    revision = Revision(
        venue=venue,
        recipe=recipe,
        number=len(earlier) + 1,
        spec=build.model_dump(mode="json"),  # in full: a default changed later must not change it
        takes_effect_at=effect,
        published_at=at,
        published_by=by,
    )
    _refuse(broken_from(effect, {recipe: [*earlier, revision]}, versions, pantry))
    revision.save()
    log.append(venue=venue, by=by, kind="revision_published", row=revision, at=at)
    return revision


@transaction.atomic
def set_menu(*, by: Membership, standing: Mapping[str, OnMenu], at: dt.datetime) -> list[Recipe]:
    """Which drinks are poured and which of them everybody must know; returns what changed.

    Drinks that `standing` doesn't name stay as they are. Raises KeyError for a slug that is no
    drink of this house, `CannotBuild` for a drink that the rules of the house can't build.
    """
    venue = _lock(by)
    recipes = {r.slug: r for r in Recipe.objects.in_house(venue).select_related("module")}
    changed = [r for r in (recipes[slug] for slug in standing) if _mark(r, standing[r.slug])]
    if not changed:
        return []
    revisions = _revisions(venue, [r for r in changed if r.is_poured])
    versions = list(RulesVersion.objects.in_house(venue))
    _refuse(broken_from(at, revisions, versions, pantry_of(venue)))
    Recipe.objects.bulk_update(changed, ["is_poured", "must_know"])
    facts = {r.slug: standing[r.slug].value for r in changed}
    log.append(venue=venue, by=by, kind="menu_changed", facts=facts, at=at)
    return changed


@transaction.atomic
def load_course(*, by: Membership, course: Course, rules: HouseRules, at: dt.datetime) -> int:
    """The shipped course into an empty house; returns the number of drinks.

    A house that already has modules keeps them: nothing is loaded and 0 comes back, so that
    loading twice is safe. Raises `CannotBuild` where the rules can't build one of its drinks.
    """
    venue = _lock(by)
    if Module.objects.in_house(venue).exists():
        return 0
    publish_course.stock(venue, course)
    publish_rules(by=by, rules=rules, at=at)
    recipes = publish_course.write_modules(venue, course)
    first = publish_course.first_revisions(by, course, recipes, at)
    versions = list(RulesVersion.objects.in_house(venue))
    pantry = pantry_of(venue)
    _refuse(broken_from(at, {r.recipe: [r] for r in first}, versions, pantry))
    stored = Revision.objects.bulk_create(first)
    log.append_rows(venue=venue, by=by, kind="revision_published", rows=stored, at=at)
    log.append(venue=venue, by=by, kind="course_loaded", facts={"drinks": len(first)}, at=at)
    return len(first)


def hold(venue: Venue) -> None:
    """Nobody else writes in this house until the transaction ends: what is read now stays so."""
    Venue.objects.select_for_update(no_key=True).get(pk=venue.pk)


def standing_of(recipe: Recipe) -> OnMenu:
    if recipe.must_know:
        return OnMenu.MUST_KNOW
    return OnMenu.POURED if recipe.is_poured else OnMenu.OFF


def _lock(by: Membership) -> Venue:
    """The house, locked: of two who publish at once the second sees what the first wrote."""
    return Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)


def _effect(at: dt.datetime, takes_effect_at: dt.datetime | None) -> dt.datetime:
    if takes_effect_at is not None and takes_effect_at < at:
        raise CannotBuild((Reason.of("takes_effect_in_the_past"),))
    return takes_effect_at or at


def _refuse(reasons: tuple[Reason, ...]) -> None:
    if reasons:
        raise CannotBuild(reasons)


def _rules_at(versions: list[RulesVersion], at: dt.datetime) -> HouseRules:
    version = holding_at(versions, at)
    if version is None:
        raise NoRules
    return version.house_rules


def _revisions(venue: Venue, recipes: Any) -> dict[Recipe, list[Revision]]:
    """All revisions of these recipes, each list in one query for all of them."""
    of: dict[int, list[Revision]] = defaultdict(list)
    for revision in Revision.objects.in_house(venue):
        of[revision.recipe_id].append(revision)
    return {recipe: of[recipe.pk] for recipe in recipes}


def _mark(recipe: Recipe, wanted: OnMenu) -> bool:
    """Set how the drink stands on the row, unsaved; whether that changed it."""
    if standing_of(recipe) is wanted:
        return False
    recipe.is_poured = wanted is not OnMenu.OFF
    recipe.must_know = wanted is OnMenu.MUST_KNOW
    return True
