"""What each closed word does with the words around it, and the call gone through word by word."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from recipes.grammar.calls.atoms import BREAK, CONTENT, COUNT, FORWARD, SMALL, Atom, Walk
from recipes.grammar.calls.beside import back, cut, dash, extra, light, no, rim, side, splash
from recipes.grammar.calls.counting import TIMES, article, count, stranger
from recipes.grammar.calls.entries import Entry
from recipes.grammar.calls.how_much import every, fresh, ice, on_top, only
from recipes.grammar.calls.lexing import Piece
from recipes.grammar.calls.stock import BASE, CUTS
from recipes.grammar.calls.tokens import BREAKS, COMMA, Token
from recipes.grammar.calls.words import SAID_AFTER, STEPS_UP, Sign


def atoms(pieces: Sequence[Piece], said: Sequence[Token]) -> list[Atom]:
    walk, many = Walk(pieces, said), len(pieces)
    while walk.at < many:
        piece = pieces[walk.at]
        walk.at += 1
        entry = piece.entry
        if entry is None:
            stranger(walk, piece)
        elif entry.sign in _SMALL_TALK:
            continue
        elif entry.sign is not None:
            HANDLERS[entry.sign](walk, piece, entry)
        elif entry.is_content:
            walk.add(Atom(CONTENT, walk.take(piece), entry))
        else:
            last = walk.atoms[-1] if walk.atoms else None
            joined = last is not None and last.kind == BREAK and last.code == "and"
            ahead = not walk.glue and (last is None or last.kind in (COUNT, BREAK)) and not joined
            beside = "with" if _is_cut(entry) else "along"
            code = "before" if ahead and _named_next(walk) else beside if joined else "with"
            walk.change(code, walk.take(piece), entry.items[0])
    return walk.atoms


def _is_cut(entry: Entry) -> bool:
    """ "A lime wedge" goes on it; "lime" may be in it as well."""
    return entry.phrase.rpartition(" ")[2] in CUTS


def _named_next(walk: Walk) -> bool:
    """Whether a drink by its name stands right behind."""
    entry = walk.pieces[walk.at].entry if walk.at < len(walk.pieces) else None
    return bool(entry and entry.recipes)


def _and(walk: Walk, piece: Piece, entry: Entry) -> None:
    if walk.at == len(walk.pieces) and entry.phrase not in ("then", "also"):
        walk.unknown(walk.take(piece))  # "a mojito and": more was to come
        return
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
    names = _names_a_drink(walk)
    if not besides and any(a.kind == CONTENT for a in walk.atoms) and names:
        walk.unknown(walk.take(piece))
    elif last is not None and last.kind == BREAK and not names:
        last.glued = True  # "and make it a double": the one before


def _names_a_drink(walk: Walk) -> bool:
    """Whether what comes next, past small talk, counts and sizes, is something to drink."""
    small = (*SMALL, Sign.COUNT, Sign.STEP, Sign.RETHINK)
    for piece in walk.pieces[walk.at :]:
        entry = piece.entry
        if entry is None:
            if piece.word == COMMA or TIMES.match(piece.word):
                continue
            return False
        if entry.is_content:
            return True
        if entry.sign not in small and not (entry.sign is Sign.OP and entry.value in FORWARD):
            return False
    return False


def _with(walk: Walk, piece: Piece, entry: Entry) -> None:
    if not _more_is_said(walk):
        walk.unknown(walk.take(piece))  # "a mojito with": with what, nobody knows
    elif _another_drink(walk):
        walk.atoms.append(Atom(BREAK, walk.take(piece), code="and", glued=True))
    else:
        walk.glue = True


def _more_is_said(walk: Walk) -> bool:
    """Whether anything but small talk stands before the next break."""
    rest = walk.pieces[walk.at :]
    first = next((p for p in rest if p.entry is None or p.entry.sign is not Sign.FILLER), None)
    return first is not None and first.word not in BREAKS


def _another_drink(walk: Walk) -> bool:
    """ "With a virgin mojito", "with two lagers", "with a madras": a size, a step, a way or a
    number said before a drink is of that drink, and a drink by its name is in no other one."""
    counted = changed = numbered = False
    for piece in walk.pieces[walk.at :]:
        entry = piece.entry
        if entry is None:
            if not TIMES.match(piece.word):
                return False
            numbered = True
        elif entry.sign in (Sign.ARTICLE, Sign.COUNT):
            counted, numbered = True, numbered or entry.sign is Sign.COUNT
        elif entry.sign is Sign.STEP or (
            entry.sign is Sign.OP and entry.value in (*FORWARD, "double shot")
        ):
            changed = True
        elif entry.sign not in (Sign.FILLER, Sign.ONLY, Sign.FRESH):
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


def _place(walk: Walk, piece: Piece, entry: Entry) -> None:
    """Where the drinks go; a number behind it counts none of them."""
    at = walk.take(piece)
    if walk.at < len(walk.pieces):
        behind = walk.pieces[walk.at]
        is_number = bool(behind.entry and behind.entry.sign is Sign.COUNT)
        if is_number or (behind.entry is None and behind.word.isdecimal()):
            at, walk.at = (*at, *walk.take(behind)), walk.at + 1
    walk.unknown(at)


def _garnish(walk: Walk, piece: Piece, entry: Entry) -> None:
    walk.change("garnish", walk.take(piece))


def _nameless(walk: Walk, piece: Piece, entry: Entry) -> None:
    """A drink that the trade knows and this house doesn't have; "in", and in nothing."""
    walk.unknown(walk.take(piece))


