"""Calls made from the grammar, with what they mean: nobody can learn a list of them by heart.

A drink by what the house sells, then how many, how big, how served and what is changed, then the
words: a name, another name or the ingredients in any order, as a guest or as a till says them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from random import Random

from recipes.grammar.calls import compose
from recipes.grammar.calls.entries import ALIAS, Entry
from recipes.grammar.calls.identified import Identity
from recipes.grammar.calls.identity import identify
from recipes.grammar.calls.lexing import pieces
from recipes.grammar.calls.reading import CalledDrink, Question
from recipes.grammar.calls.serving import serve
from recipes.grammar.calls.stock import MIXER
from recipes.grammar.calls.tokens import words_of
from recipes.grammar.calls.utter import Order, utter
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.ingredients import LiquorClass
from recipes.grammar.rules import Family
from recipes.grammar.spec import Ice, Method, When

UNNAMED = 0.2
"""Part of the drinks that only their ingredients name (our own choice)."""
MOST_IN_ROUND = 4
_CHANCE = {"double": 0.2, "tall": 0.07, "ice": 0.15, "garnish": 0.15, "straw": 0.06, "splash": 0.05}
"""How often a call has each change (our own choice)."""


@dataclass(frozen=True)
class GeneratedCall:
    """What is said, and what it means: drinks and questions as the reader has to give them."""

    text: str
    drinks: tuple[CalledDrink, ...]
    ask: tuple[Question, ...]


def generate(
    book: Book, rng: Random, mix: Mapping[str, float] | None = None, drinks: int | None = None
) -> GeneratedCall:
    """A call of one drink, or of a round of that many. `mix`: what sells, by slug; without it the
    shares of the menu count. Same book and same state of `rng`, same call."""
    many = drinks or rng.choices(range(1, MOST_IN_ROUND + 1), (12, 4, 2, 1))[0]
    orders = [_order(book, rng, mix) for _ in range(many)]
    served = [serve(book, o.identity, o.ops) for o in orders]
    called = tuple(
        CalledDrink(o.count, s.recipe, s.name, s.build, s.spec, s.changes, s.why)
        for o, s in zip(orders, served, strict=True)
    )
    ask = tuple(
        Question(at, about, choices) for at, s in enumerate(served) for about, choices in s.ask
    )
    return GeneratedCall(utter(orders, rng), called, ask)


def _order(book: Book, rng: Random, mix: Mapping[str, float] | None) -> Order:
    while True:
        entries, joined = _things(book, rng, mix)
        identity = identify(book, entries, joined)
        if identity is None or identity.build is None or not _heard_so(book, entries, joined):
            continue
        ops = _ops(book, rng, identity)
        names = {item: book.pantry[item].name for _, item in ops if item}
        order = Order(entries, joined, identity, _count(rng), ops, names)
        served = serve(book, identity, order.ops)
        if identity.bare and _is_a_name(book, order, served.recipe):
            continue
        if not served.refused and not served.drop:
            return order


def _heard_so(book: Book, entries: tuple[Entry, ...], joined: tuple[str, ...]) -> bool:
    """Whether these words can be heard as nothing else: "spiced grapefruit soda" could be."""
    words = list(words_of(entries[0].phrase))
    for entry, sep in zip(entries[1:], joined, strict=True):
        words += [*([sep] if sep else []), *words_of(entry.phrase)]
    heard = [p.entry for p in pieces(book, words) if p.entry and p.entry.is_content]
    return heard == list(entries)


def _is_a_name(book: Book, order: Order, recipe: str | None) -> bool:
    """ "Whiskey neat" is a drink of the book, whichever whiskey the word means elsewhere."""
    [entry, *_], [(style, _item), *_more] = order.entries, order.ops or (("", ""),)
    for said in (
        f"{entry.phrase} {style}",
        f"{style} {entry.phrase}",
        f"{entry.phrase} on the rocks",
    ):
        named = book.entry_for(said)
        if named and len(named.phrase) > len(entry.phrase) and named.recipes not in ((), (recipe,)):
            return True
    return False


def _count(rng: Random) -> int:
    return rng.choices((1, 2, 3, 4, 5, 6), (12, 4, 2, 1, 1, 1))[0]


def _things(
    book: Book, rng: Random, mix: Mapping[str, float] | None
) -> tuple[tuple[Entry, ...], tuple[str, ...]]:
    """What is said to name the drink, and what stands between: nothing or "and"."""
    if rng.random() < UNNAMED:
        return _unnamed(book, rng)
    slug = _sold(book, rng, mix)
    parts = compose.plain_parts(book, slug)
    if parts and rng.random() < 0.25:
        said = [_word_for(book, rng, s) for s in parts]
        if all(said):
            rng.shuffle(said)
            entries = tuple(e for e in said if e)
            return entries, tuple(rng.choice(("", "and")) for _ in entries[1:])
    named = [e for e in book.entries_of(slug) if e.recipes == (slug,) and e.recipes_by <= ALIAS]
    return (rng.choice(named),), ()


def _sold(book: Book, rng: Random, mix: Mapping[str, float] | None) -> str:
    drinks = book.stock.drinks
    weights = [(mix or {}).get(s, 0.0) if mix else d.share for s, d in drinks.items()]
    if not any(weights):
        weights = [1.0] * len(drinks)
    return rng.choices(list(drinks), weights)[0]


def _unnamed(book: Book, rng: Random) -> tuple[tuple[Entry, ...], tuple[str, ...]]:
    """One pour and a mixer or two, a pattern with its spirit, or a spirit by itself."""
    stock = book.stock
    spirits = list(compose.spirits(book))
    mixers = [
        s for s, r in stock.roles.items() if r == MIXER and stock.of_class(s, LiquorClass.MIXER)
    ]
    base = _word_for(book, rng, rng.choice(spirits))
    kind = rng.random()
    if kind < 0.15 and book.patterns:
        word = rng.choice(sorted(book.patterns))
        pattern = book.entry_for(word)
        return tuple(e for e in (base, pattern) if e), ("",)
    if kind < 0.3:
        return tuple(e for e in (base,) if e), ()
    chosen = rng.sample(mixers, 2 if rng.random() < 0.2 else 1)
    said = [base, *(_word_for(book, rng, m) for m in chosen)]
    if len(chosen) == 1 and rng.random() < 0.3:
        said.reverse()
    entries = tuple(e for e in said if e)
    return entries, tuple("" for _ in entries[1:])


def _word_for(book: Book, rng: Random, slug: str) -> Entry | None:
    """A way to say just this ingredient, which is no drink by itself."""
    found = [e for e in book.entries_of(slug) if e.items == (slug,) and not e.recipes]
    return rng.choice(found) if found else None


def _ops(book: Book, rng: Random, identity: Identity) -> tuple[tuple[str, str], ...]:
    build = identity.build
    if build is None:
        return ()
    spec = serve(book, identity, ()).spec
    if spec is None:
        return ()
    ops: list[tuple[str, str]] = []
    built = spec.method is Method.BUILD and spec.family is Family.HIGHBALL
    strong = not spec.alcohol_free and any(
        book.stock.is_strong(p.ingredient) for p in spec.parts if p.ml
    )
    if identity.bare and identity.recipe is None:
        ops.append((rng.choice(("neat", "rocks", "up", "shot")), ""))
    elif built and strong and rng.random() < _CHANCE["double"]:
        ops += rng.choice(([("double", "")], [("double", ""), ("tall", "")],
                           [("double", ""), ("short", "")]))  # fmt: skip
    elif built and rng.random() < _CHANCE["tall"]:
        ops.append(("tall", ""))
    if built and spec.ice is Ice.FULL and rng.random() < _CHANCE["ice"]:
        ops.append((rng.choice(("no_ice", "light_ice")), ""))
    if built and rng.random() < _CHANCE["splash"]:
        ops += _splash(book, rng, {p.ingredient for p in spec.parts})
    if rng.random() < _CHANCE["garnish"]:
        ops += _garnish(rng, [g.item for g in spec.garnish if g.when is not When.ON_REQUEST])
    if spec.straw and rng.random() < _CHANCE["straw"]:
        ops.append(("no_straw", ""))
    return tuple(ops)


def _splash(book: Book, rng: Random, inside: set[str]) -> list[tuple[str, str]]:
    """Of something that one word means, so that it can be said."""
    roles = book.stock.roles
    mixers = [s for s, r in roles.items() if r == MIXER and s not in inside]
    sayable = [s for s in mixers if any(e.items == (s,) for e in book.entries_of(s))]
    return [("splash", rng.choice(sayable))] if sayable else []


def _garnish(rng: Random, on_it: list[str]) -> list[tuple[str, str]]:
    if on_it and rng.random() < 0.6:
        return [(rng.choice(("with", "extra")), rng.choice(on_it))]
    return [("no_garnish", "")] if on_it else []
