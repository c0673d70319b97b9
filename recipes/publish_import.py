"""Many drinks at once, from a sheet: all of them, or none and every reason.

A row whose name a drink has, or is also called by, is that drink's: its build is published anew
where it differs, and an empty cell of other names, of the module or of how the drink stands on the
menu leaves those as they are. A name that is nearly that of a drink is asked about.
"""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from django.db import transaction
from pydantic import ValidationError

from barcourse.people import log
from barcourse.people.models import Membership, Venue
from barcourse.people.reasons import Reason as PeopleReason
from barcourse.people.reasons import Refused
from recipes.grammar.calls import Book
from recipes.grammar.course import fold
from recipes.grammar.glass_fit import in_fitted_glass
from recipes.grammar.ingredients import Pantry
from recipes.grammar.menu_text import heard, key_of
from recipes.grammar.near import near
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.refusals import shape_reasons
from recipes.grammar.rules import Family, family
from recipes.grammar.sheet_rows import House, RecipeRow, new_ingredients, read_rows
from recipes.grammar.sheet_standing import Standing
from recipes.grammar.sheet_text import Sheet
from recipes.grammar.spec import BuildSpec
from recipes.hearing import book_of
from recipes.imported import CannotImport, Imported, Outcome, Taken
from recipes.menu import Menu, menu_at, pantry_of
from recipes.models import Ingredient, Module, Recipe
from recipes.publish import OnMenu, publish_revision, set_menu, standing_of
from recipes.publish_ingredients import Stock, add_ingredient
from recipes.publish_recipes import Card, add_recipe, change_card

CODES = frozenset({"row_twice", "module_untold", "near_drink"})


Meant = Mapping[str, str]
"""What was said of names that are nearly those of drinks, by folded name: the slug of the drink, or
"" for a new one."""
_NOTHING_MEANT: Meant = {}


@dataclass(frozen=True)
class _Names:
    all_new: bool
    meant: Meant


@transaction.atomic
def import_recipes(
    *,
    by: Membership,
    sheet: Sheet,
    at: dt.datetime,
    add_ingredients: bool = False,
    new_names: bool = False,
    meant: Meant = _NOTHING_MEANT,
) -> Imported:
    """Raises `CannotImport` where a single row can't be taken in, `NoRules` in an empty house.
    `new_names`: a name that is nearly that of a drink is a new one, unless `meant` says of it
    which drink it is."""
    found = _go_through(by, sheet, at, add_ingredients, _Names(new_names, meant))
    if found.refused:
        raise CannotImport(found)
    counts = {o.value: len(found.of(o)) for o in (Outcome.ADDED, Outcome.CHANGED)}
    if any(counts.values()):
        facts = {**counts, "ingredients": len(found.ingredients)}
        log.append(venue=by.venue, by=by, kind="recipes_imported", facts=facts, at=at)
    return found


def rehearse_import(
    *,
    by: Membership,
    sheet: Sheet,
    at: dt.datetime,
    add_ingredients: bool = False,
    new_names: bool = False,
    meant: Meant = _NOTHING_MEANT,
) -> Imported:
    """What would become of every row. Nothing stays written."""
    with transaction.atomic():
        found = _go_through(by, sheet, at, add_ingredients, _Names(new_names, meant))
        transaction.set_rollback(True)
    return found


def _go_through(
    by: Membership, sheet: Sheet, at: dt.datetime, add: bool, names: _Names
) -> Imported:
    venue = Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)
    menu = menu_at(venue, at)
    modules = {m.slug: m for m in Module.objects.in_house(venue)}
    house = House(menu.rules, menu.pantry, {slug: m.name for slug, m in modules.items()})
    added = _stock(by, sheet, house, book_of(menu), at) if add else ()
    if added:
        house = replace(house, pantry=pantry_of(venue))
    desk = _Desk(by, at, menu, modules, names, house.pantry)
    rows = tuple(desk.take(row) for row in read_rows(sheet.rows, house, adding=add))
    return Imported(rows, added, sheet.ignored, menu_at(venue, at), menu)


