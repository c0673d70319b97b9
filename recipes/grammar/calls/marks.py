"""What each closed word does with the words around it, and the call gone through word by word."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from recipes.grammar.calls.atoms import (
    ALL,
    BREAK,
    CHANGE,
    CONTENT,
    COUNT,
    FORWARD,
    Atom,
    Walk,
)
from recipes.grammar.calls.entries import Entry
from recipes.grammar.calls.lexing import Piece
from recipes.grammar.calls.stock import BASE, MIXER
from recipes.grammar.calls.tokens import BREAKS, COMMA, Token
from recipes.grammar.calls.words import AGAIN, SAID_AFTER, STEPS_UP, THOSE, Sign

MOST_GLASSES = 99
"""A higher number is no count of drinks: "175 of the house white" is a measure, handed back."""
_TIMES = re.compile(r"^(?:x(\d{1,3})|(\d{1,3})x|(\d{1,3}))$")


def atoms(pieces: Sequence[Piece], said: Sequence[Token]) -> list[Atom]:
    walk = Walk(pieces, said)
    while walk.at < len(pieces):
        piece = pieces[walk.at]
        walk.at += 1
        entry = piece.entry
        if entry is None:
            _stranger(walk, piece)
        elif entry.sign is not None:
            HANDLERS[entry.sign](walk, piece, entry)
        elif entry.is_content:
            walk.add(Atom(CONTENT, walk.take(piece), entry))
        else:
            last = walk.atoms[-1] if walk.atoms else None
            joined = last is not None and last.kind == BREAK and last.code == "and"
            ahead = not walk.glue and (last is None or last.kind in (COUNT, BREAK)) and not joined
            code = "before" if ahead and _named_next(walk) else "along" if joined else "with"
            walk.change(code, walk.take(piece), entry.items[0])
    return walk.atoms


def _named_next(walk: Walk) -> bool:
    """Whether a drink by its name stands right behind."""
    entry = walk.pieces[walk.at].entry if walk.at < len(walk.pieces) else None
    return bool(entry and entry.recipes)


def _stranger(walk: Walk, piece: Piece) -> None:
    if piece.word in BREAKS:
        walk.glue = False
        walk.atoms.append(Atom(BREAK, (), code=piece.word))
        return
    found = _TIMES.match(piece.word)
    number = int(next(g for g in found.groups() if g)) if found else 0
    if found and 0 < number <= MOST_GLASSES:
        _counted(walk, piece, number)
    else:
        walk.unknown(walk.take(piece))


def _counted(walk: Walk, piece: Piece, number: int, *, again: bool = False) -> None:
    """A number after a drink and before a break counts that drink: "gin tonic x2"."""
    nothing_more = walk.at >= len(walk.pieces) or _parts(walk.pieces[walk.at])
    before = walk.atoms[-1] if walk.atoms else None
    if before is not None and before.kind == BREAK and before.code == COMMA:
        last = walk.at >= len(walk.pieces)
        sure = last or (piece.start and walk.said[piece.start - 1].said == "(")
        before = walk.atoms[-2] if sure and len(walk.atoms) > 1 else None
    after = before is not None and before.kind in (CONTENT, CHANGE)
    code = "after" if after and nothing_more and not again else ""
    if walk.at < len(walk.pieces) and _phrase(walk.pieces[walk.at]) in THOSE:
        code = "those"
    walk.add(Atom(COUNT, walk.take(piece), code=code, number=number, exact=True, again=again))


def _phrase(piece: Piece) -> str:
    return piece.entry.phrase if piece.entry else ""


def _parts(piece: Piece) -> bool:
    return piece.word in BREAKS or bool(piece.entry and piece.entry.sign is Sign.AND)


def _count(walk: Walk, piece: Piece, entry: Entry) -> None:
    _counted(walk, piece, int(entry.value), again=entry.phrase in AGAIN)


def _article(walk: Walk, piece: Piece, entry: Entry) -> None:
    walk.atoms.append(Atom(COUNT, walk.take(piece), number=1, glued=walk.glue))


def _and(walk: Walk, piece: Piece, entry: Entry) -> None:
    walk.glue = False
    walk.atoms.append(Atom(BREAK, walk.take(piece), code="and"))


def _filler(walk: Walk, piece: Piece, entry: Entry) -> None:
    """Small talk: placed, and nothing comes of it."""


def _rethink(walk: Walk, piece: Piece, entry: Entry) -> None:
    """ "Actually make it a madras" after another drink: instead of it or besides it? Nobody knows,
    so the words are handed back. Before a size or a change ("make it a double") they say nothing,
    nor behind an "and"."""
    last = walk.atoms[-1] if walk.atoms else None
    besides = last is None or (last.kind == BREAK and last.code == "and")
    if not besides and any(a.kind == CONTENT for a in walk.atoms) and _names_a_drink(walk):
        walk.unknown(walk.take(piece))


def _names_a_drink(walk: Walk) -> bool:
    """Whether what comes next, past small talk, counts and sizes, is something to drink."""
    small = (Sign.FILLER, Sign.ARTICLE, Sign.COUNT, Sign.GLASS_OF, Sign.STEP, Sign.RETHINK)
    for piece in walk.pieces[walk.at :]:
        entry = piece.entry
        if entry is None:
            if piece.word == COMMA or _TIMES.match(piece.word):
                continue
            return False
        if entry.is_content:
            return True
        if entry.sign not in small and not (entry.sign is Sign.OP and entry.value in FORWARD):
            return False
    return False


def _all(walk: Walk, piece: Piece, entry: Entry) -> None:
    walk.atoms.append(Atom(ALL, walk.take(piece)))


def _with(walk: Walk, piece: Piece, entry: Entry) -> None:
    if _another_drink(walk):
        walk.atoms.append(Atom(BREAK, walk.take(piece), code="and", glued=True))
    else:
        walk.glue = True


def _another_drink(walk: Walk) -> bool:
    """ "With a virgin mojito", "with two lagers", "with a madras": a size, a step, a way or a
    number said before a drink is of that drink, and a drink by its name is in no other one."""
    counted = changed = numbered = False
    for piece in walk.pieces[walk.at :]:
        entry = piece.entry
        if entry is None:
            if not _TIMES.match(piece.word):
                return False
            numbered = True
        elif entry.sign in (Sign.ARTICLE, Sign.COUNT):
            counted, numbered = True, numbered or entry.sign is Sign.COUNT
        elif entry.sign is Sign.STEP or (
            entry.sign is Sign.OP and entry.value in (*FORWARD, "double shot")
        ):
            changed = True
        elif entry.sign is not Sign.FILLER:
            whole = entry.is_recipe or (numbered and entry.role == BASE)
            named = counted and entry.is_recipe and not entry.items
            return (changed and entry.is_content and (counted or entry.is_recipe)) or named or (
                numbered and whole)  # fmt: skip
    return False


def _op(walk: Walk, piece: Piece, entry: Entry) -> None:
    at = walk.take(piece)
    value = str(entry.value)
    if value == "double shot":
        walk.change("double", at)
        walk.change("shot", at)
    elif value == "no_ice_slice":
        walk.change("no_ice", at)
        walk.change("slice", at)
    else:
        code, _, item = value.partition(":")
        walk.change(code, at, item)


_ABOUT_NO = {Sign.ICE: "no_ice", Sign.GARNISH: "no_garnish", Sign.STRAW: "no_straw",
             Sign.RIM: "no_rim"}  # fmt: skip


def _no(walk: Walk, piece: Piece, entry: Entry) -> None:
    _marked(walk, piece, _ABOUT_NO, "no")


def _extra(walk: Walk, piece: Piece, entry: Entry) -> None:
    _marked(walk, piece, {Sign.ICE: "full_ice"}, "extra")


def _light(walk: Walk, piece: Piece, entry: Entry) -> None:
    _marked(walk, piece, {Sign.ICE: "light_ice"}, "")


def _marked(walk: Walk, piece: Piece, signs: dict[Sign, str], code: str) -> None:
    """A mark with what it speaks of, or a word that nobody can place."""
    found, at = walk.target(), walk.take(piece)
    entry = found[1].entry if found else None
    if found is None or entry is None:
        walk.unknown(at)
        return
    where, thing = found
    both = walk.up_to(at, thing)
    if entry.sign in signs:
        walk.at = where + 1
        walk.change(signs[entry.sign], both, glued=True)
    elif entry.sign is Sign.OP and str(entry.value).startswith("rim") and code == "no":
        walk.at = where + 1
        walk.change("no_rim", both, glued=True)
    elif entry.sign is Sign.CUT and code:
        walk.at = where + 1
        _cut_of(walk, both, code)
    elif entry.items and code and entry.sign is None:
        walk.at = where + 1
        walk.change(code, both, entry.items[0], glued=True)
    else:
        walk.unknown(at)


def _cut(walk: Walk, piece: Piece, entry: Entry) -> None:
    _cut_of(walk, walk.take(piece), "with")


def _cut_of(walk: Walk, at: tuple[int, ...], code: str) -> None:
    """ "Slice of lemon"; a slice by itself is whichever belongs to the drink."""
    found = walk.target()
    entry = found[1].entry if found else None
    if found and entry and entry.items and entry.sign is None and not entry.recipes:
        walk.at = found[0] + 1
        walk.change(code, walk.up_to(at, found[1]), entry.items[0], glued=True)
        return
    last = walk.atoms[-1] if walk.atoms else None
    if last is not None and last.kind == CHANGE and last.code in ("with", "along", "extra", "no"):
        last.at = (*last.at, *at)  # "lime squeeze"
        return
    walk.change("no_slice" if code == "no" else "slice", at, glued=True)


def _splash(walk: Walk, piece: Piece, entry: Entry) -> None:
    _dosed(walk, piece, "splash")


def _dash(walk: Walk, piece: Piece, entry: Entry) -> None:
    _dosed(walk, piece, "dash")


def _dosed(walk: Walk, piece: Piece, code: str) -> None:
    found, at = walk.target(), walk.take(piece)
    entry = found[1].entry if found else None
    if found and entry and len(entry.items) == 1 and entry.sign is None:
        walk.at = found[0] + 1
        walk.change(code, walk.up_to(at, found[1]), entry.items[0], glued=True)
        return
    before = _pop_thing(walk, MIXER)
    if before is not None and before.entry is not None:
        walk.change(code, (*before.at, *at), before.entry.items[0], glued=True)
    else:
        walk.change(code, at, glued=True)


def _back(walk: Walk, piece: Piece, _entry: Entry) -> None:
    """ "Water back", "a back of water": beside the drink, in a glass of its own."""
    at = walk.take(piece)
    before = _pop_thing(walk, "")
    if before is not None and before.entry is not None:
        walk.change("back", (*before.at, *at), before.entry.items[0], glued=True)
        return
    found = walk.target()
    entry = found[1].entry if found else None
    if found and entry and entry.items and entry.sign is None:
        walk.at = found[0] + 1
        walk.change("back", walk.up_to(at, found[1]), entry.items[0], glued=True)
    else:
        walk.change("back", at, glued=True)


def _pop_thing(walk: Walk, role: str) -> Atom | None:
    """The thing said just before, taken back from being a drink; its article with it."""
    if len(walk.atoms) < 2 or not any(a.kind == CONTENT for a in walk.atoms[:-1]):
        return None
    last = walk.atoms[-1]
    if last.kind != CONTENT or last.entry is None or len(last.entry.items) != 1:
        return None
    if role and last.entry.role != role:
        return None
    walk.atoms.pop()
    while walk.atoms and walk.atoms[-1].kind == COUNT and not walk.atoms[-1].exact:
        last.at = (*walk.atoms.pop().at, *last.at)
    return last


def _side(walk: Walk, piece: Piece, entry: Entry) -> None:
    last = walk.atoms[-1] if walk.atoms else None
    if (
        last is not None
        and last.kind == CHANGE
        and last.code in ("with", "along", "extra", "slice")
    ):
        last.code, last.at = "side", (*last.at, *walk.take(piece))
    else:
        walk.unknown(walk.take(piece))


def _ice(walk: Walk, piece: Piece, entry: Entry) -> None:
    walk.change("full_ice", walk.take(piece))


def _garnish(walk: Walk, piece: Piece, entry: Entry) -> None:
    walk.change("garnish", walk.take(piece))


def _nameless(walk: Walk, piece: Piece, entry: Entry) -> None:
    """A drink that the trade knows and this house doesn't have; "in", and in nothing."""
    walk.unknown(walk.take(piece))


