"""How many: numbers before a drink, after it and of those; numbers that are something else."""

from __future__ import annotations

import re

from recipes.grammar.calls.atoms import BREAK, CHANGE, CONTENT, COUNT, Atom, Walk
from recipes.grammar.calls.entries import Entry
from recipes.grammar.calls.lexing import Piece
from recipes.grammar.calls.stock import BASE
from recipes.grammar.calls.tokens import BREAKS, COMMA, amount_ml
from recipes.grammar.calls.words import AGAIN, SAID_IN_UNITS, THOSE, Sign

MOST_GLASSES = 99
"""A higher number is no count of drinks: "175 of the house white" is a measure."""
_MEASURE = re.compile(r"^\d{2,4}$")


TIMES = re.compile(r"^(?:x(\d{1,3})|(\d{1,3})x|(\d{1,3}))$")


_TIMES = {
    said: n for n in range(1, MOST_GLASSES + 1) for w in {f"{n}", f"{n:02}", f"{n:03}"}
    for said in (w, f"{w}x", f"x{w}")
}  # fmt: skip
"""What `TIMES` says of every number of glasses."""


def stranger(walk: Walk, piece: Piece) -> None:
    if piece.word in BREAKS:
        walk.glue = False
        walk.atoms.append(Atom(BREAK, (), code=piece.word))
        return
    number = _TIMES.get(piece.word)
    if number is not None:
        _counted(walk, piece, number)
    elif (ml := amount_ml(piece.word)) is not None:
        walk.change("measure", walk.take(piece), f"{ml:g} {SAID_IN_UNITS}")
    elif _MEASURE.match(piece.word):
        walk.change("measure", walk.take(piece), piece.word)
    else:
        walk.unknown(walk.take(piece))


def _counted(walk: Walk, piece: Piece, number: int, *, again: bool = False) -> None:
    """A number after a drink and before a break counts that drink: "gin tonic x2"."""
    end = _past_small_talk(walk)
    nothing_more = end >= len(walk.pieces) or _parts(walk.pieces[end])
    before = walk.atoms[-1] if walk.atoms else None
    if before is not None and before.kind == BREAK and before.code == COMMA:
        last = all(p.word == COMMA or _is_small_talk(p) for p in walk.pieces[walk.at :])
        sure = last or (piece.start and walk.said[piece.start - 1].said == "(")
        before = walk.atoms[-2] if sure and len(walk.atoms) > 1 else None
    after = before is not None and before.kind in (CONTENT, CHANGE)
    code = "after" if after and nothing_more and not again else ""
    if walk.at < len(walk.pieces) and _phrase(walk.pieces[walk.at]) in THOSE:
        code = "those"
    walk.add(Atom(COUNT, walk.take(piece), code=code, number=number, exact=True, again=again))


def _past_small_talk(walk: Walk) -> int:
    """Where something more is said: "please" is nothing more."""
    at = walk.at
    while at < len(walk.pieces) and _is_small_talk(walk.pieces[at]):
        at += 1
    return at


def _is_small_talk(piece: Piece) -> bool:
    return piece.entry is not None and piece.entry.sign in (Sign.FILLER, Sign.ONLY)


def _phrase(piece: Piece) -> str:
    return piece.entry.phrase if piece.entry else ""


def _parts(piece: Piece) -> bool:
    return piece.word in BREAKS or bool(piece.entry and piece.entry.sign is Sign.AND)


def count(walk: Walk, piece: Piece, entry: Entry) -> None:
    if entry.poured is not None and _tops_a_spirit(walk):
        walk.add(Atom(CONTENT, walk.take(piece), entry.poured))
        return
    _counted(walk, piece, int(entry.value), again=entry.phrase in AGAIN)


def _tops_a_spirit(walk: Walk) -> bool:
    """ "Vodka 7", "gin and 7": right behind a spirit by itself, and before nothing else."""
    if walk.at < len(walk.pieces) and walk.pieces[walk.at].word not in BREAKS:
        return False
    behind = [a for a in walk.atoms[-2:] if a.kind != BREAK or a.code != "and"]
    entry = behind[-1].entry if behind else None
    return entry is not None and not entry.recipes and bool(entry.items) and entry.role == BASE


def article(walk: Walk, piece: Piece, entry: Entry) -> None:
    walk.atoms.append(Atom(COUNT, walk.take(piece), number=1, glued=walk.glue))
