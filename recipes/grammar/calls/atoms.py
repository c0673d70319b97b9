"""Phrases as what they do: drinks and parts, changes with what they are about, counts, breaks.

"No", "extra", "a splash of" and their like are joined here with the thing that they speak of.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from recipes.grammar.calls.entries import Entry
from recipes.grammar.calls.lexing import Piece
from recipes.grammar.calls.tokens import Token
from recipes.grammar.calls.words import BEER_GLASS, Sign

CONTENT, CHANGE, COUNT, BREAK, ALL, UNKNOWN = "content", "change", "count", "break", "all", "?"

FORWARD = frozenset({
    "double", "triple", "single", "tall", "short", "any_spirit", "virgin", "dirty", "dry",
    "extra_dry", "premium", "call", "half", "pint", "bottle", "can", "draught", "shot", "rim",
    "before", "measure", BEER_GLASS, "cold",
})  # fmt: skip
"""Said before the drink rather than after it, where nothing else decides."""
SMALL = frozenset({Sign.FILLER, Sign.ARTICLE, Sign.GLASS_OF, Sign.ONLY, Sign.FRESH})
"""Words between a mark and what it speaks of."""


@dataclass(slots=True)
class Atom:
    """`at` are the words it was made of. `glued`: it belongs to the drink before it ("with")."""

    kind: str
    at: tuple[int, ...]
    entry: Entry | None = None
    code: str = ""
    item: str = ""
    number: int = 1
    glued: bool = False
    exact: bool = False  # a number, not just "a"
    again: bool = False  # "another"
    opens: bool = False  # stands for a glass of which nobody said what is in it: "and a double"


@dataclass(slots=True)
class Walk:
    pieces: Sequence[Piece]
    said: Sequence[Token]
    atoms: list[Atom] = field(default_factory=list)
    glue: bool = False
    at: int = 0
    carried: tuple[int, ...] = ()  # words that belong to the next atom: "with both lime and ..."

    def take(self, piece: Piece) -> tuple[int, ...]:
        if piece.end - piece.start == 1:
            return (piece.start,)
        return tuple(range(piece.start, piece.end))

    def up_to(self, at: tuple[int, ...], thing: Piece) -> tuple[int, ...]:
        """The words of a mark and of its thing, with the small ones between."""
        return tuple(range(at[0], thing.end))

    def add(self, atom: Atom) -> None:
        atom.glued = atom.glued or self.glue
        atom.at = (*self.carried, *atom.at)
        self.glue, self.carried = False, ()
        self.atoms.append(atom)

    def change(
        self, code: str, at: tuple[int, ...], item: str = "", *, glued: bool = False
    ) -> None:
        self.add(Atom(CHANGE, at, code=code, item=item, glued=glued))

    def unknown(self, at: tuple[int, ...]) -> None:
        self.add(Atom(UNKNOWN, at))

    def target(self) -> tuple[int, Piece] | None:
        """The thing that a mark speaks of: the next piece that isn't small talk, before a break."""
        at = self.at
        while at < len(self.pieces):
            piece = self.pieces[at]
            if piece.entry is None:
                return None
            if piece.entry.sign not in SMALL:
                return at, piece
            at += 1
        return None
