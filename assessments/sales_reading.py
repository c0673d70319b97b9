"""A name on the till, read as a guest's call would be: which drink of the house it is.

Which drink it is must be certain; how it is served doesn't matter here. So a question about
identity blocks, and what it leaves open is proposed, likeliest first; one about size or garnish
doesn't.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from assessments.models.sales import LONGEST_NAME, Place
from recipes.grammar.calls import About, AskKind, Reading, What
from recipes.grammar.course import fold
from recipes.grammar.drink import Drink
from recipes.grammar.till_names import spoken
from recipes.hearing import hear_on
from recipes.menu import Menu

MOST_PROPOSED = 6
_NO_NAME = frozenset({"and", "the", "with", "double", "glass", "bottle", "alcohol", "free"})
"""Words that many names share."""
_FREE = frozenset({"na", "zero", "free", "virgin", "alkoholfrei"})
"""Words of what has no alcohol: nothing that has any is proposed for it."""


ANOTHER = frozenset({What.VIRGIN, What.BASE, What.MIXER})
"""Changes that make another drink of it: a virgin one sells nothing of its namesake."""


@dataclass(frozen=True)
class Heard:
    """`recipe` where it is certain; else what may have been meant, and whether the first of that
    is likely enough to be offered with a tick. `place` says what becomes of the line; `read_as`
    which words were taken for others; `each` how many drinks the name itself tells of."""

    place: Place
    recipe: str | None = None
    proposed: tuple[str, ...] = ()
    likely: bool = False
    read_as: tuple[tuple[str, str], ...] = ()
    each: int = 1


def name_of(item: str, size: str = "") -> str:
    """How a name on the till is kept: lower case, without the till's marks."""
    return (spoken(item, size) or item.strip() or size).casefold()[:LONGEST_NAME].strip()


def heard(said: str, menu: Menu) -> Heard:
    """What a kept name means on this menu. The very name of one drink is that drink, whatever a
    guest who says it would be asked: on the till somebody pressed its button."""
    if len(own := _named(said, menu)) == 1:
        return Heard(Place.MAPPED, own[0])
    reading = hear_on(said, menu)
    recipes = {drink.recipe for drink in reading.drinks}
    open_ = [q for q in reading.ask if q.kind is AskKind.IDENTITY]
    read_as = tuple((r.said, r.meant) for r in reading.read_as)
    another = any(c.what in ANOTHER for drink in reading.drinks for c in drink.changes)
    if reading.drinks and len(recipes) == 1 and not (open_ or reading.unplaced or another):
        [recipe] = recipes
        if recipe in menu.by_slug:
            return Heard(Place.MAPPED, recipe, read_as=read_as, each=reading.count)
        if all(drink.build for drink in reading.drinks):
            return Heard(Place.UNTAUGHT, read_as=read_as)
    if _is_off_the_menu(said, menu):
        return Heard(Place.UNTAUGHT, read_as=read_as)
    if another or _FREE & {*fold(said).split()}:
        free = [s for s in _sharing_words(said, menu) if menu.by_slug[s].drink.spec.alcohol_free]
        return Heard(Place.WAITING, None, tuple(free)[:MOST_PROPOSED], bool(free), read_as)
    proposed = dict.fromkeys(slug for slug in _proposed(said, reading, menu) if slug)
    likely = bool(proposed) and (bool(recipes - {None}) or not reading.unplaced)
    if not likely:
        proposed |= dict.fromkeys(_sharing_words(said, menu))
    return Heard(Place.WAITING, None, tuple(proposed)[:MOST_PROPOSED], likely, read_as)


def _named(said: str, menu: Menu) -> list[str]:
    drinks = (item.drink for item in menu.items)
    return [d.slug for d in drinks if fold(said) in {fold(n) for n in (d.name, *d.aliases)}]


def _is_off_the_menu(said: str, menu: Menu) -> bool:
    """The very name of a drink in the book that is not sold now."""
    names = {fold(name) for drink in menu.unsold for name in (drink.name, *drink.aliases)}
    return fold(said) in names


def _proposed(said: str, reading: Reading, menu: Menu) -> Iterator[str | None]:
    """Drinks that were understood, that a question offers, that an answer to it makes, that the
    words that nobody placed come near."""
    taught = menu.by_slug
    yield from (drink.recipe for drink in reading.drinks if drink.recipe in taught)
    for question in reading.ask:
        if question.about is About.DRINK:
            yield from (slug for slug in question.choices if slug in taught)
        elif question.kind is AskKind.IDENTITY:
            yield from (_answered(said, choice, menu) for choice in question.choices)
    yield from (slug for slug in reading.did_you_mean if slug in taught)


def _sharing_words(said: str, menu: Menu) -> list[str]:
    """Drinks whose names have words of this one in them, most first; then those poured from what
    it names; of as many, what sells best."""
    words = {word for word in fold(said).split() if len(word) > 2} - _NO_NAME
    shared = {
        item.drink.slug: (
            len(words & set(fold(item.drink.name).split())),
            len(words & _poured(item.drink, menu)),
        )
        for item in menu.items
    }
    found = [item.drink for item in menu.items if any(shared[item.drink.slug])]
    found.sort(key=lambda d: (*(-n for n in shared[d.slug]), -d.share, d.slug))
    return [drink.slug for drink in found]


def _poured(drink: Drink, menu: Menu) -> set[str]:
    names = (menu.names.get(part.ingredient, "") for part in drink.spec.parts)
    return {word for name in names for word in fold(name).split()}


def _answered(said: str, choice: str, menu: Menu) -> str | None:
    """The drink that the name is with this ingredient said before it."""
    if choice not in menu.pantry:
        return None
    drinks = hear_on(f"{menu.pantry[choice].name} {said}", menu).drinks
    found = drinks[0].recipe if len(drinks) == 1 else None
    return found if found in menu.by_slug else None
