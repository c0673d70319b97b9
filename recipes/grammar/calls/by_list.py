"""A name that only lists what is in it, where the house's list of words gives its mixer another
meaning: "vodka lemonade" is fizzy where the list says that lemonade is, whatever the recipe has."""

from __future__ import annotations

from collections.abc import Sequence

from recipes.grammar.calls import compose
from recipes.grammar.calls.entries import Entry
from recipes.grammar.calls.identified import Ask, Identity, listed, named_why
from recipes.grammar.calls.reading import About
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.reasons import Reason


def by_the_list(book: Book, entry: Entry, asks: Sequence[Ask]) -> Identity | None:
    """`asks` is the doubt about its mixer (`compose.doubt`). None where the list says nothing of
    it: then the doubt stands, and is asked."""
    parts = compose.plain_parts(book, entry.recipes[0]) if asks else None
    if parts is None or len(asks) != 1 or asks[0][0] is not About.MIXER:
        return None
    [(_about, (built, *others))] = asks
    word = next((w for w in entry.phrase.split() if book.stock.slang.get(w) in others), "")
    if not word or built not in parts:
        return None
    meant = book.stock.slang[word]
    build = compose.highball(parts[:1], tuple(meant if p == built else p for p in parts[1:]))
    told = {"said": word, "ingredient": meant, "instead": built}
    why = (
        named_why(entry.recipes_by, entry.phrase, entry.recipes[0]),
        Reason.of("call_word_outdone", **told),
    )
    name = listed([book.pantry[p.ingredient].name for p in build.parts])
    return Identity(None, build, name, why)
