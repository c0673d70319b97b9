"""What a phrase can mean: one entry for each phrase, found by its words, longest first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from recipes.grammar.calls.words import Sign

NAME, ALIAS, PATTERN, SLANG, KIND, PART = range(6)
"""How a phrase came by its meaning, strongest first: a name, another name, a pattern of the trade,
the house's slang, a kind of spirit, a word out of a name."""


@dataclass(eq=False, slots=True)
class Entry:
    """All that a phrase means. Several recipes or items: nobody can tell which without asking.

    `recipes_by` and `items_by` say how it came by them. A word such as "lager" has both: a drink
    by itself, a part where it stands beside another.
    """

    phrase: str
    sign: Sign | None = None
    value: str | int = ""
    recipes: tuple[str, ...] = ()
    recipes_by: int = PART
    items: tuple[str, ...] = ()
    items_by: int = PART
    pattern: str = ""
    family: bool = False  # its recipes differ in their base: "martini"
    bases: tuple[str, ...] = ()  # of its family, where only one of them has a recipe
    kin: tuple[str, ...] = ()  # those whose whole name is a base and this word: "gin martini"
    is_content: bool = False  # a drink, a pattern or something that is poured
    straddled: bool = False  # its end may be the beginning of a longer phrase: "whiskey ginger"
    weak: bool = False  # a word out of a name that isn't its last: an adjective, no name
    role: str = ""  # of its items: base, mixer, other, finish
    cost: int = 1
    key: int = 0
    poured: Entry | None = None  # what a number is besides: "vodka 7"

    @property
    def is_recipe(self) -> bool:
        return bool(self.recipes)


Trie = dict[str, Any]
END = ""
"""No word is empty, so this key of a node holds the entry that ends there."""


def put(trie: Trie, words: Sequence[str]) -> list[Entry]:
    """The place of a phrase: a list with its entry, or an empty one to fill."""
    node = trie
    for word in words:
        node = node.setdefault(word, {})
    place: list[Entry] = node.setdefault(END, [])
    return place


def goes_on(trie: Trie, words: Sequence[str]) -> bool:
    """Whether these words begin a phrase that has more of them."""
    node = trie
    for word in words:
        if word not in node:
            return False
        node = node[word]
    return any(word != END for word in node)


def take_out(trie: Trie, words: Sequence[str]) -> None:
    node = trie
    for word in words:
        node = node[word]
    del node[END]


def matches(trie: Trie, words: Sequence[str], start: int) -> Iterator[tuple[int, Entry]]:
    """Every phrase that begins here, by where it ends, shortest first."""
    node = trie
    for end in range(start, len(words)):
        found = node.get(words[end])
        if found is None:
            return
        node = found
        if END in node:
            yield end + 1, node[END][0]


def longest(trie: Trie, words: Sequence[str], start: int) -> tuple[int, Entry | None]:
    best, node, end = None, trie, start
    for at in range(start, len(words)):
        found = node.get(words[at])
        if found is None:
            break
        node = found
        if END in node:
            best, end = node[END][0], at + 1
    return end, best
