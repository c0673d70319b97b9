"""A call in phrases: the longest that the book has; where phrases overlap, the cheapest cover."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from recipes.grammar.calls.entries import END, Entry, Trie, longest, matches
from recipes.grammar.calls.tokens import BREAKS

if TYPE_CHECKING:
    from recipes.grammar.calls.vocabulary import Book

UNKNOWN_COST = 30
RUN_ON_COST = 2
"""A name right after a part of a drink: "vodka lime and soda" is one drink (our own choice)."""


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
    mark, content, trie = 0, False, book.trie
    while at < count:
        word = words[at]
        if word in BREAKS:
            if torn:
                found[mark:] = _cheapest(book, words, begin, at)
            found.append(Piece(None, at, at + 1, word))
            begin, torn, at, content = at + 1, False, at + 1, False
            mark = len(found)
            continue
        node = trie.get(word)
        if node is not None and len(node) == 1 and END in node:
            entry, end = node[END][0], at + 1  # no phrase goes on from this word
        else:
            end, entry = longest(trie, words, at)
        if entry is None:
            found.append(Piece(None, at, at + 1, word))
            at, content = at + 1, False
            continue
        wide = end - at > 1
        if wide:
            torn = torn or (entry.straddled and _straddled(book, words, at, end))
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


def _follows(before: Entry | None) -> bool:
    return before is not None and before.is_content and not before.is_recipe


def cheapest_of(trie: Trie, words: Sequence[str], but: Entry) -> int | None:
    """The least cost of these words as other phrases than this one; None where one is unknown."""
    best: list[int | None] = [0] + [None] * len(words)
    for at in range(len(words)):
        so_far = best[at]
        if so_far is None:
            continue
        for end, entry in matches(trie, words, at):
            known = best[end]
            if entry is not but and (known is None or so_far + entry.cost < known):
                best[end] = so_far + entry.cost
    return best[-1]


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
            if entry and entry.is_recipe and reach > at + 1 and _follows(best[at - begin][3]):
                price += RUN_ON_COST
            if (price, many + 1) < best[reach - begin][:2]:
                best[reach - begin] = (price, many + 1, at, entry)
    found, at = [], end
    while at > begin:
        _, _, start, entry = best[at - begin]
        found.append(Piece(entry, start, at, "" if entry else words[start]))
        at = start
    return found[::-1]
