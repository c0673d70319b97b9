"""Names on the till that somebody told, also where a size or a change stands beside them.

Told once that "pub kola" is the house's whiskey and cola, nobody is asked about "pub kola double"
or "large pub kola no ice": the words beside the name change how it is served and not what it is.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from recipes.grammar.calls.reading import AskKind, CalledDrink, What
from recipes.grammar.course import fold
from recipes.grammar.ingredients import LiquorClass
from recipes.grammar.spec import Method
from recipes.grammar.till_names import as_called, is_alcohol_free, vessel, with_and, without_and
from recipes.grammar.till_packs import Several, several
from recipes.hearing import hear_on
from recipes.menu import Menu
from recipes.models import Recipe


@dataclass(frozen=True)
class Meant:
    """What somebody told of a name, no recipe for nothing that is taught. One sale is `each`
    drinks."""

    recipe: Recipe | None = None
    each: int = 1


Meanings = Mapping[str, Meant]
"""What names were told to mean."""

ANOTHER = frozenset({What.VIRGIN, What.BASE, What.MIXER, What.BACK, What.CALL, What.PREMIUM})
"""Changes that make another drink of it: a virgin one sells nothing of its namesake."""
_ADDED = frozenset({What.WITH, What.SPLASH, What.DASH})
"""Changes that do where something is poured that isn't in it; with a garnish it is as served."""
TRIED = 3
"""Drinks beside which words are tried that stand by a name of nothing taught."""


def is_another(drink: CalledDrink, menu: Menu) -> bool:
    """Whether it was called with a change after which it is no longer the drink of that name."""
    found = menu.by_slug.get(drink.recipe or "")
    own = {part.ingredient for part in found.drink.spec.parts} if found else set()
    return any(
        change.what in ANOTHER
        or (change.what in _ADDED and _is_poured(change.item, menu) and change.item not in own)
        or (change.what is What.NO and _is_poured(change.item, menu) and change.item in own)
        for change in drink.changes
    )


def holds_more(said: str, recipe: str | None, menu: Menu) -> bool:
    """Whether the name says several glasses of this drink, or the bottle that it is poured from.
    What is only opened is sold in its bottle, and a drink may be named by what it is sold in."""
    word, found = vessel(said), menu.by_slug.get(recipe or "")
    if not word or found is None or found.drink.spec.method is Method.OPEN:
        return False
    names = fold(" ".join((found.drink.name, *found.drink.aliases)))
    return word not in names


def _is_poured(item: str, menu: Menu) -> bool:
    thing = menu.pantry.get(item)
    return thing is not None and thing.liquor_class is not LiquorClass.SOLID


def told_within(said: str, menu: Menu, told: Meanings) -> str:
    """The longest told name in it beside which the rest only says how it is served; else "". Its
    plural is that name too, and so is it with other marks."""
    by_letters = {plain(name): name for name in sorted(told, reverse=True)}
    for part, before, after in parts(said.split()):
        name = _called(part, told, by_letters)
        if name and (not (before or after) or only_served(before, after, menu, told[name].recipe)):
            return name
    return ""


def told_alike(many: Several, told: Meanings) -> str:
    """The told name that says the same in another spelling: "madras x2" for "2 x madras"; else
    "". Its answer holds for both."""
    for name in sorted(told):
        other = several(name)
        if other and _as_counted(other) == _as_counted(many):
            return name
    return ""


def _as_counted(many: Several) -> tuple[object, ...]:
    return many.each, many.how, plain(many.rest)


def plain(said: str) -> str:
    """Its letters and figures alone, without "and"."""
    return without_and(said)


def told_as(said: str, told: Meanings) -> str:
    """The told name that it is, also with another word or mark for "and"; else ""."""
    if said in told or " and " not in with_and(said):
        return said if said in told else ""
    return next((name for name in sorted(told) if plain(name) == plain(said)), "")


def _called(part: str, told: Meanings, by_letters: Mapping[str, str]) -> str:
    """The told name that these words are, also as its plural; else ""."""
    if part in told:
        return part
    return next((by_letters[way] for way in spellings(part) if way and way in by_letters), "")


def spellings(part: str) -> tuple[str, ...]:
    """By letters alone: as it stands, and what it is the plural of."""
    letters = plain(part)
    return letters, *(letters.removesuffix(end) for end in ("s", "es") if letters.endswith(end))


def parts(words: list[str]) -> Iterator[tuple[str, str, str]]:
    """Every run of words, longest first, with what stands around it."""
    for length in range(len(words), 0, -1):
        for at in range(len(words) - length + 1):
            runs = words[at : at + length], words[:at], words[at + length :]
            part, before, after = (" ".join(run) for run in runs)
            yield part, before, after


def only_served(before: str, after: str, menu: Menu, recipe: Recipe | None) -> bool:
    """Whether the words around a name of this drink, or of no known one, change nothing else."""
    if is_alcohol_free(before) or is_alcohol_free(after):
        return False
    if recipe is not None:
        if holds_more(f"{before} {after}", recipe.slug, menu):
            return False
        return recipe.slug in menu.by_slug and _is_served(before, after, menu, recipe.slug)
    return any(_is_served(before, after, menu, i.drink.slug) for i in menu.items[:TRIED])


def _is_served(before: str, after: str, menu: Menu, slug: str) -> bool:
    """Whether the words around a drink leave it that drink, one of it, and are all placed."""
    reading = hear_on(as_called(f"{before} {menu.by_slug[slug].drink.name} {after}".strip()), menu)
    asks = any(q.kind is AskKind.IDENTITY for q in reading.ask)
    if len(reading.drinks) != 1 or reading.unplaced or reading.read_as or asks:
        return False
    [drink] = reading.drinks
    return drink.recipe == slug and drink.count == 1 and not is_another(drink, menu)
