"""What somebody chooses who builds a call: glass, ice, liquids one by one, what tops it up, what
goes on it. Never a bundle of liquids: each is taken by itself, as one pour of it or as two."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from recipes.grammar.aspects import Aspect, Content


class Piece(StrEnum):
    """In the order of the bar."""

    GLASS = "glass"
    ICE = "ice"
    HOW = "how"  # built, shaken, drawn
    POUR = "pour"  # the one liquid that is measured; only in calls from before all had POURS
    SIZE = "size"  # of which it is one pour or two; as POUR
    POURS = "pours"  # each liquid with its amount
    MIXERS = "mixers"
    FINISH = "finish"


ASPECT: dict[Piece, Aspect] = {
    Piece.GLASS: Aspect.GLASS,
    Piece.ICE: Aspect.METHOD,
    Piece.HOW: Aspect.METHOD,
    Piece.POUR: Aspect.POURS,
    Piece.SIZE: Aspect.POURS,
    Piece.POURS: Aspect.POURS,
    Piece.MIXERS: Aspect.MIXERS,
    Piece.FINISH: Aspect.FINISH,
}
SEVERAL = frozenset({Piece.POURS, Piece.MIXERS, Piece.FINISH})
"""Of these any number is taken, none too."""
IDENTITY = frozenset({Piece.POUR, Piece.POURS, Piece.MIXERS})
"""What makes it this drink and no other."""

Picked = frozenset[int]


@dataclass(frozen=True)
class CallPart:
    """One choice: `right` are indexes into `options`; none of them means that nothing goes there.
    `topics` are fingerprints of what a right choice is evidence for, together with the other
    parts that name them."""

    piece: Piece
    options: tuple[Content, ...]
    right: Picked
    topics: tuple[str, ...] = ()

    @property
    def aspect(self) -> Aspect:
        return ASPECT[self.piece]

    @property
    def takes_several(self) -> bool:
        return self.piece in SEVERAL

    @property
    def ways(self) -> int:
        """How many answers there are to guess among."""
        return int(2 ** len(self.options)) if self.takes_several else len(self.options)

    def can_be(self, picked: Picked) -> bool:
        """Whether this is an answer at all."""
        offered = all(0 <= n < len(self.options) for n in picked)
        return offered and (self.takes_several or len(picked) == 1)

    def to_json(self) -> dict[str, Any]:
        return {
            "piece": self.piece.value,
            "options": [dict(o) for o in self.options],
            "right": sorted(self.right),
            "topics": list(self.topics),
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> CallPart:
        return cls(
            piece=Piece(data["piece"]),
            options=tuple(data["options"]),
            right=frozenset(data["right"]),
            topics=tuple(data["topics"]),
        )


@dataclass(frozen=True)
class Alike:
    """Another drink as these choices would build it, a set a part; None where they can't."""

    recipe: str
    picks: tuple[Picked | None, ...]

    def to_json(self) -> list[Any]:
        return [self.recipe, [None if p is None else sorted(p) for p in self.picks]]

    @classmethod
    def from_json(cls, data: Sequence[Any]) -> Alike:
        recipe, picks = data
        return cls(recipe, tuple(None if p is None else frozenset(p) for p in picks))
