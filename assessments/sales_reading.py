"""A name on the till, read as a guest's call would be: which drink of the house it is.

Which drink it is must be certain; how it is served doesn't matter here. So a question about
identity blocks, and what it leaves open is proposed, likeliest first; one about size or garnish
doesn't.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from types import MappingProxyType

from assessments.models.sales import LONGEST_NAME, Place
from assessments.sales_proposed import propose
from assessments.sales_told import Meanings, holds_more, is_another, told_several, told_within
from recipes.grammar.calls import AskKind, CalledDrink, Reading
from recipes.grammar.course import fold
from recipes.grammar.till_names import as_called, is_alcohol_free, spoken
from recipes.hearing import hear_on
from recipes.menu import Menu
from recipes.models import Recipe

NOTHING_TOLD: Meanings = MappingProxyType[str, Recipe | None]({})


@dataclass(frozen=True)
class Heard:
    """`recipe` where it is certain; else what may have been meant, and whether the first of that
    is likely enough to be offered with a tick. `place` says what becomes of the line; `read_as`
    which words were taken for others; `each` how many drinks the name itself tells of, where nobody
    can know how many were poured; `by_word` whether somebody told so."""

    place: Place
    recipe: Recipe | None = None
    proposed: tuple[str, ...] = ()
    likely: bool = False
    read_as: tuple[tuple[str, str], ...] = ()
    each: int = 1
    by_word: bool = False

    @property
    def slug(self) -> str | None:
        return self.recipe.slug if self.recipe else None


def name_of(item: str, size: str = "") -> str:
    """How a name on the till is kept: lower case, without the till's marks."""
    return (spoken(item, size) or item.strip() or size).casefold()[:LONGEST_NAME].strip()


def heard(said: str, menu: Menu, told: Meanings = NOTHING_TOLD) -> Heard:
    """What a kept name means on this menu. What was told of it wins over what is read; what is
    certain by itself over what a told name within it says."""
    if said in told:
        return _as_told(told[said])
    one = _read(said, menu)
    if one.place is Place.WAITING and (part := told_within(said, menu, told)):
        return _as_told(told[part])
    if one.place is Place.WAITING and (several := told_several(said, menu, told)):
        part, each = several
        recipe = told[part]
        if recipe is None:
            return _as_told(recipe)
        if recipe.slug in menu.by_slug:
            return replace(one, proposed=(recipe.slug,), likely=True, each=each)
    return one


def _as_told(recipe: Recipe | None) -> Heard:
    return Heard(Place.MAPPED if recipe else Place.NOT_OURS, recipe, by_word=True)


def _read(said: str, menu: Menu) -> Heard:
    """The very name of one drink is that drink, whatever a guest who says it would be asked: on the
    till somebody pressed its button. So is one that is read without a question of identity, a
    change that makes another drink, or a word for what has no alcohol."""
    if len(own := _named(said, menu)) == 1:
        return Heard(Place.MAPPED, menu.by_slug[own[0]].recipe)
    reading = hear_on(as_called(said), menu)
    read_as = tuple((r.said, r.meant) for r in reading.read_as)
    if reading.drinks and not _is_open(said, reading, menu):
        recipe = reading.drinks[0].recipe
        if recipe in menu.by_slug and _tells_several(said, reading.count):
            return Heard(Place.WAITING, None, (recipe,), True, read_as, reading.count)
        if recipe in menu.by_slug:
            return Heard(Place.MAPPED, menu.by_slug[recipe].recipe, read_as=read_as)
        if all(drink.build for drink in reading.drinks):
            return Heard(Place.UNTAUGHT, read_as=read_as)
    if _is_off_the_menu(said, menu):
        return Heard(Place.UNTAUGHT, read_as=read_as)
    proposed, likely = propose(said, reading, menu)
    likely = likely and not any(holds_more(said, slug, menu) for slug in proposed[:1])
    return Heard(Place.WAITING, None, proposed, likely, read_as)


_TIMES = re.compile(r"\d\s*x\b|\bx\s*\d|\(\s*\d+\s*\)")


def _tells_several(said: str, count: int) -> bool:
    """A bare figure is a size: "draught lager 16" is one of sixteen ounces."""
    is_bare = str(count) in said.split() and not _TIMES.search(said)
    return count > 1 and not is_bare


def _is_open(said: str, reading: Reading, menu: Menu) -> bool:
    """Whether it may be another drink than the one that was understood."""
    if len({drink.recipe for drink in reading.drinks}) != 1 or reading.unplaced:
        return True
    if any(q.kind is AskKind.IDENTITY for q in reading.ask):
        return True
    if is_alcohol_free(said) and not all(_has_no_alcohol(drink) for drink in reading.drinks):
        return True
    return any(
        is_another(drink, menu) or holds_more(said, drink.recipe, menu) for drink in reading.drinks
    )


def _has_no_alcohol(drink: CalledDrink) -> bool:
    return drink.build is not None and drink.build.alcohol_free


def _named(said: str, menu: Menu) -> list[str]:
    drinks = (item.drink for item in menu.items)
    return [d.slug for d in drinks if fold(said) in {fold(n) for n in (d.name, *d.aliases)}]


def _is_off_the_menu(said: str, menu: Menu) -> bool:
    """The very name of a drink in the book that is not sold now."""
    names = {fold(name) for drink in menu.unsold for name in (drink.name, *drink.aliases)}
    return fold(said) in names
