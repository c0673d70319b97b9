"""Calls as the guests of one bar make them: what it sells, as often as it sells.

`generate` says whatever the grammar allows, so that the reader is tried. Here nothing comes that
nobody would order: only drinks of the menu, or a usual base with a usual mixer, with a size or a
change that this very drink can have. Each call is read back, and what the reader makes of it has to
be what was meant. How often things come is our own choice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import sqrt
from random import Random

from recipes.grammar.calls.bar_talk import Said, by_parts, say, ways_to_say
from recipes.grammar.calls.compose import plain_parts
from recipes.grammar.calls.entries import PART, Entry
from recipes.grammar.calls.generate import GeneratedCall
from recipes.grammar.calls.reader import read
from recipes.grammar.calls.reading import About, CalledDrink, Reading, What
from recipes.grammar.calls.suits import CARRIED, Suit, suits
from recipes.grammar.calls.tokens import words_of
from recipes.grammar.calls.trade import KIND_WORDS
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.ingredients import LiquorClass
from recipes.grammar.rules import Family, Serving

OPEN = 0.25
"""Part of the calls that have to leave something open. What the house's rules ask every time ("ice
and a slice?") comes on top, as far as the guest does not say it unasked."""
BY_OPEN_WORD = 0.5
SWAPPED = 0.06
CHANGED = 0.3
SAID_UNASKED = 0.8
USUAL = 2
"""A base or a mixer is usual where it stands in so many two-part drinks of the menu."""
COUNTS = ((1, 2, 3, 4), (15, 4, 1, 1))
_TRIES = 300


@dataclass(frozen=True)
class Meant:
    """A drink as it was thought of: a recipe, or a base and a mixer, or nothing but a word."""

    said: Said
    recipe: str | None = None
    parts: frozenset[str] = frozenset()
    changes: frozenset[str] = frozenset()


@dataclass(frozen=True, eq=False)
class Bar:
    """What calls here are drawn from; `mix` is what sells, by slug, else the menu's shares."""

    book: Book
    mix: Mapping[str, float] = field(default_factory=dict)

    @cached_property
    def sold(self) -> dict[str, float]:
        drinks = self.book.stock.drinks
        sells = {s: self.mix.get(s, 0.0) if self.mix else d.share for s, d in drinks.items()}
        sold = {s: share for s, share in sells.items() if share > 0}
        return sold or dict.fromkeys(drinks, 1.0)

    @cached_property
    def pairs(self) -> dict[str, tuple[str, str]]:
        """Base and mixer of every two-part highball that is sold."""
        found = ((slug, plain_parts(self.book, slug)) for slug in self.sold)
        return {slug: (p[0], p[1]) for slug, p in found if p and len(p) == 2}

    @cached_property
    def usual(self) -> tuple[list[str], list[str]]:
        """Spirits and mixers that go together in more than one drink, in order."""
        bases, mixers = zip(*self.pairs.values(), strict=True) if self.pairs else ((), ())
        spirits = [b for b in bases if self.book.stock.of_class(b, LiquorClass.SPIRIT)]
        return _often(spirits), _often(mixers)

    @cached_property
    def open_words(self) -> dict[str, float]:
        """Words after which one has to ask which drink, which base or how, the more often the more
        sells of it; flattened, since "a vodka" is heard less than all that has vodka in it."""
        found = {word: share for word, share in self._words() if share > 0}
        return {w: sqrt(s) for w, s in found.items() if self._leaves_open(w)}

    def _words(self) -> Iterator[tuple[str, float]]:
        stock, sold = self.book.stock, self.sold
        bases = {slug: stock.base_of(slug) for slug in sold}
        for word, kind in KIND_WORDS.items():
            of_kind = (s for s, b in bases.items() if b and self.book.pantry[b].kind is kind)
            yield word, sum(sold[s] for s in of_kind)
        for word in self.book.patterns:
            yield word, sum(sold[s] for s in sold if stock.drinks[s].name.lower().endswith(word))
        for entry in self.book.entries:
            if entry.recipes_by == PART and len(entry.recipes) > 1 and self._all_end(entry):
                yield entry.phrase, sum(sold.get(s, 0.0) for s in entry.recipes)
        for word, serving in self.book.rules.servings.items():
            if serving is Serving.ANY_SPIRIT:
                yield word, 0.05 * sum(sold.values())

    def _all_end(self, entry: Entry) -> bool:
        """A breeze, a martini; not the cake of two shots, which are called by their whole name."""
        drinks = [self.book.stock.drinks[s] for s in entry.recipes]
        ends = all(words_of(d.name)[-1:] == (entry.phrase,) for d in drinks)
        return ends and not any(d.spec.family is Family.SHOT for d in drinks)

    def _leaves_open(self, word: str) -> bool:
        heard = read(f"a {word}", self.book)
        wants = {About.DRINK, About.BASE, About.STYLE} & {q.about for q in heard.ask}
        return bool(wants) and len(heard.drinks) == 1 and _is_clear(heard)


def _often(slugs: Sequence[str]) -> list[str]:
    return sorted({s for s in slugs if slugs.count(s) >= USUAL})


