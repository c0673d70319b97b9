"""What the house pours at a moment: every recipe resolved under the rules of that moment."""

from __future__ import annotations

import datetime as dt
from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

from barcourse.people.models import Station, Venue
from recipes.grammar.aspects import fingerprint
from recipes.grammar.drink import Drink, make_drink
from recipes.grammar.ingredients import Pantry
from recipes.grammar.reasons import CannotBuild
from recipes.grammar.refusals import problems
from recipes.grammar.rules import HouseRules
from recipes.kept import Kept, Stamp, stamp_of
from recipes.models import Ingredient, Module, Recipe, Revision, RulesVersion


@dataclass(frozen=True)
class MenuDrink:
    """A drink with the rows it was resolved from."""

    recipe: Recipe
    revision: Revision
    drink: Drink


@dataclass(frozen=True)
class Unsold:
    """A drink of the house's book that is not on the menu: guests may call it all the same."""

    slug: str
    name: str
    aliases: tuple[str, ...]


@dataclass(frozen=True)
class Menu:
    """All drinks on the menu at one moment. Shares of sales sum to 1."""

    venue: Venue
    at: dt.datetime
    rules_version: RulesVersion
    rules: HouseRules
    pantry: Pantry
    items: tuple[MenuDrink, ...]
    unsold: tuple[Unsold, ...] = ()

    @property
    def drinks(self) -> tuple[Drink, ...]:
        return tuple(i.drink for i in self.items)

    @cached_property
    def by_slug(self) -> dict[str, MenuDrink]:
        return {i.drink.slug: i for i in self.items}

    @cached_property
    def names(self) -> dict[str, str]:
        """What ingredients are called, by slug."""
        return {slug: item.name for slug, item in self.pantry.items()}

    @cached_property
    def glass_names(self) -> dict[str, str]:
        return {key: glass.name for key, glass in self.rules.glasses.items()}

    def of_module(self, module: Module) -> tuple[MenuDrink, ...]:
        return tuple(i for i in self.items if i.recipe.module_id == module.pk)

    def must_knows(self) -> tuple[MenuDrink, ...]:
        return tuple(i for i in self.items if i.recipe.must_know)

    def at_station(self, station: Station) -> tuple[MenuDrink, ...]:
        modules = set(station.pours_modules.values_list("module_id", flat=True))
        return tuple(i for i in self.items if i.recipe.module_id in modules)


class NoRules(LookupError):  # noqa: N818  # read as a sentence: raise NoRules
    """The house has no rules in effect: its course was never loaded."""


def menu_at(venue: Venue, at: dt.datetime) -> Menu:
    """The menu of a moment, in one query where this process has it. Raises `NoRules` for a house
    without any.

    Which drinks are poured is as of now, so for a moment gone by a drink that the rules of then
    could not build is left out: it can't have been poured.
    """
    if not (stamp := stamp_of(venue)):
        return _read(venue, at)
    moments = _MOMENTS.get(stamp, lambda: _moments_of(venue))
    between = bisect_right(moments, at)
    kept = _MENUS.get((stamp, between), lambda: _read(venue, at))
    return replace(kept, venue=venue, at=at)


_MOMENTS = Kept[Stamp, tuple[dt.datetime, ...]](most=100)
_MENUS = Kept[tuple[Stamp, int], Menu](most=50)
"""By the house's stamp and how many moments have passed at which its menu changes by itself; a big
one takes about a megabyte."""


def _moments_of(venue: Venue) -> tuple[dt.datetime, ...]:
    """When something published takes effect, or a drink retires: between two of them the menu is
    the same."""
    published = (
        rows.objects.in_house(venue).values_list("takes_effect_at", flat=True).distinct()
        for rows in (RulesVersion, Revision)
    )
    retiring = Recipe.objects.in_house(venue).values_list("retires_at", flat=True).distinct()
    dates = {moment for rows in (*published, retiring) for moment in rows}
    return tuple(sorted(moment for moment in dates if moment))


