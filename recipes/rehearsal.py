"""What would come of publishing something: it is done, looked at, and undone."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
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

Publish = Callable[[], object]


@dataclass(frozen=True)
class Change:
    """A drink that would be built otherwise, and in which aspects; both ways to build it."""

    before: MenuDrink
    after: MenuDrink
    aspects: tuple[Aspect, ...]


def rehearse_menus(venue: Venue, at: dt.datetime, publish: Publish) -> tuple[Menu, Menu]:
    """The menu of this moment as it stands, and as it would be.

    Nothing stays written. What `publish` raises comes through.
    """
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


def _if_any(menu: Menu, recipe: Recipe) -> MenuDrink | None:
    try:
        return drink_of(menu, recipe)
    except (CannotBuild, LookupError):
        return None
