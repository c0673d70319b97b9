"""A liquid that is no drink by itself beside a drink: "cider and black", "vodka and lime juice".

A splash of it goes in where the drink is one pour, a beer or a pour and its mixers; what is shaken
and stirred has its measures, and the words are handed back.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from recipes.grammar.calls import compose
from recipes.grammar.calls.atoms import CHANGE, Atom
from recipes.grammar.calls.attaching import Draft
from recipes.grammar.calls.identified import Identity
from recipes.grammar.calls.loose import Thing
from recipes.grammar.calls.stock import OTHER
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.ingredients import Kind
from recipes.grammar.spec import How

_POURED = frozenset({Kind.CITRUS, Kind.SYRUP})


def poured_in(
    book: Book, things: Sequence[Thing], drafts: list[Draft], of_thing: Sequence[int | None]
) -> Iterator[Thing]:
    """The things without a drink that none of the drinks takes; the others become its splashes."""
    for at, thing in enumerate(things):
        if of_thing[at] is not None:
            continue
        before = of_thing[at - 1] if at and not thing.hard and thing.sep != "," else None
        item = _liquid(book, thing)
        if item and before is not None and _takes(book, drafts[before].identity):
            drafts[before].changes.append(Atom(CHANGE, thing.atom.at, code="splash", item=item))
        else:
            yield thing


def _liquid(book: Book, thing: Thing) -> str:
    entry = thing.atom.entry
    if entry is None or entry.role != OTHER or entry.recipes or len(entry.items) != 1:
        return ""
    [item] = entry.items
    return item if book.pantry[item].kind in _POURED and not book.stock.is_strong(item) else ""


def _takes(book: Book, identity: Identity) -> bool:
    build = identity.build
    if build is None:
        return False
    if len(build.parts) == 1:
        return True
    plain = [p.how for p in build.parts] == [How.MEASURED, *[How.TOP] * (len(build.parts) - 1)]
    return plain and compose.is_short(book, build.parts[0].ingredient)
