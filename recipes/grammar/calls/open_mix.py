"""What several words are together: what the house mixes of them, or a drink with something open."""

from __future__ import annotations

from itertools import product

from recipes.grammar.calls import compose
from recipes.grammar.calls.entries import KIND, Entry
from recipes.grammar.calls.identified import COSTS, Identity, Slugs, item_why, listed
from recipes.grammar.calls.reading import About
from recipes.grammar.calls.stock import BASE, MIXER, OTHER
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.reasons import Reason


def by_contents(book: Book, named: Slugs, why: tuple[Reason, ...]) -> Identity:
    if len(named) > 1:
        name = book.stock.drinks[named[0]].name
        return Identity(None, None, name, why, ((About.DRINK, named),), dear=COSTS["open"])
    drink = book.stock.drinks[named[0]]
    told = (*why, Reason.of("call_contents", drink=drink.slug))
    return Identity(drink.slug, book.stock.builds[drink.slug], drink.name, told)


def of_open_contents(book: Book, said: tuple[Entry, ...]) -> Identity | None:
    """ "Gin and vermouth": of all that it may be, what has a recipe."""
    short = all(compose.is_short(book, item) for e in said for item in e.items)
    if not short or not all(e.items_by <= KIND for e in said):
        return None  # a beer and a cider are two drinks
    sets = (frozenset(slugs) for slugs in product(*(e.items for e in said)))
    named = tuple(d for inside in sets for d in book.stock.by_set.get(inside, ()))
    why = tuple(item_why(e) for e in said if not is_open(e))
    return by_contents(book, named, why) if named else None


def is_open(entry: Entry) -> bool:
    return len(entry.items) > 1 or entry.weak


def open_mix(book: Book, said: tuple[Entry, ...], seps: tuple[str, ...]) -> Identity | None:
    """Something in it may be several things: what is known is built, the rest is asked."""
    if sum(e.role == BASE for e in said) != 1 or any(e.role == OTHER for e in said):
        return None
    if "," in seps:
        return None
    sure = [e.items[0] for e in said if not is_open(e)]
    bases = tuple(s for s in sure if book.stock.roles[s] == BASE)
    mixers = tuple(s for s in sure if book.stock.roles[s] == MIXER)
    ask = tuple(
        (About.BASE if e.role == BASE else About.MIXER, e.items) for e in said if is_open(e)
    )
    if bases and not compose.is_short(book, bases[0]):
        return None
    build = compose.highball(bases, mixers) if bases or mixers else None
    open_mixers = [e.items for e in said if is_open(e) and e.role == MIXER]
    if build and bases and len(open_mixers) == 1:
        build = compose.whichever(book, build, bases, mixers, open_mixers[0])
    why = tuple(item_why(e) for e in said if not is_open(e))
    name = listed([e.phrase for e in said])
    return Identity(None, build, name, why, ask, dear=COSTS["open"])
