"""A name on the till, read as a guest's call would be: which drink of the house it is.

Which drink it is must be certain; how it is served doesn't matter here. So a question about
identity blocks, and what it leaves open is proposed, likeliest first; one about size or garnish
doesn't.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

from assessments.models.sales import LONGEST_NAME, Kept, Place
from assessments.sales_proposed import MOST_PROPOSED, propose
from assessments.sales_sizes import may_be_another, without_sizes
from assessments.sales_told import (
    Meanings,
    Meant,
    holds_more,
    is_another,
    told_alike,
    told_as,
    told_within,
)
from recipes.grammar.calls import About, AskKind, CalledDrink, Reading
from recipes.grammar.till_names import as_called, is_alcohol_free, spoken, with_and, without_and
from recipes.grammar.till_packs import Several, several
from recipes.hearing import hear_on
from recipes.menu import Menu
from recipes.models import Recipe

NOTHING_TOLD: Meanings = MappingProxyType[str, Meant]({})
SOME = 0
"""Drinks in one sale of what holds several glasses and doesn't say how many."""


@dataclass(frozen=True)
class Heard:
    """`recipe` where it is certain; else what may have been meant, and whether the first of that
    is likely enough to be offered with a tick. `place` says what becomes of the line; `read_as`
    which words were taken for others; `by_word` whether somebody told so. One sale is `each`
    drinks; where it waits, so many as its name tells of, since nobody can know how many were
    poured."""

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

    @property
    def kept(self) -> Kept:
        return Kept(self.place, 1 if self.place is Place.WAITING else self.each)


def name_of(item: str, size: str = "") -> str:
    """How a name on the till is kept: lower case, without the till's marks."""
    return (spoken(item, size) or item.strip() or size).casefold()[:LONGEST_NAME].strip()


def heard(said: str, menu: Menu, told: Meanings = NOTHING_TOLD) -> Heard:
    """What a kept name means on this menu. What was told of it wins over what is read, also told in
    another spelling of a count; the very name of one drink is that drink, whatever a guest who says
    it would be asked: on the till somebody pressed its button. What is certain by itself wins over
    what a told name within it says."""
    if by_word := told_as(said, told):
        return _as_told(told[by_word])
    if len(own := _named(said, menu)) == 1:
        return Heard(Place.MAPPED, menu.by_slug[own[0]].recipe)
    many = several(said, _names(menu, told))
    if many and (alike := told_alike(many, told)):
        return _as_told(told[alike])
    whole = _read_joined(said, menu)
    one = _as_several(many, whole, menu, told) if many else whole
    if one.place is Place.WAITING and (part := told_within(said, menu, told)):
        return _as_told(told[part])
    is_one = one is whole  # else a size beside it would take off how many there are
    if is_one and one.place is Place.WAITING and (drink := _sized(said, menu, told)):
        return drink
    return one


def _sized(said: str, menu: Menu, told: Meanings) -> Heard | None:
    """As it is without the words of size at its ends, where they leave it that drink."""
    for rest, sizes in without_sizes(said):
        by_word = told_as(rest, told)
        found = _as_told(told[by_word]) if by_word else _certain(rest, menu)
        if found.slug in menu.by_slug:
            return None if may_be_another(sizes, found.slug, menu) else found
    return None


def _certain(said: str, menu: Menu) -> Heard:
    own = _named(said, menu)
    return Heard(Place.MAPPED, menu.by_slug[own[0]].recipe) if len(own) == 1 else _read(said, menu)


def _as_several(many: Several, whole: Heard, menu: Menu, told: Meanings) -> Heard:
    """It is asked about, whatever is certain of the rest; what that was told to be is proposed."""
    rest = heard(many.rest, menu, told)
    if rest.place is Place.NOT_OURS:
        return rest
    if rest.slug in menu.by_slug:
        return Heard(Place.WAITING, None, (rest.slug,), True, rest.read_as, many.each)
    if not many.is_sure:
        return whole
    return Heard(Place.WAITING, None, rest.proposed, rest.likely, rest.read_as, many.each)


