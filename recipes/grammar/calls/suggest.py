"""Drinks that words nobody placed may have been."""

from __future__ import annotations

from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA

from recipes.grammar.calls.tokens import words_of
from recipes.grammar.calls.vocabulary import Book

MOST = 5
LETTERS_A_SLIP = 4
"""A name is near where it is a slip away for every so many letters (our own choice)."""
ALIKE = 78.0
"""From what likeness on (0 to 100, rapidfuzz ratio) a drink is worth offering (our own choice)."""
MOST_WORDS = 12


def suggestions(book: Book, unplaced: tuple[str, ...]) -> tuple[str, ...]:
    """Slugs of the drinks whose names are most like what was said, the likest first."""
    said = " ".join(w for text in unplaced[:MOST_WORDS] for w in words_of(text))
    if len(said) < 3:
        return ()
    if book.spoken is None:
        book.spoken = {
            " ".join(words_of(n)): d.slug for d in book.stock.drinks.values()
            for n in (d.name, *d.aliases)
        }  # fmt: skip
    near = process.extract(said, list(book.spoken), scorer=fuzz.ratio, score_cutoff=ALIKE,
                           limit=MOST)  # fmt: skip
    slips = len(said) // LETTERS_A_SLIP
    close = (n for n, _, _ in near if OSA.distance(said, n, score_cutoff=slips) <= slips)
    return tuple(dict.fromkeys(book.spoken[name] for name in close))
