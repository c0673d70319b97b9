"""A word that says which kind of a mixer it is, by itself: "diet" is diet cola, and with another
mixer that one's own diet kind."""

from __future__ import annotations

from recipes.grammar.calls import compose
from recipes.grammar.calls.entries import Entry
from recipes.grammar.calls.identified import Identity
from recipes.grammar.calls.kinship import other_mixer
from recipes.grammar.calls.stock import MIXER
from recipes.grammar.calls.tokens import words_of
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.spec import How


def is_qualifier(book: Book, entry: Entry) -> bool:
    """Whether it is the first word of a mixer of which the rest is a mixer too."""
    found = book.qualifies.get(entry.key)
    if found is None:
        found = book.qualifies[entry.key] = _is_qualifier(book, entry)
    return found


def _is_qualifier(book: Book, entry: Entry) -> bool:
    if entry.role != MIXER or len(entry.items) != 1:
        return False
    item = book.pantry[entry.items[0]]
    for word, *rest in map(words_of, (item.name, *item.aliases)):
        if rest and entry.phrase == word:
            plain = book.stock.mixers_called.get(tuple(rest))
            # Tonic is no kind of water.
            return plain is not None and not compose.lengthens(book, plain)
    return False


def of_its_kind(book: Book, entry: Entry, mixer: str) -> str | None:
    """This mixer, in the kind that the word says; None where the house has none."""
    item, called = book.pantry[mixer], book.stock.mixers_called
    found = (called.get((entry.phrase, *words_of(n))) for n in (item.name, *item.aliases))
    return next((slug for slug in found if slug), None)


def requalified(
    book: Book, said: tuple[Entry, ...], seps: tuple[str, ...]
) -> tuple[tuple[Entry, ...], tuple[str, ...]] | None:
    """The things said with their kind in them: diet, rum, cola is rum and diet cola. None where a
    mixer is there and doesn't come in that kind."""
    words = [e for e in said if is_qualifier(book, e)]
    others = [e for e in said if e.role == MIXER and len(e.items) == 1 and e not in words]
    if len(words) != 1 or not others:
        return said, seps
    kinds = {e.key: of_its_kind(book, words[0], e.items[0]) for e in others}
    found = [(e, slug) for e in others if (slug := kinds[e.key])]
    if len(found) != 1:
        return None
    [(mixer, slug)] = found
    meant = book.entry_for(book.pantry[slug].name)
    if meant is None:
        return None
    at = said.index(words[0])
    left = tuple(meant if e is mixer else e for e in said if e is not words[0])
    return left, (*seps[: max(at - 1, 0)], *seps[max(at, 1) :]) if at else seps[1:]


def in_its_kind(book: Book, said: tuple[Entry, ...], known: Identity) -> Identity | None:
    """A drink of the house with its mixer in that kind: "diet rum and cola"."""
    words = [e for e in said if is_qualifier(book, e)]
    if len(said) != 2 or len(words) != 1 or known.build is None or known.ask:
        return None
    tops = [p.ingredient for p in known.build.parts if p.how is How.TOP]
    found = [(t, slug) for t in tops if (slug := of_its_kind(book, words[0], t))]
    return other_mixer(book, known, *found[0]) if len(found) == 1 else None
