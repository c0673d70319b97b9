"""What the house stocks: added, changed, its label read, removed.

Every verb is one transaction with its log entry, and refuses with `Refused` (words in
`words_editing`) or, where a drink could no longer be built, with `CannotBuild`.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from decimal import Decimal

from django.db import transaction

from barcourse.people import log
from barcourse.people.models import Membership, Venue
from barcourse.people.reasons import refuse
from recipes.grammar.allergens import ALLERGENS
from recipes.grammar.calls import Book
from recipes.grammar.ingredients import Kind, Step
from recipes.grammar.reasons import CannotBuild
from recipes.in_effect import broken_from
from recipes.menu import pantry_of
from recipes.models import Ingredient, Recipe, Revision, RulesVersion
from recipes.naming import free_slug, refuse_taken_names, tidy_aliases
from recipes.uses import drinks_with, rules_with, was_ever_off

CODES = frozenset(
    {
        "not_an_allergen",
        "ingredient_in_use",
        "ingredient_in_rules",
        "ingredient_on_record",
        "bottle_of_nothing",
        "bottle_of_another_kind",
        "bottle_of_a_bottle",
        "bottle_of_itself",
        "bottles_of_it",
        "step_without_like",
    }
)


_ANOTHER_BOTTLE = frozenset({"name", "kind", "abv", "bottle_ml"})


@dataclass(frozen=True)
class Stock:
    """What may be typed of an ingredient. `abv` in percent by volume, `density` in g/ml."""

    name: str
    kind: Kind
    abv: float = 0.0
    colour: str = "#f4f1e6"
    density: float | None = None
    aliases: tuple[str, ...] = ()
    bottle_ml: float | None = None
    bottle_price: Decimal | None = None
    step: Step = Step.HOUSE
    bottle_of: str = ""


@transaction.atomic
def add_ingredient(
    *, by: Membership, stock: Stock, at: dt.datetime, book: Book | None = None
) -> Ingredient:
    """A new one, of whose allergens nobody knows anything yet."""
    venue = _lock(by)
    aliases = tidy_aliases(stock.name, stock.aliases)
    refuse_taken_names(venue, stock.name, aliases, at=at, kind=stock.kind, book=book)
    _refuse_odd_bottle(venue, stock)
    slug = free_slug(Ingredient, venue, stock.name, "ingredient")
    row = Ingredient.objects.create(venue=venue, slug=slug, **_columns(stock, aliases))
    log.append(venue=venue, by=by, kind="ingredient_added", facts={"ingredient": slug}, at=at)
    return row


@transaction.atomic
def change_ingredient(
    *,
    by: Membership,
    ingredient: Ingredient,
    stock: Stock,
    at: dt.datetime,
    another_bottle: bool = False,
) -> list[str]:
    """Gives the names of what changed. `CannotBuild` where a poured drink needs it as it was.

    Said to be another bottle, or with another name, kind, strength or size, it is one whose label
    nobody has read yet.
    """
    venue = _lock(by)
    row = Ingredient.objects.get(pk=ingredient.pk)
    aliases = tidy_aliases(stock.name, stock.aliases)
    parts = [row.slug]
    refuse_taken_names(venue, stock.name, aliases, at=at, besides=row, parts=parts, kind=stock.kind)
    _refuse_odd_bottle(venue, stock, row)
    wanted = _columns(stock, aliases)
    changed = [field for field, value in wanted.items() if getattr(row, field) != value]
    told_otherwise = {field for field in changed if getattr(row, field) is not None}
    if another_bottle or _ANOTHER_BOTTLE & told_otherwise:
        wanted["bottle_changed_at"] = at
        changed.append("bottle_changed_at")
    if not changed:
        return []
    for field in changed:
        setattr(row, field, wanted[field])
    row.save(update_fields=changed)
    if {"kind", "abv"} & set(changed):
        _refuse_unbuildable(venue, at)
    facts = {"ingredient": row.slug, "changed": changed}
    log.append(venue=venue, by=by, kind="ingredient_changed", facts=facts, at=at)
    return changed


@transaction.atomic
def read_label(
    *, by: Membership, ingredient: Ingredient, allergens: Iterable[str], at: dt.datetime
) -> Ingredient:
    """`by` has the bottle in hand and says what its label names; none is an answer too."""
    found = sorted(set(allergens))
    for allergen in found:
        if allergen not in ALLERGENS:
            raise refuse("not_an_allergen", "allergens", said=allergen)
    venue = _lock(by)
    row = Ingredient.objects.get(pk=ingredient.pk)
    row.allergens, row.checked_by, row.checked_at = found, by, at
    row.save(update_fields=["allergens", "checked_by", "checked_at"])
    facts = {"ingredient": row.slug, "allergens": found}
    log.append(venue=venue, by=by, kind="label_read", facts=facts, at=at)
    return row


@transaction.atomic
def remove_ingredient(*, by: Membership, ingredient: Ingredient, at: dt.datetime) -> None:
    """Gone, if nothing has ever been built with it: what is on record must stay readable."""
    venue = _lock(by)
    drinks = drinks_with(venue, ingredient.slug, at)
    if drinks:
        raise refuse("ingredient_in_use", item=ingredient.name, drinks=", ".join(drinks))
    if rules_with(venue, ingredient.slug, at):
        raise refuse("ingredient_in_rules", item=ingredient.name)
    if drinks_with(venue, ingredient.slug) or rules_with(venue, ingredient.slug):
        raise refuse("ingredient_on_record", item=ingredient.name)
    bottles = Ingredient.objects.in_house(venue).bottles_of(ingredient.slug).by_name()
    if bottles:
        raise refuse("bottles_of_it", item=ingredient.name, bottles=_names(bottles))
    if was_ever_off(ingredient):
        raise refuse("ingredient_on_record", item=ingredient.name)
    Ingredient.objects.get(pk=ingredient.pk).delete()
    facts = {"ingredient": ingredient.slug}
    log.append(venue=venue, by=by, kind="ingredient_removed", facts=facts, at=at)


def _lock(by: Membership) -> Venue:
    return Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)


def _columns(stock: Stock, aliases: tuple[str, ...]) -> dict[str, object]:
    told = {"kind": stock.kind.value, "step": stock.step.value, "aliases": list(aliases)}
    return {**asdict(stock), **told}


def _refuse_odd_bottle(venue: Venue, stock: Stock, row: Ingredient | None = None) -> None:
    """A bottle is of something that the house has, of its own kind, and that is no bottle of
    something else; and what has bottles stays of their kind."""
    rows = Ingredient.objects.in_house(venue)
    of = rows.named([stock.bottle_of]).first() if stock.bottle_of else None
    told = {"item": stock.name, "of": of.name if of else stock.bottle_of}
    if stock.bottle_of and of is None:
        raise refuse("bottle_of_nothing", "bottle_of", **told)
    if of is None and stock.step is not Step.HOUSE:
        raise refuse("step_without_like", "step", **told)
    if of is not None and of == row:
        raise refuse("bottle_of_itself", "bottle_of", **told)
    if of is not None and of.kind != stock.kind:
        raise refuse("bottle_of_another_kind", "bottle_of", **told)
    if of is not None and of.bottle_of:
        raise refuse("bottle_of_a_bottle", "bottle_of", **told)
    bottles = rows.bottles_of(row.slug).by_name() if row else ()
    told["bottles"] = _names(bottles)
    if of is not None and bottles:
        raise refuse("bottle_of_a_bottle", "bottle_of", **told)
    if any(bottle.kind != stock.kind for bottle in bottles):
        raise refuse("bottles_of_it", "kind", **told)


def _names(rows: Iterable[Ingredient]) -> str:
    return ", ".join(row.name for row in rows)


def _refuse_unbuildable(venue: Venue, at: dt.datetime) -> None:
    """Called once the row is written, so that the pantry is the new one."""
    of: dict[int, list[Revision]] = {}
    for revision in Revision.objects.in_house(venue):
        of.setdefault(revision.recipe_id, []).append(revision)
    poured = Recipe.objects.in_house(venue).on_menu(at).select_related("module")
    revisions = {recipe: of.get(recipe.pk, []) for recipe in poured}
    versions = list(RulesVersion.objects.in_house(venue))
    if reasons := broken_from(at, revisions, versions, pantry_of(venue)):
        raise CannotBuild(reasons)