def _stock(
    by: Membership, sheet: Sheet, house: House, book: Book, at: dt.datetime
) -> tuple[Ingredient, ...]:
    """The unknown ingredients, taken in. One whose name a drink has stays unknown."""
    found = []
    for item in new_ingredients(sheet.rows, house):
        try:
            stock = Stock(name=item.name, kind=item.kind, abv=item.abv, colour=item.colour)
            found.append(add_ingredient(by=by, stock=stock, at=at, book=book))
        except Refused:
            continue
    return tuple(found)


class _Desk:
    """Takes in one row after the other, and knows which drinks it has met."""

    def __init__(
        self,
        by: Membership,
        at: dt.datetime,
        menu: Menu,
        modules: dict[str, Module],
        names: _Names,
        pantry: Pantry,
    ) -> None:
        self.by, self.at, self.menu, self.modules = by, at, menu, modules
        recipes = Recipe.objects.in_house(menu.venue).select_related("module")
        self.book = book_of(menu)
        self.known = _by_name(recipes) | _by_answer(recipes, names.meant)
        self.names, self.pantry = names, pantry
        self.met: dict[str, tuple[int, str]] = {}

    def take(self, row: RecipeRow) -> Taken:
        """The row's own savepoint: a refused one leaves nothing behind for the next."""
        if row.reasons:
            return Taken(row.line, row.name, Outcome.REFUSED, reasons=row.reasons)
        reasons: tuple[Reason | PeopleReason, ...]
        near: tuple[str, ...] = ()
        try:
            fitted, glass = self._in_a_glass_that_holds_it(row)
            with transaction.atomic():
                slug, outcome = self._take(fitted)
            return Taken(row.line, row.name, outcome, slug, glass=glass, spec=fitted.spec)
        except _NearError as asked:
            reasons, near = (_on_line(row.line, asked.reasons[0]),), asked.slugs
        except CannotBuild as bad:
            reasons = tuple(_on_line(row.line, reason) for reason in bad.reasons)
        except Refused as no:
            reasons = (no.reason,)
        return Taken(row.line, row.name, Outcome.REFUSED, reasons=reasons, near=near)

    def _in_a_glass_that_holds_it(self, row: RecipeRow) -> tuple[RecipeRow, str]:
        """The row with the glass that it lacks, and which that is; "" where it needs none."""
        build, recipe = build_of(row.spec), self.known.get(fold(row.name))
        if recipe is not None and self._is_built_so(recipe, build):
            return row, ""
        fitted = in_fitted_glass(build, self.menu.rules, self.pantry)
        if fitted is build:
            return row, ""
        spec = {**row.spec, "glass": fitted.glass, "ice": fitted.ice}
        return replace(row, spec=spec), fitted.glass or ""

    def _take(self, row: RecipeRow) -> tuple[str, Outcome]:
        recipe = self.known.get(fold(row.name))
        key = recipe.slug if recipe else fold(row.name)
        if key in self.met:
            line, name = self.met[key]
            raise CannotBuild((Reason.of("row_twice", said=row.name, drink=name, earlier=line),))
        self.met[key] = (row.line, row.name)
        if recipe is None:
            return self._add(row), Outcome.ADDED
        published, changed = self._publish(recipe, row), self._change_card(recipe, row)
        stands = self._stand(recipe, row.standing)
        same = not (published or changed or stands)
        return recipe.slug, Outcome.UNCHANGED if same else Outcome.CHANGED

    def _add(self, row: RecipeRow) -> str:
        if not self.names.all_new and fold(row.name) not in self.names.meant:
            self._refuse_near(row.name)
        said = row.standing
        share = 1.0 if said.share is None else said.share
        card = Card(row.name, self._module(row), row.aliases, share, said.price)
        must_know = bool(said.must_know)
        added = add_recipe(
            by=self.by, card=card, spec=row.spec, at=self.at, must_know=must_know, book=self.book
        )
        self._stand(added, said)
        return added.slug

    def _refuse_near(self, name: str) -> None:
        """One accent, one slip, other small words or another order: asked about."""
        said, named = heard(name), {heard(n): r.slug for n, r in self.known.items()}
        same = {slug for n, slug in named.items() if n == said or key_of(n) == key_of(said)}
        meant = sorted(same) or list(near(said, named))
        if meant:
            names = {r.slug: r.name for r in self.known.values()}
            drinks = " / ".join(names[slug] for slug in meant[:3])
            reason = Reason.of("near_drink", said=name, drink=drinks)
            raise _NearError(reason, tuple(meant[:3]))

    def _stand(self, recipe: Recipe, said: Standing) -> bool:
        """What the row leaves open stays as it is; taken off, it is no must-know either."""
        poured = recipe.is_poured if said.poured is None else said.poured
        must_know = recipe.must_know if said.must_know is None else said.must_know
        if said.poured is None and said.must_know:
            poured = True
        wanted = OnMenu.MUST_KNOW if must_know else OnMenu.POURED
        wanted = wanted if poured else OnMenu.OFF
        if wanted is standing_of(recipe):
            return False
        standing = {recipe.slug: wanted}
        return bool(set_menu(by=self.by, standing=standing, at=self.at))

    def _module(self, row: RecipeRow) -> Module:
        """The one that the row names, else where most drinks of its family are."""
        if row.module:
            return self.modules[row.module]
        return module_of_its_like(self.menu, family(build_of(row.spec)))

    def _publish(self, recipe: Recipe, row: RecipeRow) -> bool:
        """A drink that is built so already may stay, even one that today's rules can't build."""
        if self._is_built_so(recipe, build_of(row.spec)):
            return False
        publish_revision(by=self.by, recipe=recipe, spec=row.spec, at=self.at)
        return True

    def _is_built_so(self, recipe: Recipe, build: BuildSpec) -> bool:
        holding = recipe.revisions.in_effect(self.at).newest_first().first()
        return holding is not None and holding.build == build

    def _change_card(self, recipe: Recipe, row: RecipeRow) -> bool:
        module = self.modules[row.module] if row.module else recipe.module
        aliases = tuple(recipe.aliases)
        if row.aliases:
            aliases = row.aliases
            if fold(row.name) != fold(recipe.name):
                aliases = (row.name, *aliases)  # the name that the row itself has for it
        price = recipe.price if row.standing.price is None else row.standing.price
        share = recipe.share if row.standing.share is None else row.standing.share
        wanted = (module, aliases, share, price)
        if wanted == (recipe.module, tuple(recipe.aliases), recipe.share, recipe.price):
            return False
        card = Card(recipe.name, module, aliases, share, price)
        return bool(change_card(by=self.by, recipe=recipe, card=card, at=self.at, book=self.book))


