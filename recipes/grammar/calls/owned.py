"""What a call already means: who owns the words that somebody wants to give another meaning.

A name is taken where the reader understands it as a whole: a word for how a drink is served, a
kind, a pattern, a drink or an ingredient by any of its names in any spelling, a call of its own.
"""

from __future__ import annotations

from dataclasses import dataclass

from recipes.grammar.calls.entries import ALIAS, KIND, NAME, PART, Entry
from recipes.grammar.calls.lexing import pieces
from recipes.grammar.calls.reader import read
from recipes.grammar.calls.reading import About, CalledDrink, Reading, What
from recipes.grammar.calls.spelling import guess
from recipes.grammar.calls.tokens import BREAKS, words_of
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.calls.words import Sign
from recipes.grammar.ingredients import Kind

BY_NAME = frozenset({"call_name", "call_alias", "call_part", "call_slang_drink"})
SERVED = frozenset({"short", "half", "pint", "single", "tall", "measure:small", "measure:medium",
                    "measure:large"})  # fmt: skip
"""Closed words that differ by country: the house may say how much they mean."""
_STYLES = frozenset({What.SHOT, What.NEAT, What.ROCKS, What.UP, What.PINT, What.HALF})
"""A drink may be called after how it is served, where that is what it is: "Tequila Shot"."""
_SIZES = frozenset({
    What.DOUBLE, What.TRIPLE, What.TALL, What.SHORT, What.CALL, What.PREMIUM, What.NO_ICE,
    What.LIGHT_ICE, What.FULL_ICE, What.NO_GARNISH, What.NO_STRAW, What.NO_RIM, What.STRAW,
})  # fmt: skip
_NAMELESS = frozenset({Sign.UNSOLD, Sign.ELSEWHERE})


MOST_NUMBER = 12
"""The highest number by itself that says how many; "75" may be a drink (our own choice)."""


class Claim:
    """What the words shall be."""

    NAME = "name"  # of a drink
    ALIAS = "alias"  # another name of a drink
    THING = "thing"  # a name of an ingredient
    SLANG = "slang"
    PATTERN = "pattern"
    SERVING = "serving"


class Owns:
    """What the words are already."""

    WAY = "way"  # how a drink is served, how many, small talk
    KIND = "kind"  # a kind of what is poured: vodka, wine
    PATTERN = "pattern"
    DRINK = "drink"
    THING = "thing"
    CALL = "call"


@dataclass(frozen=True)
class Claimant:
    """Who wants the words. `slug` is "" for what is not there yet; `parts` are what is in the
    drink, or what slang shall mean; `kind` is that of an ingredient."""

    claim: str
    slug: str = ""
    parts: frozenset[str] = frozenset()
    kind: Kind | None = None


@dataclass(frozen=True)
class Owner:
    """`means`: drinks and ingredients by slug, patterns and kinds by their word."""

    owns: str
    means: tuple[str, ...] = ()


def owner(book: Book, said: str, by: Claimant) -> Owner | None:
    """Who owns these words already; None where they are free, or mean the same in the end."""
    words = _spelt(book, said)
    found = [p for p in pieces(book, words) if p.word not in BREAKS] if words else []
    told = [p.entry for p in found if p.entry is not None]
    if not found or len(told) < len(found):
        number = words[0] if len(words) == 1 else ""
        counts = number.isdecimal() and int(number) <= MOST_NUMBER
        return Owner(Owns.WAY) if counts else None
    if any(e.sign in _NAMELESS for e in told):
        return None
    if not any(_is_thing(e) for e in told):
        return None if _is_serving(told, by) else Owner(Owns.WAY)
    if len(found) == 1:
        return _of_phrase(book, told[0], by)
    return _of_call(read(" ".join(words), book), told, by)


def _spelt(book: Book, said: str) -> list[str]:
    """Its words as the house spells them; [] where one is strange."""
    known = []
    words = words_of(said)
    for word in words:
        found = guess(book, word) if word not in book.plain else None
        if found and (found.told or len(found.choices) != 1):
            joined = book.joined.get("".join(words))
            return list(joined) if joined else _run_together(book, words)
        known += [*found.choices[0]] if found else [book.plain[word]]
    return known


def _run_together(book: Book, words: tuple[str, ...]) -> list[str]:
    """ "Screw driver"."""
    one = "".join(words)
    return [book.plain[one]] if len(words) > 1 and one in book.plain else []


def _is_thing(entry: Entry) -> bool:
    return bool(entry.recipes or entry.items or entry.pattern)


def _is_serving(told: list[Entry], by: Claimant) -> bool:
    """A size that the house's rules may set, alone or with an article."""
    sizes = [e for e in told if e.sign is not Sign.ARTICLE]
    return by.claim is Claim.SERVING and len(sizes) == 1 and str(sizes[0].value) in SERVED


