"""The book with its names looked up beforehand: what each phrase by itself is, and how the house
serves it unasked."""

from __future__ import annotations

from collections.abc import Iterable

from recipes.grammar.calls import making
from recipes.grammar.calls.identity import identify
from recipes.grammar.calls.reader import read
from recipes.grammar.calls.reading import Reading
from recipes.grammar.calls.serving import serve
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.drink import Drink
from recipes.grammar.ingredients import Pantry
from recipes.grammar.rules import HouseRules


def vocabulary(
    rules: HouseRules,
    drinks: Iterable[Drink],
    pantry: Pantry,
    unsold: Iterable[tuple[str, str]] = (),
) -> Book:
    """The book of what is poured under these rules; the same arguments give the same book.

    `unsold`: what drinks that are not on the menu are called, and their names. Those that can be
    built of what is there are read as that: a gin and tonic is one, whatever the menu says.
    """
    sold = tuple(drinks)
    book = making.vocabulary(rules, sold, pantry)
    names = [(said, name) for said, name in unsold if not _is_drink(read(said, book))]
    if names:
        book = making.vocabulary(rules, sold, pantry, names)
    for entry in book.entries:
        if entry.is_content and (known := identify(book, (entry,), ())):
            serve(book, known, ())
    return book


def _is_drink(reading: Reading) -> bool:
    return bool(reading.drinks) and not reading.unplaced
