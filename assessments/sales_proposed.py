"""Drinks that a name on the till may mean, where nothing is certain: likeliest first."""

from __future__ import annotations

from collections.abc import Iterator
from collections.abc import Set as AbstractSet
from functools import lru_cache

from rapidfuzz.distance import OSA

from recipes.grammar.calls import About, AskKind, CalledDrink, Reading, What
from recipes.grammar.course import fold
from recipes.grammar.drink import Drink
from recipes.grammar.ingredients import Kind, LiquorClass
from recipes.grammar.till_money import is_charge
from recipes.grammar.till_names import is_alcohol_free
from recipes.hearing import hear_on
from recipes.menu import Menu

MOST_PROPOSED = 6
_NO_NAME = frozenset({"and", "the", "with", "double", "glass", "bottle", "alcohol", "free"})
"""Words that many names share."""

Proposed = tuple[tuple[str, ...], bool]
"""Drinks by their slugs, and whether the first is likely enough to be offered with a tick."""


def propose(said: str, reading: Reading, menu: Menu) -> Proposed:
    if is_charge(said):
        return (), False
    read = dict.fromkeys(slug for slug in _understood(said, reading, menu) if slug)
    if is_alcohol_free(said) or any(is_virgin(drink) for drink in reading.drinks):
        return _without_alcohol(said, read, menu)
    if any(drink.recipe for drink in reading.drinks):
        likely = not (reading.read_as and reading.unplaced)
    else:
        likely = bool(read) and not reading.unplaced
    likely = likely and bool(read)
    if not likely:
        read |= dict.fromkeys(_sharing_words(said, menu))
    return tuple(read)[:MOST_PROPOSED], likely


def is_virgin(drink: CalledDrink) -> bool:
    return any(change.what is What.VIRGIN for change in drink.changes)


def _without_alcohol(said: str, read: dict[str, None], menu: Menu) -> Proposed:
    """Nothing that has any: what has none and shares words with it or with what was understood."""
    names = {slug: set(fold(menu.by_slug[slug].drink.name).split()) for slug in menu.by_slug}
    words = set(fold(said).split()).union(*(names[slug] for slug in read)) - _NO_NAME
    free = [s for s in _sharing_words(" ".join(sorted(words)), menu)
            if menu.by_slug[s].drink.spec.alcohol_free]  # fmt: skip
    return tuple(free)[:MOST_PROPOSED], bool(free) and bool(words & names[free[0]])


def _understood(said: str, reading: Reading, menu: Menu) -> Iterator[str | None]:
    """Drinks that were understood, that a question offers, that an answer to it makes, that the
    words that nobody placed come near."""
    taught = menu.by_slug
    yield from (drink.recipe for drink in reading.drinks if drink.recipe in taught)
    for question in reading.ask:
        if question.about is About.DRINK:
            yield from (slug for slug in question.choices if slug in taught)
        elif question.kind is AskKind.IDENTITY:
            yield from (_answered(said, choice, menu) for choice in question.choices)
    yield from (slug for slug in _by_letters(said, reading, menu) if slug in taught)


def _by_letters(said: str, reading: Reading, menu: Menu) -> Iterator[str]:
    """What all the words may be that nobody placed; for some of them letters alone say little, and
    so does a word that they share by chance."""
    odd = set(reading.unplaced)
    for slug, words in zip(reading.did_you_mean, reading.meant_for, strict=True):
        found = menu.by_slug.get(slug)
        if odd <= set(words.split()) if words else found and _is_enough(said, found.drink, menu):
            yield slug


def _sharing_words(said: str, menu: Menu) -> list[str]:
    """Drinks whose names have words of this one in them, most first; then those poured from what
    it names; then those poured from what it may be short for or a slip away from, or whose first
    letters it is; of as many, what sells best."""
    words = _words(said)
    shared = {item.drink.slug: _shared(said, words, item.drink, menu) for item in menu.items}
    found = [i.drink for i in menu.items
             if any(shared[i.drink.slug]) and _is_enough(said, i.drink, menu)]  # fmt: skip
    found.sort(key=lambda d: (*(-n for n in shared[d.slug]), -d.share, d.slug))
    return [drink.slug for drink in found]


def _words(said: str) -> set[str]:
    return {word for word in fold(said).split() if len(word) > 2} - _NO_NAME


