"""What would come of publishing something: it is done, looked at, and undone."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.db import transaction

from barcourse.people.models import Venue
from recipes.grammar.aspects import Aspect
from recipes.grammar.drink import make_drink
from recipes.grammar.reasons import CannotBuild
from recipes.grammar.refusals import read_spec
from recipes.menu import Menu, MenuDrink, drink_of, menu_at
from recipes.models import Recipe, Revision
from recipes.wording import label

Publish = Callable[[], object]


@dataclass(frozen=True)
class Change:
    """A drink that would be built otherwise, and in which aspects; both ways to build it."""

    before: MenuDrink
    after: MenuDrink
    aspects: tuple[Aspect, ...]


@dataclass(frozen=True)
class ChangedAlike:
    """Names of drinks that would change in the same aspects, and the labels of those."""

    aspects: str
    drinks: tuple[str, ...]


def rehearse(venue: Venue, at: dt.datetime, publish: Publish) -> tuple[Change, ...]:
    """The poured drinks that would be built otherwise at this moment.

    Nothing stays written. What `publish` raises comes through.
    """
    return changes(*rehearse_menus(venue, at, publish))


def rehearse_menus(venue: Venue, at: dt.datetime, publish: Publish) -> tuple[Menu, Menu]:
    """The menu of this moment as it stands, and as it would be."""
    before = menu_at(venue, at)
    with transaction.atomic():
        publish()
        after = menu_at(venue, at)
        transaction.set_rollback(True)
    return before, after


def rehearse_drink(
    recipe: Recipe, at: dt.datetime, publish: Publish
) -> tuple[Menu, MenuDrink | None, MenuDrink]:
    """The menu of this moment as it would be, and one drink, poured or not, before and after.

    Before is None where the rules of that moment can't build what there is.
    """
    before = _if_any(menu_at(recipe.venue, at), recipe)
    with transaction.atomic():
        publish()
        menu = menu_at(recipe.venue, at)
        after = drink_of(menu, recipe)
        transaction.set_rollback(True)
    return menu, before, after


def as_built(spec: Mapping[str, Any], menu: Menu, *, alcohol_module: bool) -> MenuDrink:
    """A drink that has no name yet, as this menu's house would build it; or `CannotBuild`."""
    build = read_spec(spec, menu.rules, menu.pantry, alcohol_module=alcohol_module)
    recipe = Recipe(venue=menu.venue, slug="new-drink", name="")
    revision = Revision(recipe=recipe, number=0, spec=build.model_dump(mode="json"))
    drink = make_drink(
        slug=recipe.slug, name="", module="", spec=build, rules=menu.rules, pantry=menu.pantry
    )
    return MenuDrink(recipe, revision, drink)


def changes(before: Menu, after: Menu) -> tuple[Change, ...]:
    """Drinks on both menus that differ in an aspect, in the order of the menu."""
    found = []
    for item in after.items:
        old = before.by_slug.get(item.drink.slug)
        if old is None:
            continue
        then, now = old.drink.fingerprints, item.drink.fingerprints
        if aspects := tuple(a for a in Aspect if then[a] != now[a]):
            found.append(Change(old, item, aspects))
    return tuple(found)


def by_aspects(changed: Iterable[Change]) -> list[ChangedAlike]:
    """Changes told together where they touch the same aspects, the largest group first."""
    groups: dict[tuple[Aspect, ...], list[str]] = {}
    for change in changed:
        groups.setdefault(change.aspects, []).append(change.after.drink.name)
    largest = sorted(groups.items(), key=lambda group: -len(group[1]))
    return [
        ChangedAlike(", ".join(label(a) for a in aspects), tuple(names))
        for aspects, names in largest
    ]


def _if_any(menu: Menu, recipe: Recipe) -> MenuDrink | None:
    try:
        return drink_of(menu, recipe)
    except (CannotBuild, LookupError):
        return None