class _NearError(CannotBuild):
    def __init__(self, reason: Reason, slugs: tuple[str, ...]) -> None:
        super().__init__((reason,))
        self.slugs = slugs


def _by_answer(recipes: Iterable[Recipe], meant: Meant) -> dict[str, Recipe]:
    by_slug = {r.slug: r for r in recipes}
    return {name: by_slug[slug] for name, slug in meant.items() if slug in by_slug}


def _by_name(recipes: Iterable[Recipe]) -> dict[str, Recipe]:
    """By everything that drinks are called; a name beats another drink's other name."""
    rows = list(recipes)
    named = {fold(r.name): r for r in rows}
    return {fold(alias): r for r in rows for alias in r.aliases} | named


def build_of(spec: Mapping[str, Any]) -> BuildSpec:
    """The recipe by itself, before any house is asked whether it can build it."""
    try:
        return BuildSpec.model_validate(spec)
    except ValidationError as bad:
        raise CannotBuild(shape_reasons(bad)) from bad


def module_of_its_like(menu: Menu, kind: Family) -> Module:
    """Where most poured drinks of this family are; `CannotBuild` where there is none yet."""
    alike = Counter(i.recipe.module for i in menu.items if i.drink.spec.family is kind)
    if not alike:
        raise CannotBuild((Reason.of("module_untold"),))
    return alike.most_common(1)[0][0]


def _on_line(line: int, reason: Reason) -> Reason:
    return Reason.of(reason.code, **{**reason.values, "line": line})