def _straw(walk: Walk, piece: Piece, entry: Entry) -> None:
    walk.change("straw", walk.take(piece))


def _rim(walk: Walk, piece: Piece, entry: Entry) -> None:
    last = walk.atoms[-1] if walk.atoms else None
    if last is not None and last.kind == CHANGE and last.code in ("with", "along", "extra", "no"):
        last.code = "no_rim" if last.code == "no" else "rim"
        last.at = (*last.at, *walk.take(piece))
    else:
        walk.unknown(walk.take(piece))


def _step(walk: Walk, piece: Piece, entry: Entry) -> None:
    """The house's own is what is poured anyway; a step up is a bottle that must be named. Said of
    the drink behind it, else of the one before: "gin and tonic, premium"."""
    found = walk.target()
    ahead = found is not None and found[1].entry is not None and found[1].entry.is_content
    behind = any(a.kind == CONTENT for a in walk.atoms) and entry.phrase in SAID_AFTER
    if not ahead and not behind:
        walk.unknown(walk.take(piece))
    elif entry.value in STEPS_UP:
        walk.change(STEPS_UP[str(entry.value)], walk.take(piece), glued=not ahead)


def _glass(walk: Walk, piece: Piece, entry: Entry) -> None:
    walk.change("glass", walk.take(piece), str(entry.value))


HANDLERS: dict[Sign, Callable[[Walk, Piece, Entry], None]] = {
    Sign.COUNT: _count, Sign.ARTICLE: _article, Sign.AND: _and, Sign.FILLER: _filler,
    Sign.ALL: _all, Sign.OP: _op, Sign.NO: _no, Sign.EXTRA: _extra, Sign.LIGHT: _light,
    Sign.WITH: _with, Sign.IN: _nameless, Sign.SPLASH: _splash, Sign.DASH: _dash, Sign.BACK: _back,
    Sign.SIDE: _side, Sign.ICE: _ice, Sign.GARNISH: _garnish, Sign.STRAW: _straw, Sign.RIM: _rim,
    Sign.CUT: _cut, Sign.STEP: _step, Sign.GLASS_OF: _filler, Sign.GLASS: _glass,
    Sign.RETHINK: _rethink, Sign.ELSEWHERE: _nameless, Sign.UNSOLD: _nameless,
}  # fmt: skip
