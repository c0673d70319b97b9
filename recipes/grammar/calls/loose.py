"""Words that would be a drink by themselves and beside a name are none: "peach margarita"."""

from __future__ import annotations

from dataclasses import dataclass

from recipes.grammar.calls.atoms import Atom
from recipes.grammar.calls.entries import PART, SLANG
from recipes.grammar.calls.finish import Op, citrus
from recipes.grammar.calls.identified import Identity
from recipes.grammar.calls.identity import WITH
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.ingredients import Kind


@dataclass(slots=True)
class Thing:
    """A drink or a part of one, where it stands among the atoms."""

    atom: Atom
    place: int
    sep: str  # what stands between it and the thing before it
    touches: bool  # nothing stands between it and the thing before it, not even a change
    hard: bool  # a count or a new line: it begins a drink
    count: int = 1
    identity: Identity | None = None  # of a serving by itself: "a half"
    within: bool = False  # said with the drink before it: "with a double vodka"


def is_loose(things: list[Thing], at: int) -> bool:
    """A word that nothing takes, right beside another: "peach" before margarita, "fizz" after
    gin. By itself it would be a drink; here it says how another one is meant, and nobody knows."""
    thing, entry = things[at], things[at].atom.entry
    part = entry is not None and entry.items and entry.items_by <= SLANG
    if entry is None or (entry.recipes and entry.recipes_by < PART and not part):
        return False
    if entry.weak and len(things) > 1:
        return True
    before = things[at - 1] if at and thing.touches else None
    after = things[at + 1] if at + 1 < len(things) and things[at + 1].touches else None
    if before is not None and before.atom.entry not in (entry, None):
        return not before.atom.entry.weak and thing.sep in ("", WITH)
    named = after is not None and after.atom.entry is not None and after.atom.entry.recipes
    weak = after is not None and after.atom.entry is not None and after.atom.entry.weak
    return bool(named and not weak and after is not None and after.sep in ("", WITH))


def settled(book: Book, identity: Identity, op: Op) -> Op:
    """A fruit right before a name is on the drink where it belongs there, or is a citrus; a
    strawberry mojito is another drink than a mojito."""
    code, item = op
    if code != "before":
        return op
    cores, build = book.stock.cores, identity.build
    drink = book.stock.drinks.get(identity.recipe or "")
    on_it = drink.spec.garnish if drink else (build.garnish or ()) if build else ()
    own = any(cores.get(g.item) == cores[item] for g in on_it)
    plain = own or citrus(item) or book.pantry[item].kind is Kind.RIM
    return ("with", item) if plain else op
