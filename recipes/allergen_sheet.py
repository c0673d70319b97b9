"""What the house knows of the allergens in a drink, checked when and by whom.

Unknown is said as unknown. Nothing here ever says that a drink is free of anything.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from django.utils.formats import date_format
from django.utils.timezone import localtime
from django.utils.translation import gettext as _

from barcourse.people.models import Venue
from recipes.grammar.allergens import EU_14, US_9, listed
from recipes.grammar.ingredients import Kind
from recipes.grammar.rules import HouseRules
from recipes.menu import MenuDrink
from recipes.models import Ingredient
from recipes.off_tonight import OffDrink, Tonight, ingredients_of
from recipes.off_words import instead, off_sheet, swaps_in, would_stand_in
from recipes.shelves import answers_to, plain
from recipes.stock import allergens_said
from recipes.wording import allergen_label, label


@dataclass(frozen=True)
class LabelSheet:
    """What may be said of the allergens of one ingredient, and who read its label and when;
    `checked` is empty where nobody of the house has entered that."""

    slug: str
    name: str
    said: str
    checked: str
    stands_in: bool = False


@dataclass(frozen=True)
class StandIn:
    """Something of a drink that is out, in a sentence; `label` is that of what stands in."""

    said: str
    label: LabelSheet | None


@dataclass(frozen=True)
class DrinkLabels:
    """A drink as it is served tonight: `known` is everything that the house knows to be in it.
    `tonight` is what of it is out, `why_off` why it is off."""

    name: str
    slug: str
    known: tuple[str, ...]
    has_unknown: bool
    is_off: bool
    labels: tuple[LabelSheet, ...]
    tonight: tuple[StandIn, ...] = ()
    why_off: tuple[str, ...] = ()


@dataclass(frozen=True)
class Holding:
    """A drink by one allergen: `by` names what of it holds that, or what nobody has checked."""

    name: str
    slug: str
    by: str


@dataclass(frozen=True)
class ByAllergen:
    label: str
    known: tuple[Holding, ...]
    unknown: tuple[Holding, ...]


Stock = Mapping[str, Ingredient]


def stock(venue: Venue) -> Stock:
    """Every ingredient of the house by slug, with who read its label; one query."""
    return {row.slug: row for row in Ingredient.objects.in_house(venue).with_checker().by_name()}


def label_sheet(row: Ingredient, *, stands_in: bool = False) -> LabelSheet:
    said = allergens_said(row)
    if row.checked_by is None or row.checked_at is None:
        return LabelSheet(row.slug, row.name, said, "", stands_in)
    told = {"who": row.checked_by.name, "day": date_format(localtime(row.checked_at))}
    if row.label_is_older:
        checked = _("Label of the bottle before read by %(who)s on %(day)s.") % told
    else:
        checked = _("Label read by %(who)s on %(day)s.") % told
    return LabelSheet(row.slug, row.name, said, checked, stands_in)


def drink_labels(item: MenuDrink, tonight: Tonight, rows: Stock) -> DrinkLabels:
    """Every ingredient, garnish and rim too, as served tonight; a drink that is off as the book
    has it."""
    served = tonight.serve(item)
    is_off = isinstance(served, OffDrink)
    now = item if isinstance(served, OffDrink) else served
    before = set(ingredients_of(item.drink.spec))
    used = [rows[slug] for slug in ingredients_of(now.drink.spec) if slug in rows]
    return DrinkLabels(
        name=item.drink.name,
        slug=item.drink.slug,
        known=tuple(allergen_label(a) for a in _known(used)),
        has_unknown=any(row.label_is_unread for row in used),
        is_off=is_off,
        tonight=tuple(_stand_ins(item, tonight, rows)),
        why_off=off_sheet(served, tonight).why if isinstance(served, OffDrink) else (),
        labels=tuple(label_sheet(row, stands_in=row.slug not in before) for row in used),
    )


def by_allergen(slug: str, tonight: Tonight, rows: Stock) -> ByAllergen:
    """Drinks of tonight that are known to hold it, and those of which nobody can say."""
    known, unknown = [], []
    for item in tonight.menu.items:
        served = tonight.serve(item)
        if isinstance(served, OffDrink):
            continue
        used = [rows[s] for s in ingredients_of(served.drink.spec) if s in rows]
        if by := [row.name for row in used if slug in (row.allergens or ())]:
            known.append(Holding(item.drink.name, item.drink.slug, ", ".join(by)))
        elif by := [row.name for row in used if row.label_is_unread]:
            unknown.append(Holding(item.drink.name, item.drink.slug, ", ".join(by)))
    return ByAllergen(allergen_label(slug), tuple(known), tuple(unknown))


def choices(country: str, rows: Stock) -> list[tuple[str, str]]:
    """(slug, label) of the country's list and of whatever else this house has entered."""
    entered = {a for row in rows.values() for a in row.allergens or ()}
    return sorted(((a, allergen_label(a)) for a in listed(country) | entered), key=lambda c: c[1])


def law_words(country: str) -> str:
    found = listed(country)
    if found == US_9:
        return _("The nine that the law of the United States names, and what else was entered.")
    if found == EU_14:
        return _("The fourteen that European law names, and what else was entered.")
    return _("What European law or that of the United States names; local law may name others.")


def drinks_found(tonight: Tonight, find: str) -> list[MenuDrink]:
    return [item for item in tonight.menu.items if answers_to(item.recipe, find)]


def ingredients_found(rows: Stock, rules: HouseRules, find: str) -> list[Ingredient]:
    """By name, other name, any word of it, its kind, or what the house means by the word."""
    wanted = plain(find)
    meant = {slug for word, slug in rules.slang.items() if plain(word) == wanted}
    return [row for row in rows.values() if row.slug in meant or _answers(row, wanted)]


def _answers(row: Ingredient, wanted: str) -> bool:
    names = (row.name, *row.aliases, str(label(Kind(row.kind))))
    return any(wanted in plain(name) for name in names)


def allergens_found(of: Iterable[tuple[str, str]], find: str) -> list[tuple[str, str]]:
    """(slug, label) of allergens that answer to the word."""
    return [(slug, said) for slug, said in of if plain(find) in plain(said)]


def _stand_ins(item: MenuDrink, tonight: Tonight, rows: Stock) -> Iterator[StandIn]:
    """Where the drink is off, why it is says what is out; here is what would stand in."""
    is_off = isinstance(tonight.serve(item), OffDrink)
    for out, use in swaps_in(item, tonight):
        row = rows.get(use.slug) if use else None
        if row is not None:
            said = would_stand_in(out, row.name) if is_off else f"{instead(out, use)}."
            yield StandIn(said, label_sheet(row, stands_in=True))
        elif not is_off:
            yield StandIn(f"{instead(out, None)}.", None)


def _known(rows: Iterable[Ingredient]) -> list[str]:
    return list(dict.fromkeys(a for row in rows for a in row.allergens or ()))