def _straw(walk: Walk, piece: Piece, entry: Entry) -> None:
    walk.change("straw", walk.take(piece))


def _step(walk: Walk, piece: Piece, entry: Entry) -> None:
    """The house's own is what is poured anyway; a step up is a bottle that must be named. Said of
    the drink behind it, else of the one before: "gin and tonic, premium"."""
    found = walk.target()
    ahead = found is not None and found[1].entry is not None and found[1].entry.is_content
    behind = any(a.kind == CONTENT for a in walk.atoms) and entry.phrase in SAID_AFTER
    last = walk.atoms[-1] if walk.atoms else None
    joined = last is not None and last.kind == BREAK and last.code == "and"
    counted = joined or (last is not None and last.kind == COUNT)
    own = entry.value not in STEPS_UP
    if not ahead and (not behind or (counted and own)):  # "a madras and a house": of what?
        walk.unknown(walk.take(piece))
    elif entry.value in STEPS_UP:
        walk.change(STEPS_UP[str(entry.value)], walk.take(piece), glued=not ahead)


def _glass(walk: Walk, piece: Piece, entry: Entry) -> None:
    walk.change("glass", walk.take(piece), str(entry.value))


_SMALL_TALK = frozenset({Sign.FILLER, Sign.GLASS_OF})
HANDLERS: dict[Sign, Callable[[Walk, Piece, Entry], None]] = {
    Sign.COUNT: count, Sign.ARTICLE: article, Sign.AND: _and, Sign.FILLER: _filler,
    Sign.ALL: every, Sign.ONLY: only, Sign.FRESH: fresh, Sign.ON_TOP: on_top,
    Sign.OP: _op, Sign.NO: no, Sign.EXTRA: extra, Sign.LIGHT: light,
    Sign.WITH: _with, Sign.IN: _nameless, Sign.SPLASH: splash, Sign.DASH: dash, Sign.BACK: back,
    Sign.SIDE: side, Sign.ICE: ice, Sign.GARNISH: _garnish, Sign.STRAW: _straw, Sign.RIM: rim,
    Sign.CUT: cut, Sign.STEP: _step, Sign.GLASS_OF: _filler, Sign.GLASS: _glass,
    Sign.PLACE: _place, Sign.RETHINK: _rethink, Sign.ELSEWHERE: _nameless, Sign.UNSOLD: _nameless,
}  # fmt: skip
