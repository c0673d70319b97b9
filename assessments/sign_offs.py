"""Which sign-offs prove today's builds, and which parts of the others are out of date."""

from __future__ import annotations

import datetime as dt
import json
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from django.db.models import TextField
from django.db.models.functions import Cast

from assessments import prints
from assessments.measures.waits import Waits
from assessments.models import SignOff, WatchedBuild
from barcourse.people.models import Membership
from recipes.grammar.aspects import Aspect
from recipes.menu import Menu, MenuDrink


@dataclass(frozen=True)
class Signed:
    """A sign-off and the aspects in which the house has changed the drink since."""

    sign_off: SignOff
    changed: tuple[Aspect, ...]

    @property
    def proves(self) -> bool:
        return not self.changed


Best = dict[int, dict[int, Signed]]
"""By hire and recipe: a sign-off that proves today's build, else the newest one."""


def best_sign_offs(
    hires: Sequence[Membership], items: Iterable[MenuDrink], at: dt.datetime
) -> Best:
    """Unprompted sign-offs that stood at `at`, in one query.

    One on a build that was still to come proves that build from its moment on; before, it is
    neither a proof nor out of date.
    """
    today = {i.recipe.pk: i.drink for i in items}
    found: Best = defaultdict(dict)
    rows = SignOff.objects.of(*hires).unprompted().standing(at).newest_first()
    for row in rows.select_related("trainer__person", "revision", "rules_version"):
        if row.recipe_id not in today:
            continue
        signed = Signed(row, prints.changed_since(row.fingerprints, today[row.recipe_id]))
        if not signed.proves and counts_from(row, at):
            continue
        kept = found[row.hire_id].get(row.recipe_id)
        if kept is None or (signed.proves and not kept.proves):
            found[row.hire_id][row.recipe_id] = signed
    return found


def counts_from(row: SignOff | WatchedBuild, at: dt.datetime) -> dt.datetime | None:
    """The moment from which the build counts that was shown, None where it has come."""
    begins = max(row.revision.takes_effect_at, row.rules_version.takes_effect_at)
    return begins if begins > at else None


@dataclass(frozen=True)
class ToWatch:
    """A drink as the trainer picks it; `signed` is the best sign-off on it, if any; `waits` a build
    that is passed and not signed off yet."""

    item: MenuDrink
    signed: Signed | None
    waits: Waits | None = None

    @property
    def changed(self) -> tuple[Aspect, ...]:
        return self.signed.changed if self.signed else ()

    @property
    def is_proven(self) -> bool:
        return self.signed is not None and self.signed.proves


def drinks_to_watch(
    hire: Membership, menu: Menu, passed: Mapping[str, Waits] = MappingProxyType({})
) -> list[ToWatch]:
    """The whole menu, in the order of the menu; `passed` by the drink's slug."""
    best = best_sign_offs([hire], menu.items, menu.at)[hire.pk]
    return [ToWatch(i, best.get(i.recipe.pk), passed.get(i.drink.slug)) for i in menu.items]


def proven_now(hires: Sequence[Membership], menu: Menu) -> dict[int, frozenset[int]]:
    """By hire: the recipes whose builds of today a standing, unprompted sign-off proves, in one
    query. It reads nothing but who, what and the fingerprints, so that a house of hundreds is as
    quick as one of four."""
    today = {i.recipe.pk: i.drink for i in menu.items}
    as_text = Cast("fingerprints", TextField())
    rows = SignOff.objects.of(*hires).unprompted().standing(menu.at).distinct()
    found: dict[int, set[int]] = {h.pk: set() for h in hires}
    stands: dict[tuple[int, str], bool] = {}
    for hire, recipe, then in rows.values_list("hire_id", "recipe_id", as_text):
        if (recipe, then) not in stands:
            drink = today.get(recipe)
            stands[recipe, then] = drink is not None and not prints.changed_since(
                json.loads(then), drink
            )
        if stands[recipe, then]:
            found[hire].add(recipe)
    return {hire: frozenset(recipes) for hire, recipes in found.items()}


def must_knows_proven(hires: Sequence[Membership], menu: Menu) -> dict[int, int]:
    """How many of today's must-knows each hire is signed off on, in one query."""
    return must_knows_among(proven_now(hires, menu), menu)


def must_knows_among(proven: Mapping[int, frozenset[int]], menu: Menu) -> dict[int, int]:
    """Of what `proven_now` found."""
    must = {i.recipe.pk for i in menu.must_knows()}
    return {hire: len(recipes & must) for hire, recipes in proven.items()}
