"""Calls read at a house: its menu of the moment as a book of words, with what is out tonight.

A book is made once for what is in it and kept: the same drinks, rules, stock and bottles out give
the same book.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import lru_cache
from typing import Any

from barcourse.people.models import Venue
from recipes.grammar import calls
from recipes.grammar.aspects import fingerprint
from recipes.grammar.calls import About, Book, CalledDrink, Question, Reading, Status
from recipes.grammar.calls.reading import MOST_LETTERS, NONE
from recipes.grammar.drink import Drink
from recipes.grammar.house_spec import HousePart, HouseSpec, resolve
from recipes.grammar.ingredients import Ingredient, Pantry
from recipes.grammar.lookalikes import nearest
from recipes.grammar.reasons import CannotBuild
from recipes.grammar.rules import HouseRules
from recipes.grammar.spec import How
from recipes.grammar.strength import strength
from recipes.grammar.strength_curves import volumes
from recipes.grammar.tonight import rules_served, rules_tonight, spec_tonight
from recipes.menu import Menu, MenuDrink, menu_at
from recipes.off_tonight import Tonight, standing

MOST_BOOKS = 32
"""Books kept at once; a big one takes some megabytes."""
OFFERED = 3
"""Drinks offered in place of one that is out."""


def hear(text: str, venue: Venue, at: dt.datetime) -> tuple[Reading, Menu]:
    """A call as it is understood and served at this moment. Raises `NoRules` for a house without
    rules."""
    menu = menu_at(venue, at)
    return hear_on(text, menu, Tonight(menu, standing(venue))), menu


def hear_on(text: str, menu: Menu, tonight: Tonight | None = None) -> Reading:
    """On a menu that is there already; without `tonight` as the house's book has it."""
    reading = calls.read(text, book_of(menu, tonight))
    return _served(reading, menu, tonight) if tonight and tonight.rows else reading


def book_of(menu: Menu, tonight: Tonight | None = None) -> Book:
    """The words of this menu, with what stands in tonight already in the drinks; without tonight
    kept beside the menu, since a file of the till asks for it with every name."""
    if tonight is not None:
        return _made(menu, tonight)
    book: Book | None = menu.__dict__.get(_BOOK)
    return book or menu.__dict__.setdefault(_BOOK, _made(menu, None))


_BOOK = "_book"


def _made(menu: Menu, tonight: Tonight | None) -> Book:
    drinks = menu.drinks
    if tonight and tonight.rows:
        served = ((item, tonight.serve(item)) for item in menu.items)
        drinks = tuple(s.drink if isinstance(s, MenuDrink) else i.drink for i, s in served)
    rules = menu.rules if tonight is None else rules_tonight(menu.rules, tonight.swaps)
    unsold = tuple((said, d.name) for d in menu.unsold for said in (d.name, *d.aliases))
    return _kept(_Held(rules, drinks, menu.pantry, unsold))


class _Held:
    """What a book is made of, equal where everything in it is."""

    def __init__(
        self,
        rules: HouseRules,
        drinks: tuple[Drink, ...],
        pantry: Pantry,
        unsold: tuple[tuple[str, str], ...],
    ) -> None:
        self.rules, self.drinks, self.pantry, self.unsold = rules, drinks, pantry, unsold
        stock: tuple[Ingredient, ...] = tuple(pantry.values())
        told = tuple(
            (d.slug, d.name, d.aliases, d.spec.alcohol_free, *d.fingerprints.values())
            for d in drinks
        )
        self.key = (fingerprint(rules.model_dump(mode="json")), stock, told, unsold)

    def __hash__(self) -> int:
        return hash(self.key)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Held) and self.key == other.key


@lru_cache(maxsize=MOST_BOOKS)
def _kept(held: _Held) -> Book:
    return calls.vocabulary(held.rules, held.drinks, held.pantry, held.unsold)


def _served(reading: Reading, menu: Menu, tonight: Tonight) -> Reading:
    """Drinks that can't be served tonight are asked about; bottles that are out are swapped in
    drinks that have no recipe."""
    drinks, ask = list(reading.drinks), list(reading.ask)
    off, missing = {o.item.drink.slug for o in tonight.off}, []
    for at, drink in enumerate(drinks):
        instead = drink if drink.recipe in off else _swapped(drink, menu, tonight)
        if instead is None or drink.recipe in off:
            ask = [q for q in ask if q.drink != at]
            ask.append(Question(at, About.DRINK, _instead(drink, menu, off)))
            missing.append(drink.name)
        else:
            drinks[at] = instead
    status = Status.ASK if ask and reading.status is Status.READY else reading.status
    ask.sort(key=lambda q: q.drink)
    return replace(
        reading, drinks=tuple(drinks), ask=tuple(ask), status=status,
        off_tonight=tuple(dict.fromkeys(missing)),
    )  # fmt: skip