def _is_enough(said: str, drink: Drink, menu: Menu) -> bool:
    """Whether what they share is more than chance: "sour gummy" and what has sour mix in it share
    a word and nothing else. It is where all words of the name are the drink's, all of the drink's
    are the name's, or two are; where the last words are the same, as that says what kind of thing
    it is; and where half the name is a spirit, a beer or a fizz that the drink is poured from.
    Our own rule."""
    words, own, poured = _words(said), fold(drink.name).split(), _poured(drink, menu)
    met = {w for w in words if _is_one(w, {*own} | poured)}
    return (
        _is_initials(said, drink.name)
        or met == words
        or {*own} - _NO_NAME <= words
        or len(words & {*own}) > 1
        or fold(said).split()[-1] == own[-1]
        or 2 * sum(_is_one(w, _bases(drink, menu)) for w in words) >= len(words)
    )


def _is_one(word: str, others: AbstractSet[str]) -> bool:
    return word in others or any(_is_nearly(word, other) for other in others)


_BASES = frozenset({LiquorClass.SPIRIT, LiquorClass.BEER})


def _bases(drink: Drink, menu: Menu) -> set[str]:
    """The words for what a drink is made of: its spirits, beers and what it is topped with, each by
    the last word of its name, a fizz only where that is all of it."""
    found = set()
    for part in drink.spec.parts:
        thing = menu.pantry.get(part.ingredient)
        name = fold(menu.names.get(part.ingredient, "")).split()
        fizz = thing is not None and thing.kind is Kind.SODA_MIXER and len(name) == 1
        if name and thing is not None and (fizz or thing.liquor_class in _BASES):
            found.add(name[-1])
    return found


def _shared(said: str, words: set[str], drink: Drink, menu: Menu) -> tuple[int, int, int]:
    """How many words are its name's, how many its liquids', and how many nearly are."""
    own, poured = set(fold(drink.name).split()), _poured(drink, menu)
    near = _nearly(words, poured) + _is_initials(said, drink.name)
    return len(words & own), len(words & poured), near


_LONG = 5
"""Letters from which on one that is wrong says nothing against a word (our own number)."""


_VOWELS = "aeiou"
_MOST_PAIRS = 50_000
"""Each word of a name is held against those of a whole menu, where most stand in many drinks."""


def _nearly(words: set[str], others: AbstractSet[str]) -> int:
    return sum(any(_is_nearly(word, other) for other in others) for word in words - others)


@lru_cache(maxsize=_MOST_PAIRS)
def _is_nearly(word: str, other: str) -> bool:
    """Whether it is short for the other, one letter away from it, or begins as it does, ends in a
    vowel too and is as long: "kola" is said for "cola"."""
    if word != other and len(word) == len(other) == _LONG - 1 and word[-1] in _VOWELS:
        return other[-1] in _VOWELS and _sound(word) == _sound(other)
    if len(other) > len(word):
        short = other.startswith(word)
        return short or (len(word) >= _LONG and OSA.distance(word, other, score_cutoff=1) <= 1)
    return len(other) >= _LONG and OSA.distance(word, other, score_cutoff=1) <= 1


def _sound(word: str) -> str:
    return word[:2].replace("k", "c")


def _is_initials(said: str, name: str) -> bool:
    """ "OF" for an old fashioned."""
    letters = [word[0] for word in fold(name).split() if word not in _NO_NAME]
    return len(letters) > 1 and fold(said).replace(" ", "") == "".join(letters)


def _poured(drink: Drink, menu: Menu) -> AbstractSet[str]:
    names = tuple(menu.names.get(part.ingredient, "") for part in drink.spec.parts)
    return _words_of(names)


@lru_cache(maxsize=2000)
def _words_of(names: tuple[str, ...]) -> AbstractSet[str]:
    return frozenset(word for name in names for word in fold(name).split())


def _answered(said: str, choice: str, menu: Menu) -> str | None:
    """The drink that the name is with this ingredient said before it."""
    if choice not in menu.pantry:
        return None
    drinks = hear_on(f"{menu.pantry[choice].name} {said}", menu).drinks
    found = drinks[0].recipe if len(drinks) == 1 else None
    return found if found in menu.by_slug else None
