"""The book with its names looked up beforehand: what each phrase by itself is, and how the house
serves it unasked."""

from __future__ import annotations

from collections.abc import Iterable

from recipes.grammar.calls import vocabulary as words
from recipes.grammar.calls.identity import identify
from recipes.grammar.calls.serving import serve
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.drink import Drink
from recipes.grammar.ingredients import Pantry
from recipes.grammar.rules import HouseRules


def vocabulary(rules: HouseRules, drinks: Iterable[Drink], pantry: Pantry) -> Book:
    """The book of what is poured under these rules; the same arguments give the same book."""
    book = words.vocabulary(rules, drinks, pantry)
    for entry in book.entries:
        if entry.is_content and (known := identify(book, (entry,), ())):
            serve(book, known, ())
    return book
