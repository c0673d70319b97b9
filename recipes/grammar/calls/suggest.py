"""Drinks and ingredients that words nobody placed may have been, beyond what is read as a slip."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA

from recipes.grammar.calls.tokens import BREAKS, words_of
from recipes.grammar.calls.vocabulary import Book

MOST = 3
LETTERS_A_SLIP = 3
"""A name is near where it is a slip away for every so many letters (our own choice)."""
ALIKE = 60.0
"""Below this likeness (0 to 100, rapidfuzz ratio) no name is looked at (our own choice)."""
LEAST = 4
"""Letters of what may be a name."""
LIKE_ENOUGH = 0.45
"""Slips for each letter of what is strange, at most (our own choice)."""
BY_EAR = 0.5
"""Slips that are added where only the sound is alike."""
WIDEST = 5
"""Words of a name, at most."""
MOST_LOST = 12
_SOUNDS = (
    (re.compile("ph"), "f"), (re.compile("ck|qu|[cq]"), "k"), (re.compile("x"), "ks"),
    (re.compile("dj"), "j"), (re.compile("ee|ea|ie|y"), "i"), (re.compile("oo|ou|ow"), "u"),
    (re.compile("z"), "s"), (re.compile("(?<=[a-z])h"), ""), (re.compile(r"(.)\1+"), r"\1"),
)  # fmt: skip


class Meant(NamedTuple):
    """A drink or an ingredient by its slug, and the words from `start` to `end` that it may be."""

    slug: str
    start: int
    end: int


class _Near(NamedTuple):
    slips: float  # for each letter
    is_thing: bool
    slug: str
    start: int
    end: int


def suggestions(book: Book, words: Sequence[str], lost: frozenset[int]) -> tuple[Meant, ...]:
    """The likest first. `lost` are the words that nobody placed; a name is looked for in those of
    them that are strange, and in what stands beside them: "mint joolep"."""
    strange = frozenset(n for n in lost if words[n] not in book.plain)
    if not 0 < len(strange) <= MOST_LOST:
        return ()
    near: dict[str, _Near] = {}
    for start, end in _windows(words, strange):
        for found in _like(book, words, strange, start, end):
            near[found.slug] = min(near.get(found.slug, found), found)
    best = sorted(near.values())[:MOST]
    return tuple(Meant(n.slug, n.start, n.end) for n in best)


def _windows(words: Sequence[str], strange: frozenset[int]) -> Iterator[tuple[int, int]]:
    for start in range(len(words)):
        for end in range(start + 1, min(start + WIDEST, len(words)) + 1):
            if words[end - 1] in BREAKS:
                break
            if any(at in strange for at in range(start, end)):
                yield start, end


def _like(
    book: Book, words: Sequence[str], strange: frozenset[int], start: int, end: int
) -> Iterator[_Near]:
    said = " ".join(words[start:end])
    if len(said) < LEAST or said in _names(book):
        return  # what is spelt right was heard, and has no place in this call
    known = {book.plain.get(words[at]) for at in range(start, end) if at not in strange}
    odd = " ".join(words[at] for at in range(start, end) if at in strange)
    for names, heard, extra in ((_names(book), said, 0.0), (_sounds(book), _sound(said), BY_EAR)):
        for name, _, _ in process.extract(heard, list(names), score_cutoff=ALIKE, limit=MOST * 2,
                                          scorer=fuzz.ratio):  # fmt: skip
            allowed = min(len(heard), len(name)) // LETTERS_A_SLIP
            slips = OSA.distance(heard, name, score_cutoff=allowed)
            for slug, is_thing, spelt in names[name]:
                if slips <= allowed and known < set(spelt) and _alike(odd, spelt, known):
                    yield _Near((slips + extra) / len(name), is_thing, slug, start, end)


def _alike(odd: str, spelt: tuple[str, ...], known: set[str | None]) -> bool:
    """Whether what is strange is like what the name has besides the words that are known."""
    rest = " ".join(w for w in spelt if w not in known)
    most = int(min(len(odd), len(rest)) * LIKE_ENOUGH)
    return any(OSA.distance(a, b) <= most for a, b in ((odd, rest), (_sound(odd), _sound(rest))))


Owner = tuple[str, bool, tuple[str, ...]]
Names = dict[str, tuple[Owner, ...]]


def _names(book: Book) -> Names:
    """Every name with its drink or, failing one, its ingredient; and the last word of a name, with
    all drinks that end in it: "martini"."""
    if book.spoken is None:
        found: dict[str, Owner] = {}
        kin: dict[str, dict[Owner, None]] = {}
        for is_thing, things in ((False, book.stock.drinks.values()), (True, book.pantry.values())):
            for thing in things:
                for name in (thing.name, *thing.aliases):
                    spelt = words_of(name)
                    owner = found.setdefault(" ".join(spelt), (thing.slug, is_thing, spelt))
                    if owner[:2] == (thing.slug, False) and name == thing.name:
                        kin.setdefault(spelt[-1], {})[(thing.slug, False, spelt[-1:])] = None
        named = {n: (owner,) for n, owner in found.items()}
        every = {n: tuple(owners) for n, owners in kin.items()} | named
        book.spoken = {n: owners for n, owners in every.items() if len(n) >= LEAST}
    return book.spoken


def _sounds(book: Book) -> Names:
    if book.sounds is None:
        book.sounds = {_sound(name): owners for name, owners in reversed(_names(book).items())}
    return book.sounds


def _sound(said: str) -> str:
    for pattern, instead in _SOUNDS:
        said = pattern.sub(instead, said)
    return said
