"""How near one ingredient is to another, when one has run out and something is to stand in.

By what it is alone: a gin for a vodka is common practice (no source), a syrup for a vodka is
another drink. Whether the guest gets what they wanted is for the person at the bar to say.
"""

from __future__ import annotations

from enum import IntEnum

from recipes.grammar.ingredients import Ingredient, Kind, LiquorClass, liquor_class

_SPIRITS = frozenset(kind for kind in Kind if liquor_class(kind) is LiquorClass.SPIRIT)
_CLOSE: tuple[frozenset[Kind], ...] = (
    _SPIRITS,
    frozenset({Kind.LIQUEUR, Kind.BITTER}),
    frozenset({Kind.JUICE, Kind.CITRUS}),
    frozenset({Kind.BEER, Kind.CIDER}),
    frozenset({Kind.FRUIT, Kind.HERB}),
)


class Nearness(IntEnum):
    """From the nearest on. Of another kind is asked about before it is said."""

    SAME = 0
    CLOSE = 1
    ANOTHER = 2


def nearness(out: Ingredient, use: Ingredient) -> Nearness:
    """How near `use` is to what is out."""
    if out.kind is use.kind:
        return Nearness.SAME
    close = any({out.kind, use.kind} <= group for group in _CLOSE)
    return Nearness.CLOSE if close else Nearness.ANOTHER
