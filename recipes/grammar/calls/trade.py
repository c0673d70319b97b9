"""Words that the trade has everywhere: patterns of any spirit, and kinds of what is poured."""

from __future__ import annotations

from recipes.grammar.ingredients import Kind, Pantry
from recipes.grammar.rules import Pattern
from recipes.grammar.spec import Garnish

TRADE: dict[str, Pattern] = {
    "rickey": Pattern(mixers=("club-soda",), garnish=(Garnish(item="lime-wedge"),)),
    "press": Pattern(mixers=("ginger-ale", "club-soda")),
}
"""Patterns that hold where the house says nothing else (common practice, no source)."""

OF_A_COUNTRY: dict[str, dict[str, str]] = {
    "gb": {"black": "blackcurrant cordial"},
    "ie": {"black": "blackcurrant cordial"},
}
"""What guests of a country call things that its houses mostly have, by the word, with the name of
the thing (common practice, no source). A house that lacks it says so."""

KIND_WORDS: dict[str, Kind] = {
    "vodka": Kind.VODKA, "gin": Kind.GIN, "rum": Kind.RUM, "tequila": Kind.TEQUILA,
    "whiskey": Kind.WHISKEY, "brandy": Kind.BRANDY, "beer": Kind.BEER,
    "cider": Kind.CIDER, "wine": Kind.WINE, "vermouth": Kind.VERMOUTH, "bubbles": Kind.SPARKLING,
}  # fmt: skip


def stocked(pattern: Pattern, pantry: Pantry) -> Pattern:
    """Without a garnish that the house doesn't have."""
    left = pattern.garnish and tuple(g for g in pattern.garnish if g.item in pantry)
    return pattern.model_copy(update={"garnish": left or None})
