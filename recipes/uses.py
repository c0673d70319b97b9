"""Where an ingredient is used: in which drinks, in which house rules."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterator
from typing import TypeVar

from django.db.models import Q

from barcourse.people.models import Venue
from recipes.grammar.rules import HouseRules
from recipes.grammar.spec import BuildSpec
from recipes.in_effect import holding_at, waiting
from recipes.models import Ingredient, OffTonight, Recipe, Revision, RulesVersion

_Row = TypeVar("_Row", Revision, RulesVersion)


def drinks_with(venue: Venue, slug: str, at: dt.datetime | None = None) -> list[str]:
    """Names of drinks that have it in a revision that holds at `at` or is to come; without `at`,
    in any revision there ever was."""
    of: dict[int, list[Revision]] = defaultdict(list)
    for revision in Revision.objects.in_house(venue):
        of[revision.recipe_id].append(revision)
    return [
        recipe.name
        for recipe in Recipe.objects.in_house(venue)
        if any(slug in named_in(row.build) for row in _standing(of[recipe.pk], at))
    ]


def rules_with(venue: Venue, slug: str, at: dt.datetime | None = None) -> bool:
    """Whether a version of the house rules names it, as above."""
    versions = list(RulesVersion.objects.in_house(venue))
    return any(slug in ruled_in(row.house_rules) for row in _standing(versions, at))


def was_ever_off(ingredient: Ingredient) -> bool:
    named = Q(ingredient=ingredient) | Q(substitute=ingredient)
    return OffTonight.objects.in_house(ingredient.venue).filter(named).exists()


def named_in(build: BuildSpec) -> set[str]:
    """Slugs of everything that the recipe itself names."""
    found = {part.ingredient for part in build.parts} | {g.item for g in build.garnish or ()}
    if build.rim:
        found |= {build.rim.item} | ({build.rim.wet_with} if build.rim.wet_with else set())
    return found


def ruled_in(rules: HouseRules) -> set[str]:
    """Words of the garnish rules, the slang and the patterns: slugs, kinds and classes."""
    return set(_ruled(rules))


def _ruled(rules: HouseRules) -> Iterator[str]:
    for rule in rules.garnish:
        yield from (word for group in rule.needs for word in group)
        yield from (garnish.item for garnish in rule.garnish)
    yield from rules.slang.values()
    for pattern in rules.patterns.values():
        yield from (*pattern.mixers, *(g.item for g in pattern.garnish or ()))
        yield from [pattern.base] if pattern.base else []


def _standing(rows: list[_Row], at: dt.datetime | None) -> list[_Row]:
    if at is None:
        return rows
    now = holding_at(rows, at)
    held = [now] if now is not None else []
    return held + waiting(rows, at)
