"""A call in phrases: the longest that the book has; where phrases overlap, the cheapest cover."""

from __future__ import annotations

from typing import NamedTuple

from recipes.grammar.calls.entries import Entry, longest, matches
from recipes.grammar.calls.tokens import BREAKS
from recipes.grammar.calls.vocabulary import Book

UNKNOWN_COST = 30


class Piece(NamedTuple):
    """A phrase from the word at `start` up to `end`; no entry: nobody knows this word."""

    entry: Entry | None
    start: int
    end: int
    word: str = ""


def pieces(book: Book, words: list[str]) -> list[Piece]:
    """Every word once, in order; marks that part drinks stand as pieces of their own."""
    found: list[Piece] = []
    begin, torn, at, count = 0, False, 0, len(words)
    mark, content = 0, False
    while at < count:
        word = words[at]
        if word in BREAKS:
            if torn:
                found[mark:] = _cheapest(book, words, begin, at)
            found.append(Piece(None, at, at + 1, word))
            begin, torn, at, content = at + 1, False, at + 1, False
            mark = len(found)
            continue
        end, entry = longest(book.trie, words, at)
        if entry is None:
            found.append(Piece(None, at, at + 1, ""))
            at, content = at + 1, False
            continue
        wide = end - at > 1
        if wide:
            torn = torn or _straddled(book, words, at, end)
        torn = torn or (content and wide and entry.is_recipe)
        content = entry.is_content
        found.append(Piece(entry, at, end))
        at = end
    if torn:
        found[mark:] = _cheapest(book, words, begin, count)
    return found


def _straddled(book: Book, words: list[str], start: int, end: int) -> bool:
    """Whether a phrase begins inside this one and reaches beyond it: "whiskey ginger beer"."""
    limit = len(words)
    for at in range(start + 1, end):
        reach, entry = longest(book.trie, words, at)
        if entry is not None and end < reach <= limit:
            return True
    return False


def _cheapest(book: Book, words: list[str], begin: int, end: int) -> list[Piece]:
    """The cover with the least cost; of equals the one with fewer, then earlier longer phrases."""
    best: list[tuple[int, int, int, Entry | None]] = [(0, 0, begin, None)]
    best += [(1 << 30, 0, begin, None)] * (end - begin)
    for at in range(begin, end):
        cost, many, *_ = best[at - begin]
        steps = [(at + 1, None), *matches(book.trie, words, at)]
        for reach, entry in steps:
            if reach > end:
                continue
            price = cost + (entry.cost if entry else UNKNOWN_COST)
            if (price, many + 1) < best[reach - begin][:2]:
                best[reach - begin] = (price, many + 1, at, entry)
    found, at = [], end
    while at > begin:
        _, _, start, entry = best[at - begin]
        found.append(Piece(entry, start, at))
        at = start
    return found[::-1]
