"""Words of a call that speak of an allergy: whoever says one is asked, never poured for.

Nothing is built from such a call, nor is a word of it taken for the ingredient that it warns of
("nut" is one slip from "nutmeg").
"""

from __future__ import annotations

from collections.abc import Container, Iterable

from recipes.grammar.calls.tokens import Token

_BEGIN = ("allerg", "intoleran", "coeliac", "celiac", "anaphyla")
_WHOLE = frozenset({
    "gluten", "lactose", "dairy", "nut", "nuts", "peanut", "peanuts", "soy", "soya", "sesame",
    "shellfish", "wheat", "sulphite", "sulphites", "sulfite", "sulfites", "epipen",
})  # fmt: skip
"""What the laws on allergens name and guests say by these words (from memory); a house that has
one in a name means that."""


def speaks_of_an_allergy(said: Iterable[Token], known: Container[str]) -> bool:
    return any(
        token.word not in known and (token.word in _WHOLE or token.word.startswith(_BEGIN))
        for token in said
    )
