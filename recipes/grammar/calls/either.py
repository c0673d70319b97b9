"""Two things with "or" between them: one of both, and which one is asked."""

from __future__ import annotations

from collections.abc import Sequence

from recipes.grammar.calls.entries import SLANG, Entry, matches
from recipes.grammar.calls.lexing import Piece, pieces
from recipes.grammar.calls.stock import BASE, MIXER
from recipes.grammar.calls.vocabulary import Book

OR = "or"
WIDEST = 4
"""Words of a thing, at most."""


def with_either(book: Book, words: list[str]) -> list[Piece]:
    """The call in phrases, "white or dark rum" as one of them. What is no pair of things that are
    poured alike stays as it is, and the word between them strange."""
    for at in range(1, len(words) - 1):
        found = _pair(book, words, at) if words[at] == OR else None
        if found is not None:
            begin, end, entry = found
            after = (
                p._replace(start=p.start + end, end=p.end + end)
                for p in with_either(book, words[end:])
            )
            return [*pieces(book, words[:begin]), Piece(entry, begin, end), *after]
    return pieces(book, words)


def _pair(book: Book, words: list[str], at: int) -> tuple[int, int, Entry] | None:
    later = [(end, e) for end, e in matches(book.trie, words, at + 1) if _is_one(e)]
    if not later:
        return None
    end, second = later[-1]
    for begin in range(max(0, at - WIDEST), at):
        first = _whole(book, words[begin:at], second)
        first = first or _whole(book, [*words[begin:at], words[end - 1]], second)
        if first is not None:
            return begin, end, _either(book, first, second)
    return None


def _whole(book: Book, words: Sequence[str], other: Entry) -> Entry | None:
    """What just these words are, where that is poured as the other one is."""
    found = (e for end, e in matches(book.trie, words, 0) if end == len(words) and _is_one(e))
    return next((e for e in found if e.role == other.role and e.items != other.items), None)


def _is_one(entry: Entry) -> bool:
    poured = entry.sign is None and len(entry.items) == 1 and not entry.weak
    return poured and entry.items_by <= SLANG and entry.role in (BASE, MIXER)


def _either(book: Book, first: Entry, second: Entry) -> Entry:
    """Kept, so that the same pair is the same phrase."""
    key = (first.key, second.key)
    if key not in book.pairs:
        pair = Entry(
            f"{first.phrase} or {second.phrase}", items=(*first.items, *second.items),
            items_by=max(first.items_by, second.items_by), key=-1 - len(book.pairs),
        )  # fmt: skip
        book.stock.weigh(pair)
        book.pairs[key] = pair
    return book.pairs[key]