def _swapped(drink: CalledDrink, menu: Menu, tonight: Tonight) -> CalledDrink | None:
    """None where a bottle in it is out and nothing stands in."""
    if drink.build is None or drink.recipe is not None:
        return drink
    try:
        build = spec_tonight(drink.build, tonight.swaps)
    except CannotBuild:
        return None
    if build is drink.build:
        return drink
    rules = rules_served(drink.build, menu.rules, menu.pantry, tonight.swaps)
    return replace(drink, build=build, spec=resolve(build, rules, menu.pantry))


def _instead(drink: CalledDrink, menu: Menu, off: set[str]) -> tuple[str, ...]:
    """The look-alikes of a drink that is out, as far as they are not; of just one, that or
    something else."""
    item = menu.by_slug.get(drink.recipe or "")
    if item is None:
        return ()
    pool = [d for d in menu.drinks if d.slug not in off]
    found = tuple(d.slug for d in nearest(item.drink, pool, OFFERED))
    return (*found, NONE) if len(found) == 1 else found


def as_json(reading: Reading, menu: Menu) -> dict[str, Any]:
    """For scripts: slugs, millilitres, percent, grams. Everything that is asked or can't be placed
    is in it. A call that is too long to be read says so, and what would be the most; one that
    speaks of an allergy says that; a drink that is not here is named, with why."""
    not_here = list(_not_here(reading, menu))
    too_long = {"letters": len(reading.heard), "most": MOST_LETTERS}
    return {
        **({"too_long": too_long} if reading.is_too_long else {}),
        **({"allergy": True} if reading.allergy else {}),
        "heard": reading.heard,
        "status": reading.status.value,
        "drinks": [_drink(at, reading, menu) for at in range(len(reading.drinks))],
        "ask": [
            {"drink": q.drink, "about": q.about.value, "choices": list(q.choices)}
            for q in reading.ask
        ],
        "read_as": [{"from": r.said, "to": r.meant} for r in reading.read_as],
        "unplaced": list(reading.unplaced),
        "did_you_mean": list(reading.did_you_mean),
        **({"not_here": not_here} if not_here else {}),
    }


def _not_here(reading: Reading, menu: Menu) -> Iterator[dict[str, str]]:
    in_book = {d.name for d in menu.unsold}
    for name in reading.not_sold:
        yield {"drink": name, "why": "not_on_menu" if name in in_book else "not_in_book"}
    for name in reading.off_tonight:
        yield {"drink": name, "why": "off_tonight"}


def _drink(at: int, reading: Reading, menu: Menu) -> dict[str, Any]:
    drink, known = reading.drinks[at], reading.is_measured(at)
    spec = drink.shown or drink.spec  # as it is shown on screen while it is asked which bottle
    told = {"count": drink.count, "recipe": drink.recipe, "name": drink.name}
    changes = {"changes": [c.code for c in drink.changes]}
    if spec is None:
        nothing = dict.fromkeys(("glass", "ice", "method", "rim", "straw"))
        return {**told, **nothing, "parts": [], "garnish": [], **changes, "strength": None}
    strong = strength(spec, menu.pantry, menu.venue.country)
    return {
        **told,
        "glass": spec.glass,
        "ice": spec.ice.value,
        "method": spec.method.value,
        "rim": spec.rim.item if spec.rim else None,
        "straw": spec.straw,
        "parts": _parts(spec, menu.pantry, known=known),
        "garnish": [{"item": g.item, "when": g.when.value} for g in spec.garnish],
        **({"beside": [_beside(b, menu.pantry) for b in spec.beside]} if spec.beside else {}),
        **changes,
        "strength": {k: round(v, 3) for k, v in vars(strong).items()} if known else None,
    }


def _beside(back: HouseSpec, pantry: Pantry) -> dict[str, Any]:
    """A back: its glass and what is in it."""
    return {"glass": back.glass, "parts": _parts(back, pantry)}


def _parts(spec: HouseSpec, pantry: Pantry, *, known: bool = True) -> list[dict[str, Any]]:
    """A top-up has what the glass takes of it, once all that goes in is `known`; what is counted
    and not poured has no volume."""
    room = volumes(spec, pantry).mixer

    def ml(part: HousePart) -> float | None:
        poured = (room * part.share if known else None) if part.how is How.TOP else part.ml
        return None if poured is None else round(poured, 2)

    return [{"ingredient": p.ingredient, "how": p.how.value, "ml": ml(p)} for p in spec.parts]


Names = Mapping[str, str]
