"""Every word that a house answers to, made once for a menu and kept by whoever reads with it."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import Any

from recipes.grammar.calls.entries import Entry, Trie, longest
from recipes.grammar.calls.names import Words
from recipes.grammar.calls.stock import Stock
from recipes.grammar.calls.tokens import words_of
from recipes.grammar.ingredients import Pantry
from recipes.grammar.rules import HouseRules, Pattern


@dataclass(eq=False)
class Book:
    """The words of one menu. Nothing in it changes but what it remembers of having reckoned."""

    stock: Stock
    trie: Trie
    words: frozenset[str]
    joined: dict[str, Words]
    patterns: dict[str, Pattern]
    open_words: tuple[str, ...]  # words of names, for misspellings
    known: dict[str, Any] = field(default_factory=dict)  # word as said -> what it was taken for
    served: dict[Any, Any] = field(default_factory=dict)  # drink and changes -> what to build
    identified: dict[Any, Any] = field(default_factory=dict)
    plain: dict[str, str] = field(default_factory=dict)  # a word, or the one it is a plural of
    qualifies: dict[int, bool] = field(default_factory=dict)  # entry by its key -> "diet"
    pairs: dict[tuple[int, int], Entry] = field(default_factory=dict)  # "white or dark rum"
    buckets: Any = None
    short_spirits: tuple[str, ...] | None = None  # "gin", "rum", for misspellings
    closed: tuple[str, ...] = ()  # words of no name that change something, for misspellings
    phrases_of: dict[str, tuple[Entry, ...]] = field(default_factory=dict)
    spoken: dict[str, Any] | None = None  # names, for words that nobody can place
    sounds: dict[str, Any] | None = None  # the same by how they sound

    entries: tuple[Entry, ...] = ()

    def entries_of(self, slug: str) -> tuple[Entry, ...]:
        """Every phrase that may mean this drink or ingredient."""
        if not self.phrases_of:
            found: dict[str, list[Entry]] = defaultdict(list)
            for entry in self.entries:
                for owner in {*entry.recipes, *entry.items}:
                    found[owner].append(entry)
            self.phrases_of.update({owner: tuple(e) for owner, e in found.items()})
        return self.phrases_of.get(slug, ())

    def entry_for(self, phrase: str) -> Entry | None:
        return longest(self.trie, words_of(phrase), 0)[1]

    @property
    def rules(self) -> HouseRules:
        return self.stock.rules

    @property
    def pantry(self) -> Pantry:
        return self.stock.pantry
