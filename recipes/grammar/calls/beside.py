"""Marks that speak of a thing beside them: no, extra, a splash of, a slice of, a back."""

from __future__ import annotations

from recipes.grammar.calls.atoms import CHANGE, CONTENT, COUNT, Atom, Walk
from recipes.grammar.calls.backs import BETWEEN
from recipes.grammar.calls.entries import Entry
from recipes.grammar.calls.how_much import ice_back
from recipes.grammar.calls.lexing import Piece
from recipes.grammar.calls.stock import MIXER
from recipes.grammar.calls.words import Sign

_ABOUT_NO = {Sign.ICE: "no_ice", Sign.GARNISH: "no_garnish", Sign.STRAW: "no_straw",
             Sign.RIM: "no_rim"}  # fmt: skip


def no(walk: Walk, piece: Piece, entry: Entry) -> None:
    _marked(walk, piece, _ABOUT_NO, "no")


def extra(walk: Walk, piece: Piece, entry: Entry) -> None:
    _marked(walk, piece, {Sign.ICE: "more_ice"}, "extra")


def light(walk: Walk, piece: Piece, entry: Entry) -> None:
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


def cut(walk: Walk, piece: Piece, entry: Entry) -> None:
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


def splash(walk: Walk, piece: Piece, entry: Entry) -> None:
    _dosed(walk, piece, "splash")


def dash(walk: Walk, piece: Piece, entry: Entry) -> None:
    _dosed(walk, piece, "dash")


def _dosed(walk: Walk, piece: Piece, code: str) -> None:
    found, at = walk.target(), walk.take(piece)
    entry = found[1].entry if found else None
    if found and entry and len(entry.items) == 1 and entry.sign is None:
        walk.at = found[0] + 1
        walk.change(code, walk.up_to(at, found[1]), entry.items[0], glued=True)
        return
    if found and entry and entry.sign is Sign.ICE:
        walk.at = found[0] + 1
        walk.unknown(walk.up_to(at, found[1]))
        return
    before = _pop_thing(walk, MIXER)
    if before is not None and before.entry is not None:
        walk.change(code, (*before.at, *at), before.entry.items[0], glued=True)
    else:
        walk.change(code, at, glued=True)


def back(walk: Walk, piece: Piece, _entry: Entry) -> None:
    """ "Water back", "a back of water": beside the drink, in a glass of its own."""
    at = walk.take(piece)
    if iced := ice_back(walk):
        walk.unknown((*iced, *at))
        return
    before = _pop_thing(walk, "", several=True)
    if before is not None and before.entry is not None:
        item = BETWEEN.join(before.entry.items)
        walk.change("back", (*before.at, *at), item, glued=True)
        return
    if _is_no_back(walk):
        walk.unknown(at)
        return
    found = walk.target()
    entry = found[1].entry if found else None
    if found and entry and entry.items and entry.sign is None:
        walk.at = found[0] + 1
        item = BETWEEN.join(entry.items)
        walk.change("back", walk.up_to(at, found[1]), item, glued=True)
    else:
        walk.change("back", at, glued=True)


def _is_no_back(walk: Walk) -> bool:
    """ "With a whiskey sour back", "a lime back": what is mixed or cut is none."""
    last = walk.atoms[-1] if walk.atoms else None
    if last is None or not _has_more(walk):
        return False
    return last.kind == CONTENT or (last.kind == CHANGE and last.code in ("with", "along"))


def _has_more(walk: Walk) -> bool:
    return any(a.kind == CONTENT for a in walk.atoms[:-1])


def _pop_thing(walk: Walk, role: str, *, several: bool = False) -> Atom | None:
    """The thing said just before, taken back from being a drink; its article with it. `several`:
    also a word for several things, of which one is asked about."""
    if not _has_more(walk):
        return None
    last = walk.atoms[-1]
    if last.kind != CONTENT or last.entry is None or not last.entry.items:
        return None
    if len(last.entry.items) > 1 and not several:
        return None
    if role and last.entry.role != role:
        return None
    walk.atoms.pop()
    while walk.atoms and walk.atoms[-1].kind == COUNT and not walk.atoms[-1].exact:
        last.at = (*walk.atoms.pop().at, *last.at)
    return last


def side(walk: Walk, piece: Piece, entry: Entry) -> None:
    last = walk.atoms[-1] if walk.atoms else None
    if (
        last is not None
        and last.kind == CHANGE
        and last.code in ("with", "along", "extra", "slice")
    ):
        last.code, last.at = "side", (*last.at, *walk.take(piece))
    else:
        walk.unknown((*ice_back(walk), *walk.take(piece)))


def rim(walk: Walk, piece: Piece, entry: Entry) -> None:
    last = walk.atoms[-1] if walk.atoms else None
    if last is not None and last.kind == CHANGE and last.code in ("with", "along", "extra", "no"):
        last.code = "no_rim" if last.code == "no" else "rim"
        last.at = (*last.at, *walk.take(piece))
    else:
        walk.unknown(walk.take(piece))
