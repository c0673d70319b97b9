"""Earlier builds that somebody has met, of drinks that are built otherwise today: what of a drink
has changed for them, and what it was before."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace

from django.db.models import Q

from assessments import prints
from assessments.models import Answer, CardMark, WatchedBuild
from barcourse.people.models import Membership
from recipes.grammar.drink import Drink
from recipes.menu import Menu, MenuDrink, resolve_all
from recipes.models import Recipe, Revision, RulesVersion

Rows = tuple[int, int]
"""A revision and the version of the rules under which it was built."""


@dataclass(frozen=True)
class Earlier:
    """A build of another time, with the menu's words and the rules of that time."""

    drink: Drink
    menu: Menu


@dataclass(frozen=True)
class Met:
    """`topics` are those of every earlier build that somebody has met, by fingerprint; `last` is
    the newest of these builds, none where the house has no words for it any more."""

    topics: frozenset[str]
    last: Earlier | None


def met_earlier(hire: Membership, menu: Menu) -> dict[str, Met]:
    """By drink: those that the hire knows in another build than today's and has not met as they
    are today."""
    met: dict[int, dict[str, Rows]] = defaultdict(dict)
    for recipe, build, rows in _builds_met(hire, menu.at):
        met[recipe][build] = rows
    changed = [
        (item, set(met[item.recipe.pk].values()))
        for item in menu.items
        if met[item.recipe.pk] and prints.of_build(item.drink) not in met[item.recipe.pk]
    ]
    if not changed:
        return {}
    built = _Builds(menu, {rows for _, each in changed for rows in each})
    return {item.drink.slug: built.met(item.recipe, rows) for item, rows in changed}


def _builds_met(hire: Membership, at: dt.datetime) -> Iterator[tuple[int, str, Rows]]:
    """On cards, in quizzes and behind the bar; what is still to come at that moment left out."""
    come = Q(revision__takes_effect_at__lte=at, rules_version__takes_effect_at__lte=at)
    cards = CardMark.objects.of(hire).filter(come)
    told = ("recipe_id", "build", "revision_id", "rules_version_id")
    for recipe, build, *rows in cards.values_list(*told).distinct():
        yield recipe, build, (rows[0], rows[1])
    asked = Answer.objects.of(hire).exclude(item__build="")
    of = ("item__recipe_id", "item__build", "item__revision_id", "item__quiz__rules_version_id")
    for recipe, build, *rows in asked.values_list(*of).distinct():
        yield recipe, build, (rows[0], rows[1])
    builds = WatchedBuild.objects.of(hire).filter(come)
    seen = ("recipe_id", "fingerprints", "revision_id", "rules_version_id")
    for recipe, aspects, *rows in builds.values_list(*seen):
        yield recipe, prints.whole(aspects), (rows[0], rows[1])


class _Builds:
    """Earlier builds worked out from their rows, read at once."""

    def __init__(self, menu: Menu, wanted: Collection[Rows]) -> None:
        self._revisions = Revision.objects.in_bulk({revision for revision, _ in wanted})
        self._versions = RulesVersion.objects.in_bulk({version for _, version in wanted})
        self._menus = {pk: _as_of(menu, version) for pk, version in self._versions.items()}

    def met(self, recipe: Recipe, rows: Iterable[Rows]) -> Met:
        found = [
            built for each in sorted(rows, key=self._when) if (built := self._of(recipe, each))
        ]
        topics = frozenset(t.fingerprint for built in found for t in built.drink.topics)
        return Met(topics, found[-1] if found else None)

    def _when(self, rows: Rows) -> tuple[dt.datetime, Rows]:
        revision, version = rows
        took_effect = (
            self._revisions[revision].takes_effect_at, self._versions[version].takes_effect_at,
        )  # fmt: skip
        return max(took_effect), rows

    def _of(self, recipe: Recipe, rows: Rows) -> Earlier | None:
        menu, pairs = self._menus[rows[1]], [(recipe, self._revisions[rows[0]])]
        built: tuple[MenuDrink, ...] = resolve_all(pairs, menu.rules, menu.pantry)
        return Earlier(built[0].drink, menu) if built else None


def _as_of(menu: Menu, version: RulesVersion) -> Menu:
    return replace(menu, rules_version=version, rules=version.house_rules)
