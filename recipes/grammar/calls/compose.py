"""Builds for drinks that no recipe names: one pour and mixers, a spirit by itself, a soft drink."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from recipes.grammar.calls.entries import NAME, SLANG, Entry, longest
from recipes.grammar.calls.reading import About
from recipes.grammar.calls.stock import BASE, MIXER
from recipes.grammar.calls.tokens import words_of
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.house_spec import resolve
from recipes.grammar.ingredients import Kind
from recipes.grammar.spec import BuildSpec, Garnish, How, Ice, Method, Part
from recipes.grammar.units import Unit

MOST_MIXERS = 3
_LENGTHENING = {("club", "soda"), ("soda", "water"), ("soda",), ("water",), ("sparkling", "water")}
Slugs = tuple[str, ...]


@lru_cache(maxsize=4096)
def pour(slug: str, amount: float = 1) -> Part:
    return Part.model_construct(
        ingredient=slug, how=How.MEASURED, amount=amount, unit=Unit.POUR, share=1.0
    )


@lru_cache(maxsize=4096)
def top(slug: str) -> Part:
    return Part.model_construct(
        ingredient=slug, how=How.TOP, amount=None, unit=Unit.POUR, share=1.0
    )


def build(parts: tuple[Part, ...], **said: Any) -> BuildSpec:
    """Without validation: these parts can't be wrong, and calls are read by the thousand."""
    return _PLAIN.model_copy(update={"parts": parts, **said})


_PLAIN = BuildSpec.model_construct(
    glass=None, ice=None, method=Method.BUILD, rim=None, parts=(), garnish=None, straw=None,
    alcohol_free=False,
)  # fmt: skip


def highball(bases: Slugs, mixers: Slugs, garnish: tuple[Garnish, ...] | None = None) -> BuildSpec:
    """One pour, topped; two mixers share the room equally."""
    return build((*map(pour, bases), *map(top, mixers)), garnish=garnish)


def soft(mixers: Slugs) -> BuildSpec:
    return build(tuple(map(top, mixers)), alcohol_free=True)


def alone(slug: str) -> BuildSpec:
    return build((pour(slug),))


def draught(slugs: Slugs) -> BuildSpec:
    return build(tuple(map(top, slugs)), method=Method.DRAUGHT)


def glass_of(book: Book, slug: str) -> BuildSpec:
    glass = "wine" if "wine" in book.rules.glasses else None
    return build((pour(slug),), glass=glass, ice=Ice.NONE)


def with_base(recipe: BuildSpec, old: str, new: str) -> BuildSpec:
    parts = tuple(
        p.model_copy(update={"ingredient": new}) if p.ingredient == old else p for p in recipe.parts
    )
    return recipe.model_copy(update={"parts": parts})


def whichever(
    book: Book, known: BuildSpec, bases: Slugs, mixers: Slugs, choices: Slugs
) -> BuildSpec:
    """What is known with the glass, ice and garnish that it has whichever mixer it will be."""
    specs = [resolve(highball(bases, (*mixers, c)), book.rules, book.pantry) for c in choices]
    first = specs[0]
    said: dict[str, Any] = {}
    for name in ("glass", "ice", "straw", "garnish"):
        if all(getattr(s, name) == getattr(first, name) for s in specs):
            said[name] = getattr(first, name)
    if "garnish" in said:
        said["garnish"] = tuple(Garnish(item=g.item, when=g.when) for g in first.garnish)
    return known.model_copy(update=said)


def is_short(book: Book, slug: str) -> bool:
    """A spirit, liqueur or fortified wine: what a house pour measures."""
    return slug in book.stock.short


def spirits(book: Book) -> Slugs:
    """What "any spirit" may be, in the order of the shelf; which bottle of it nobody asked."""
    return book.stock.spirits


def blend(book: Book, mixers: Slugs) -> bool:
    """Whether two mixers joined by "and" are one drink: juices are, whatever soda lengthens, and
    juice with lemonade; a cola and a lemonade are two drinks."""
    sodas = [m for m in mixers if not _blends(book, m)]
    if len(sodas) == 1 and len(mixers) > 1:
        return any(lengthens(book, m) for m in mixers) or sodas[0] in _lemonade(book)
    return not sodas


def _lemonade(book: Book) -> Slugs:
    """What the house means by the word."""
    entry = longest(book.trie, ("lemonade",), 0)[1]
    return entry.items if entry else ()


def _blends(book: Book, slug: str) -> bool:
    return book.pantry[slug].kind is not Kind.SODA_MIXER or lengthens(book, slug)


def lengthens(book: Book, slug: str) -> bool:
    item = book.pantry[slug]
    return any(words_of(name) in _LENGTHENING for name in (item.name, *item.aliases))


def plain_parts(book: Book, recipe: str) -> Slugs | None:
    """Base first, then mixers, of a recipe that is just that and leaves its garnish to the house;
    None for anything more."""
    said = book.stock.builds[recipe]
    bases = [p.ingredient for p in said.parts if p.how is How.MEASURED]
    tops = [p.ingredient for p in said.parts if p.how is How.TOP]
    plain = len(bases) == 1 and tops and len(said.parts) == 1 + len(tops)
    if not plain or said.rim or said.garnish is not None or said.glass or said.ice:
        return None
    return (bases[0], *tops) if said.parts[0].unit is Unit.POUR else None


def doubt(book: Book, entry: Entry, recipe: str) -> tuple[tuple[About, Slugs], ...]:
    """A name that only lists its ingredients, where one of its words is something else here.

    "Vodka Lemonade" is built with still lemonade and guests of this house mean the fizzy one:
    the name and the house's word tie, so it is asked.
    """
    if entry.recipes_by != NAME:
        return ()
    words = words_of(book.stock.drinks[recipe].name)
    tops = {p.ingredient for p in book.stock.builds[recipe].parts if p.how is How.TOP}
    found, at = [], 0
    while at < len(words):
        end, meant = longest(book.trie, words, at)
        if meant is entry:
            end, meant = at + 1, _one(book, words[at])
        if meant is None or (not meant.items and meant.sign is None):
            return ()
        found.append(meant)
        at = max(end, at + 1)
    bases = [m for m in found if m.role == BASE and m.items]
    mixers = [m for m in found if m.role == MIXER and m.items]
    if len(bases) != 1 or len(mixers) != 1 or len(tops) != 1:
        return ()
    [mixer], [built] = mixers, tops
    other = tuple(s for s in mixer.items if s != built)
    if not other or mixer.items_by < SLANG:
        return ()
    return ((About.MIXER, (built, *other)),)


def _one(book: Book, word: str) -> Entry | None:
    return longest(book.trie, (word,), 0)[1]
