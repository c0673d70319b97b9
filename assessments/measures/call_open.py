"""What the answers to a call have in common, and what they differ in.

Whatever all of these share can be known before anybody answers, the glass of a martini; whatever
they differ in can't.
"""

from __future__ import annotations

from collections.abc import Sequence

from assessments.measures.call_build import PIECES, Build, same
from assessments.measures.call_marking import opened
from assessments.measures.call_parts import ASPECT, Piece
from recipes.grammar.aspects import Content
from recipes.grammar.calls import About


def differing(builds: Sequence[Build], asks: Sequence[About]) -> tuple[Piece, ...]:
    """What isn't the same in all of them, or waits for another answer in one."""
    waits = opened(asks)
    first, *others = builds
    return tuple(
        piece
        for piece in PIECES
        if ASPECT[piece] in waits
        or any(not _alike(piece, first.of(piece), other.of(piece)) for other in others)
    )


def _alike(piece: Piece, one: Sequence[Content], other: Sequence[Content]) -> bool:
    return len(one) == len(other) and all(any(same(piece, a, b) for b in other) for a in one)
