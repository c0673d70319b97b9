"""A pattern of the trade with its base: a rickey or a press of any spirit, a plain highball."""

from __future__ import annotations

from recipes.grammar.calls import compose
from recipes.grammar.calls.entries import Entry
from recipes.grammar.calls.identified import COSTS, Identity, item_why, titled
from recipes.grammar.calls.reading import About
from recipes.grammar.calls.stock import BASE
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.reasons import Reason


def pattern(book: Book, entry: Entry, base: Entry | None) -> Identity | None:
    made = book.patterns[entry.pattern]
    slugs = base.items if base else ((made.base,) if made.base else ())
    spirits = compose.spirits(book)
    if not base and not slugs:
        slugs = spirits
    good = tuple(s for s in slugs if s in book.pantry and compose.is_short(book, s))
    if not good:
        return None
    why = [Reason.of("call_pattern", said=entry.phrase)]
    why += [item_why(base)] if base else []
    if len(good) == 1:
        build = compose.highball(good, made.mixers, made.garnish)
        name = titled(f"{book.pantry[good[0]].name} {entry.phrase}")
        return Identity(None, build, name, tuple(why))
    build = compose.highball((), made.mixers, made.garnish)
    ask = ((About.BASE, good),)
    return Identity(None, build, entry.phrase, tuple(why), ask, dear=COSTS["open"])


def patterned(book: Book, said: tuple[Entry, ...]) -> Identity | None:
    patterns = [e for e in said if e.pattern]
    bases = [e for e in said if not e.pattern]
    if len(patterns) > 1 or len(bases) != 1 or bases[0].role != BASE or not bases[0].items:
        return None
    return pattern(book, patterns[0], bases[0])