def _read(venue: Venue, at: dt.datetime) -> Menu:
    """The same from the rows, in four queries."""
    version = RulesVersion.objects.in_house(venue).in_effect(at).newest_first().first()
    if version is None:
        raise NoRules(venue.slug)
    rules = version.house_rules
    pantry = pantry_of(venue)
    recipes = Recipe.objects.in_house(venue).select_related("module")
    current = revisions_at(venue, at)
    pairs = [(r, current[r.pk]) for r in recipes if r.is_on_menu(at) and r.pk in current]
    unsold = (r for r in recipes if not r.is_on_menu(at))
    off = tuple(Unsold(r.slug, r.name, tuple(r.aliases)) for r in unsold)
    return Menu(venue, at, version, rules, pantry, resolve_all(pairs, rules, pantry), off)


def drink_of(menu: Menu, recipe: Recipe) -> MenuDrink:
    """Any drink of the house as it would be built under this menu's rules, poured or not.

    Raises `CannotBuild` with the reasons where the rules don't allow it, LookupError where no
    revision of it has taken effect yet.
    """
    if recipe.slug in menu.by_slug:
        return menu.by_slug[recipe.slug]
    rows = recipe.revisions.in_effect(menu.at).newest_first()
    revision = rows.first()
    if revision is None:
        raise LookupError(recipe.slug)
    alcohol = recipe.module.alcohol
    if reasons := problems(revision.build, menu.rules, menu.pantry, alcohol_module=alcohol):
        raise CannotBuild(reasons)
    [item] = resolve_all([(recipe, revision)], menu.rules, menu.pantry)
    return replace(item, drink=replace(item.drink, share=0.0))


def pantry_of(venue: Venue) -> Pantry:
    return {i.slug: i.facts() for i in Ingredient.objects.in_house(venue)}


def revisions_at(venue: Venue, at: dt.datetime) -> dict[int, Revision]:
    """The revision in effect of each recipe, by recipe id."""
    found: dict[int, Revision] = {}
    for revision in Revision.objects.in_house(venue).in_effect(at).newest_first():
        found.setdefault(revision.recipe_id, revision)
    return found


def resolve_all(
    pairs: Iterable[tuple[Recipe, Revision]], rules: HouseRules, pantry: Pantry
) -> tuple[MenuDrink, ...]:
    """The drinks in the order given, without any that these rules can't even be read with; their
    shares sum to 1."""
    house = _house_key(rules, pantry)
    found = [(r, v, _resolved(house, r, v, rules, pantry)) for r, v in pairs]
    built = [(r, v, drink) for r, v, drink in found if drink is not None]
    total = sum(r.share for r, _, _ in built)
    even = 1 / len(built) if built else 0.0  # where nothing is known of what sells
    return tuple(
        MenuDrink(r, v, _told(r, drink, r.share / total if total else even))
        for r, v, drink in built
    )


_RESOLVED: dict[str, Drink | None] = {}
_MOST_RESOLVED = 5000


def _house_key(rules: HouseRules, pantry: Pantry) -> str:
    stock = [pantry[slug].model_dump(mode="json") for slug in sorted(pantry)]
    return fingerprint([rules.model_dump(mode="json"), stock])


def _resolved(
    house: str, recipe: Recipe, revision: Revision, rules: HouseRules, pantry: Pantry
) -> Drink | None:
    """Kept by content, never by row: ids come back. None for a glass, pour or ingredient that
    the house doesn't have."""
    key = fingerprint([house, recipe.slug, revision.spec])
    if key in _RESOLVED:
        return _RESOLVED[key]
    drink: Drink | None
    try:
        drink = make_drink(
            slug=recipe.slug, name="", module="", spec=revision.build, rules=rules, pantry=pantry
        )
    except KeyError:
        drink = None
    if len(_RESOLVED) >= _MOST_RESOLVED:
        _RESOLVED.clear()
    _RESOLVED[key] = drink
    return drink


def _told(recipe: Recipe, drink: Drink, share: float) -> Drink:
    """The drink with what its recipe row says of it."""
    return replace(
        drink,
        name=recipe.name,
        module=recipe.module.slug,
        aliases=tuple(recipe.aliases),
        must_know=recipe.must_know,
        share=share,
    )
