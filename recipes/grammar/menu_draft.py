"""A new drink as a line of a menu lists it: parts to be looked over, never to be believed.

A menu names no amounts. What a spirit or liqueur has is a pour and what is fizzy or a juice fills
the glass; all else is a guess (common practice, no source), and said to be one.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from recipes.grammar.ingredients import Ingredient, Kind, LiquorClass
from recipes.grammar.kinds import new_ingredient
from recipes.grammar.lines import write_amount
from recipes.grammar.menu_book import MIXERS, Book, is_base
from recipes.grammar.menu_text import spoken_ingredients
from recipes.grammar.refusals import LOW_ABV

OUNCE_ML = 30
"""What a metric list writes for an ounce (common practice, no source)."""
_OUNCES = {
    Kind.CITRUS: 0.75,
    Kind.SYRUP: 0.5,
    Kind.SOUR_MIX: 1.5,
    Kind.DAIRY: 1.0,
    Kind.COFFEE: 1.0,
    Kind.EGG: 0.5,
    Kind.LOW_NO: 1.5,
    Kind.WINE: 1.0,
}
"""Guesses by kind, in fluid ounces (common practice, no source)."""
_FIZZY = frozenset({Kind.SPARKLING, Kind.BEER, Kind.CIDER})
_WET_PANTRY = frozenset({"brine", "sugar", "syrup"})
_THINGS = re.compile(r"[,;|/&+]|\s(?:and|or|with)\s")


@dataclass(frozen=True)
class Draft:
    """Lines of parts, slugs of garnish, and what the house doesn't have as the menu writes it: with
    a line in `parts` too where its name tells what kind of thing it is."""

    parts: tuple[str, ...]
    garnish: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()


def listed_things(text: str, book: Book) -> tuple[list[tuple[str, str]], tuple[str, ...]]:
    """What a list names, and the things in it that name nothing: "honey syrup" is no syrup of
    another kind, while a spirit with a strange word before it is that spirit."""
    found, unknown = list[tuple[str, str]](), list[str]()
    for thing in _THINGS.split(text):
        said, unread = spoken_ingredients(thing, book.ingredients)
        if unread and not any(is_base(book.pantry[slug]) for slug, _word in said):
            unknown.append(" ".join(thing.split()).strip(" .)("))
        else:
            found += said
            unknown += unread
    return found, tuple(dict.fromkeys(name for name in unknown if name))


def draft(said: Sequence[tuple[str, str]], unknown: Iterable[str], book: Book) -> Draft:
    """Base first, then what is measured, then what tops it."""
    items = list(dict.fromkeys(slug for slug, _word in said))
    stock = [book.pantry[slug] for slug in items]
    news = [item for name in unknown if (item := new_ingredient(name, set(book.pantry)))]
    every = [*stock, *news]
    alone = len(every) == 1
    tops = [i for i in every if _tops(i, alone)]
    garnish = [i for i in every if _is_garnish(i)]
    sour = [juice for i in garnish if not tops and (juice := _juice_of(i, book))]
    rest = [i for i in every if i not in tops and i not in garnish] + sour
    rest = sorted(dict.fromkeys(rest, True), key=lambda i: not is_base(i))
    juiced = {book.core(juice.slug) for juice in sour}
    lines = [_measured(i, book, alone) for i in rest] + [f"top {i.name}" for i in tops]
    if every and all(i.abv <= LOW_ABV for i in every):
        lines.append("no alcohol")
    on_it = tuple(i.slug for i in garnish if book.core(i.slug) not in juiced)
    return Draft(tuple(lines), on_it, tuple(unknown))


def _tops(item: Ingredient, alone: bool) -> bool:
    return item.kind in MIXERS or (item.kind in _FIZZY and not alone)


def _is_garnish(item: Ingredient) -> bool:
    if item.kind in (Kind.FRUIT, Kind.HERB, Kind.RIM):
        return True
    return item.kind is Kind.PANTRY and not _WET_PANTRY & set(item.name.split())


def _juice_of(item: Ingredient, book: Book) -> Ingredient | None:
    """ "Lime" where nothing tops the drink is meant as its juice."""
    juice = book.pantry.get(f"{book.core(item.slug)}-juice")
    return juice if juice is not None and juice.kind is Kind.CITRUS else None


def _measured(item: Ingredient, book: Book, alone: bool) -> str:
    if item.kind in (Kind.DASH_BITTERS, Kind.SAUCE):
        return f"2 dashes {item.name}"
    if item.kind is Kind.PANTRY:
        return f"1 teaspoon {item.name}"
    pours = item.liquor_class in (LiquorClass.SPIRIT, LiquorClass.LIQUEUR, LiquorClass.FORTIFIED)
    if pours or (alone and item.kind not in _OUNCES) or (alone and item.kind is Kind.WINE):
        return f"1 pour {item.name}"
    ounces = _OUNCES.get(item.kind, 0.5)
    if book.metric:
        return f"{write_amount(ounces * OUNCE_ML)} ml {item.name}"
    return f"{write_amount(ounces)} fl oz {item.name}"
