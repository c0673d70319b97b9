"""Drinks that are easily taken for each other, and the one thing that tells them apart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from recipes.grammar.aspects import Aspect, contents
from recipes.grammar.drink import Drink
from recipes.grammar.lookalikes import distance, nearest
from recipes.menu import Menu
from recipes.wording import aspect_words, label

NEAR = 0.25
"""Two drinks nearer than this share all but a small part of the build: the same pour and one of
two mixers, or the same things in another order. Our own choice, no source."""


@dataclass(frozen=True)
class MixedUp:
    """Two drinks by name; each aspect in which they differ, with the words of one and other."""

    one: str
    other: str
    differ: tuple[tuple[str, str, str], ...]


def easily_mixed_up(menu: Menu, drinks: Sequence[Drink], most: int = 12) -> tuple[MixedUp, ...]:
    """Pairs of a drink of these and its nearest on the whole menu, the nearest pairs first."""
    pairs: dict[frozenset[str], tuple[float, Drink, Drink]] = {}
    for drink in drinks:
        for other in nearest(drink, menu.drinks, 2):
            apart = distance(drink.spec, other.spec)
            if apart <= NEAR:
                pairs.setdefault(frozenset((drink.slug, other.slug)), (apart, drink, other))
    closest = sorted(pairs.values(), key=lambda pair: (pair[0], pair[1].slug, pair[2].slug))
    return tuple(told_apart(menu, one, other) for _apart, one, other in closest[:most])


def told_apart(menu: Menu, one: Drink, other: Drink) -> MixedUp:
    mine, theirs = contents(one.spec), contents(other.spec)
    differ = []
    for aspect in (a for a in Aspect if one.fingerprints[a] != other.fingerprints[a]):
        words = [
            ", ".join(aspect_words(aspect, content[aspect], menu.names, menu.glass_names))
            for content in (mine, theirs)
        ]
        if words[0] != words[1]:
            differ.append((label(aspect), words[0], words[1]))
    return MixedUp(one.name, other.name, tuple(differ))