def _names(menu: Menu, told: Meanings) -> set[str]:
    drinks = (item.drink for item in menu.items)
    return {n.casefold() for drink in drinks for n in (drink.name, *drink.aliases)} | told.keys()


def _as_told(told: Meant) -> Heard:
    place = Place.MAPPED if told.recipe else Place.NOT_OURS
    return Heard(place, told.recipe, each=told.each, by_word=True)


def _read_joined(said: str, menu: Menu) -> Heard:
    """Two words that a till joins by "and" are one name; a guest may mean two things."""
    found = _read(said, menu)
    if found.place is Place.WAITING and " and " in with_and(said):
        joined = _read(with_and(said).replace(" and ", " "), menu)
        return joined if joined.place is Place.MAPPED else found
    return found


def _read(said: str, menu: Menu) -> Heard:
    """A name is a drink where it is read without a question of identity, a change that makes
    another drink, or a word for what has no alcohol; and without a word that begins otherwise:
    slips of the pen leave the first letter (our own rule), and "bager" may be no lager."""
    reading = hear_on(as_called(said), menu)
    read_as = tuple((r.said, r.meant) for r in reading.read_as)
    if reading.drinks and not _is_open(said, reading, menu):
        recipe = reading.drinks[0].recipe
        if recipe in menu.by_slug:
            if any(said[:1] != meant[:1] for said, meant in read_as):
                return Heard(Place.WAITING, None, (recipe,), likely=True, read_as=read_as)
            return Heard(Place.MAPPED, menu.by_slug[recipe].recipe, read_as=read_as)
        if all(drink.build for drink in reading.drinks):
            return _poured_alone(said, reading, menu, read_as)
    if _is_off_the_menu(said, menu):
        return Heard(Place.UNTAUGHT, read_as=read_as)
    proposed, likely = propose(said, reading, menu)
    more = any(holds_more(said, slug, menu) for slug in proposed[:1])
    each = SOME if more else 1
    return Heard(Place.WAITING, None, proposed, likely and not more, read_as, each)


def _poured_alone(
    said: str, reading: Reading, menu: Menu, read_as: tuple[tuple[str, str], ...]
) -> Heard:
    """A spirit by itself. Which drink of the house it is hangs on how it is served, where one of
    the ways is taught: "vodka" may be the house's vodka shot. Else it is sold and not taught; what
    it may be all the same is told to whoever says otherwise."""
    hows = [how for q in reading.ask if q.about is About.STYLE for how in q.choices]
    if not hows:
        return Heard(Place.UNTAUGHT, read_as=read_as)
    served = dict.fromkeys(slug for how in hows if (slug := _served(said, how, menu)))
    others, _likely = propose(said, reading, menu)
    proposed = tuple(dict.fromkeys((*served, *others)))[:MOST_PROPOSED]
    place = Place.WAITING if served else Place.UNTAUGHT
    return Heard(place, None, proposed, len(served) == 1 and not read_as, read_as)


def _served(said: str, how: str, menu: Menu) -> str | None:
    """The drink on the menu that it is when it is called so, in whatever size."""
    for name in (said, *(rest for rest, _sizes in without_sizes(said))):
        reading = hear_on(as_called(f"{name} {how}"), menu)
        if reading.drinks and not _is_open(said, reading, menu):
            slug = reading.drinks[0].recipe
            if slug in menu.by_slug:
                return slug
    return None


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
    name = without_and(said)
    return [d.slug for d in drinks if name in {without_and(n) for n in (d.name, *d.aliases)}]


def _is_off_the_menu(said: str, menu: Menu) -> bool:
    """The very name of a drink in the book that is not sold now."""
    drinks = menu.unsold
    return without_and(said) in {without_and(n) for d in drinks for n in (d.name, *d.aliases)}