def _of_phrase(book: Book, entry: Entry, by: Claimant) -> Owner | None:
    """A phrase of the book, whole: a name, a pattern, a kind, a word out of a name."""
    if entry.recipes and entry.recipes_by < PART and by.slug not in entry.recipes:
        inside = _inside(book, entry.recipes)
        same = inside == (by.parts if by.claim is Claim.SLANG else {by.slug})
        same = same and by.claim in (Claim.SLANG, Claim.THING)
        return None if same else Owner(Owns.DRINK, entry.recipes)
    if entry.recipes:
        own = by.slug in entry.recipes or by.claim is not Claim.ALIAS or entry.family
        free = own or len(entry.recipes) > 1
        return None if free else Owner(Owns.DRINK, entry.recipes)
    if entry.pattern:
        return None if by.claim is Claim.PATTERN else Owner(Owns.PATTERN, (entry.pattern,))
    return _of_item(book, entry, by)


def _of_item(book: Book, entry: Entry, by: Claimant) -> Owner | None:
    mine = by.parts if by.claim is not Claim.THING else frozenset({by.slug})
    if entry.items_by == KIND or _is_kind(book, entry):
        kinds = {book.pantry[slug].kind for slug in entry.items}
        return None if by.kind in kinds else Owner(Owns.KIND, (entry.phrase,))
    if entry.items_by in (NAME, ALIAS):
        pointed_out = by.claim is Claim.SLANG and entry.items_by == NAME
        same = pointed_out or set(entry.items) == mine
        return None if same else Owner(Owns.THING, entry.items)
    if entry.items_by == PART:
        free = by.claim in (Claim.THING, Claim.PATTERN) or len(entry.items) > 1 or entry.weak
        return None if free or mine & set(entry.items) else Owner(Owns.THING, entry.items)
    meant = by.claim in (Claim.SLANG, Claim.THING) or set(entry.items) <= mine
    return None if meant else Owner(Owns.THING, entry.items)


def _is_kind(book: Book, entry: Entry) -> bool:
    """Several of a kind, none of them called by just this."""
    return entry.items_by == PART and len({book.pantry[s].kind for s in entry.items}) == 1 < len(
        entry.items
    )


def _of_call(reading: Reading, told: list[Entry], by: Claimant) -> Owner | None:
    """Several phrases that are one drink together."""
    if reading.unplaced or len(reading.drinks) != 1:
        return None
    [drink] = reading.drinks
    whats = {c.what for c in drink.changes}
    things = [e for e in told if e.is_content]
    if by.claim is Claim.THING:  # "Orange gin" is a bottle, a double gin is none
        sized = len(things) == 1 and (drink.count > 1 or bool(whats & _SIZES))
        return _call(drink) if sized else None
    if drink.count > 1 or (by.claim is not Claim.NAME and whats) or whats & _SIZES:
        return _call(drink)
    if by.claim is Claim.NAME and (whats - _STYLES or (whats and _by_name(drink))):
        return None  # a version of its own: a dirty one, one with another base
    return _of_one(reading, drink, by)


def _of_one(reading: Reading, drink: CalledDrink, by: Claimant) -> Owner | None:
    asked = {q.about for q in reading.ask}
    if _by_name(drink):
        return None if drink.recipe == by.slug else Owner(Owns.DRINK, (drink.recipe or "",))
    if drink.build is None or asked & {About.BASE, About.DRINK, About.MIXER}:
        return None
    inside = {p.ingredient for p in drink.build.parts}
    same = inside <= by.parts if by.claim is Claim.NAME else inside == by.parts
    same = same or (bool(by.slug) and drink.recipe == by.slug)
    return None if same else _call(drink)


def _by_name(drink: CalledDrink) -> bool:
    return bool(drink.recipe and drink.why and drink.why[0].code in BY_NAME)


def _call(drink: CalledDrink) -> Owner:
    parts = drink.build.parts if drink.build else ()
    named = (drink.recipe,) if drink.recipe else tuple(sorted({p.ingredient for p in parts}))
    return Owner(Owns.CALL, named)


def _inside(book: Book, slugs: tuple[str, ...]) -> set[str]:
    return {p.ingredient for slug in slugs for p in book.stock.drinks[slug].spec.parts}


def named_in(book: Book, found: Owner) -> str:
    """The owner by its names."""
    drinks, pantry = book.stock.drinks, book.pantry
    names = (drinks[m].name if m in drinks else pantry[m].name if m in pantry else m
             for m in found.means)  # fmt: skip
    return ", ".join(names)