def call_over_the_bar(bar: Bar, rng: Random, drinks: int = 1) -> GeneratedCall | None:
    """A call of so many different drinks. Same bar and same state of `rng`, same call. None where
    nothing that is sold here can be said so that it is understood."""
    for _try in range(_TRIES):
        wants_open = rng.random() < OPEN
        meant = _round(bar, rng, drinks, wants_open=wants_open)
        text = say([m.said for m in meant], rng)
        heard = read(text, bar.book)
        if _is_meant(heard, meant):
            if not wants_open:
                meant = _said_unasked(bar, rng, meant, heard)
                text = say([m.said for m in meant], rng)
                heard = read(text, bar.book)
            if _is_meant(heard, meant) and (drinks > 1 or _fits(heard, wants_open)):
                return GeneratedCall(text, heard.drinks, heard.ask)
    return None


def _fits(heard: Reading, wants_open: bool) -> bool:
    """A double says short or tall, unless it is to be open; what the house always asks may come."""
    if wants_open:
        return bool(heard.ask)
    return not {q.about for q in heard.ask} - {About.GARNISH, About.MIXER}


def _round(bar: Bar, rng: Random, drinks: int, *, wants_open: bool) -> list[Meant]:
    """In a round one drink at the most is open."""
    found: list[Meant] = []
    at = rng.randrange(drinks) if wants_open else -1
    while len(found) < drinks:
        one = _open(bar, rng) if len(found) == at else _drink(bar, rng)
        if not any(_alike(one, other) for other in found):
            found.append(one)
    return found


def _alike(one: Meant, other: Meant) -> bool:
    same = one.recipe is not None and one.recipe == other.recipe
    return same or one.said.name == other.said.name


def _open(bar: Bar, rng: Random) -> Meant:
    if bar.open_words and rng.random() < BY_OPEN_WORD:
        words = bar.open_words
        word = rng.choices(list(words), list(words.values()))[0]
        return Meant(Said(rng.choices((1, 2), (4, 1))[0], "", word))
    return _drink(bar, rng, size="double")


def _drink(bar: Bar, rng: Random, size: str = "") -> Meant:
    if not size and rng.random() < SWAPPED and (swapped := _swapped(bar, rng)):
        return swapped
    slug = rng.choices(list(bar.sold), list(bar.sold.values()))[0]
    name = next(ways_to_say(bar.book, slug, rng))
    fitting = [s for s in suits(bar.book, slug, bar.usual[1]) if not size or s.size == size]
    change = _change(fitting, rng, must=bool(size))
    count = rng.choices(*COUNTS)[0]
    return _with(Meant(Said(count, "", name), slug), change)


def _change(fitting: Sequence[Suit], rng: Random, *, must: bool) -> Suit | None:
    if not fitting or not (must or rng.random() < CHANGED):
        return None
    return rng.choices(fitting, [s.often for s in fitting])[0]


def _with(meant: Meant, change: Suit | None) -> Meant:
    if change is None:
        return meant
    said = meant.said
    size = " ".join(w for w in (said.size, change.said if change.size else "") if w)
    after = said.after if change.size else (*said.after, change.said)
    changed = Said(said.count, size, said.name, after)
    return Meant(changed, meant.recipe, meant.parts, meant.changes | change.codes)


def _swapped(bar: Bar, rng: Random) -> Meant | None:
    """A highball that sells with another usual base or mixer: rum and tonic, tequila and cola."""
    bases, mixers = bar.usual
    pairs = {s: p for s, p in bar.pairs.items() if p[0] in bases and p[1] in mixers}
    if not pairs:
        return None
    base, mixer = pairs[rng.choices(list(pairs), [bar.sold[s] for s in pairs])[0]]
    base, mixer = rng.choice([(rng.choice(bases), mixer), (base, rng.choice(mixers))])
    count = rng.choices(*COUNTS)[0]
    said = Said(count, "", by_parts(bar.book, (base, mixer), rng))
    return Meant(said, parts=frozenset({base, mixer}))


def _said_unasked(bar: Bar, rng: Random, meant: Sequence[Meant], heard: Reading) -> list[Meant]:
    """What the house asks about every time is often said before anybody asks."""
    found = list(meant)
    for question in heard.ask:
        if question.about is not About.GARNISH or rng.random() > SAID_UNASKED:
            continue
        item = rng.choice(question.choices)
        if item == "none":
            change = Suit("no garnish", frozenset({What.NO_GARNISH.value}), 1)
        else:
            name = bar.book.stock.cores[item].replace("-", " ")
            change = Suit(f"with {name}", frozenset({f"{What.WITH.value}:{item}"}), 1)
        found[question.drink] = _with(found[question.drink], change)
    return found


def _is_clear(heard: Reading) -> bool:
    return not (heard.read_as or heard.unplaced)


def _is_meant(heard: Reading, meant: Sequence[Meant]) -> bool:
    named = [drink.recipe for drink in heard.drinks if drink.recipe]
    return (
        _is_clear(heard)
        and len(set(named)) == len(named)
        and len(heard.drinks) == len(meant)
        and all(map(_is_this, heard.drinks, meant))
    )


def _is_this(drink: CalledDrink, meant: Meant) -> bool:
    if drink.count != meant.said.count:
        return False
    if meant.recipe is None and not meant.parts:
        return True
    if {c.code for c in drink.changes if c.what not in CARRIED} != meant.changes:
        return False
    if meant.recipe is not None:
        return drink.recipe == meant.recipe
    return drink.spec is not None and {p.ingredient for p in drink.spec.parts} == meant.parts
