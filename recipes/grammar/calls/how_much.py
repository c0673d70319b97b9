"""Words that sound like small talk and say how much: of the ice, of all the drinks, nothing else.

What the house has no rule for is handed back whole: half a glass of ice is no full one.
"""

from __future__ import annotations

from recipes.grammar.calls.atoms import ALL, CHANGE, CONTENT, COUNT, UNKNOWN, Atom, Walk
from recipes.grammar.calls.entries import Entry
from recipes.grammar.calls.lexing import Piece
from recipes.grammar.calls.stock import FINISH, MIXER
from recipes.grammar.calls.words import Sign

ICED = frozenset({"full_ice", "more_ice"})
_CUBES = frozenset({"ice cube", "cube"})
_SO_MUCH = frozenset({
    "double", "triple", "single", "half", "pint", "measure", "shot", "dry", "splash", "dash",
})  # fmt: skip
"""Said right before "ice" these may be about the ice, and no house has a rule for that."""
_PUT_ON = frozenset({"with", "along", "extra", "splash", "dash", "slice"})
_SAYS_HOW = frozenset({
    Sign.OP, Sign.NO, Sign.EXTRA, Sign.LIGHT, Sign.WITH, Sign.SPLASH, Sign.DASH, Sign.ICE,
    Sign.GARNISH, Sign.STRAW, Sign.RIM, Sign.CUT, Sign.GLASS,
})  # fmt: skip
_GOES_ON = frozenset({Sign.ICE, Sign.CUT, Sign.RIM})


def ice(walk: Walk, piece: Piece, entry: Entry) -> None:
    """So many cubes, half the ice, big ice, a glass of ice: no glass full of ice."""
    at = walk.take(piece)
    if not walk.glue and _is_a_glass(walk):
        walk.unknown((*_counts(walk), *_word_before(walk), *at))
        return
    last = walk.atoms[-1] if walk.atoms else None
    if last is not None and last.kind == COUNT and (last.exact or entry.phrase in _CUBES):
        walk.unknown((*walk.atoms.pop().at, *at))
        return
    article = _counts(walk) if not walk.glue else ()
    last = walk.atoms[-1] if walk.atoms else None
    how_much = last is not None and not walk.glue and (
        last.kind == UNKNOWN or (last.kind == CHANGE and last.code in _SO_MUCH and not last.item)
    )  # fmt: skip
    if last is not None and how_much:
        walk.unknown((*walk.atoms.pop().at, *article, *at))
    else:
        walk.change("full_ice", at)


def _is_a_glass(walk: Walk) -> bool:
    before = walk.pieces[walk.at - 2].entry if walk.at > 1 else None
    return before is not None and before.sign is Sign.GLASS_OF


def _word_before(walk: Walk) -> tuple[int, ...]:
    return walk.take(walk.pieces[walk.at - 2])


def _counts(walk: Walk) -> tuple[int, ...]:
    """The counts right before, taken back."""
    at: tuple[int, ...] = ()
    while walk.atoms and walk.atoms[-1].kind == COUNT:
        at = (*walk.atoms.pop().at, *at)
    return at


def ice_back(walk: Walk) -> tuple[int, ...]:
    """The ice that was said just before, taken back from being in the drink."""
    last = walk.atoms[-1] if walk.atoms else None
    if last is None or last.kind != CHANGE or last.code not in ICED:
        return ()
    return walk.atoms.pop().at


def every(walk: Walk, piece: Piece, entry: Entry) -> None:
    """ "All with lime", "both double": of every drink. Without anything that is said of them it
    says how many, or what goes on, and nobody knows which: "we all have a lager", "a lager each",
    "with everything"."""
    at, found = walk.take(piece), walk.target()
    thing = found[1].entry if found else None
    says_how = thing is not None and (
        thing.sign in _SAYS_HOW or (thing.sign is None and not thing.is_content)
    )
    counted = thing is not None and thing.sign is Sign.COUNT
    if walk.glue:
        if not says_how or entry.phrase == "everything":
            walk.unknown(at)
        else:
            walk.carried = at
    elif says_how or counted or entry.phrase.endswith(" with"):
        walk.atoms.append(Atom(ALL, at))
    elif (last := _change_of_one_drink(walk)) is not None:
        last.at = (*last.at, *at)
    else:
        walk.unknown(at)


def _change_of_one_drink(walk: Walk) -> Atom | None:
    """ "Two madras with lime each"."""
    last = walk.atoms[-1] if walk.atoms else None
    things = [a for a in walk.atoms if a.kind == CONTENT]
    return last if last is not None and last.kind == CHANGE and len(things) == 1 else None


def only(walk: Walk, piece: Piece, entry: Entry) -> None:
    """ "Just ice", "lime only": nothing else goes on it. Before a drink it is small talk."""
    found = walk.target()
    thing = found[1].entry if found else None
    last = walk.atoms[-1] if walk.atoms else None
    if thing is not None:
        finish = thing.sign is None and not thing.is_content and thing.role == FINISH
        said = finish or thing.sign in _GOES_ON
    else:
        said = last is not None and last.kind == CHANGE and last.code in (*ICED, *_PUT_ON)
    if said:
        walk.atoms.append(Atom(CHANGE, walk.take(piece), code="only", glued=True))


def fresh(walk: Walk, piece: Piece, entry: Entry) -> None:
    """ "Fresh orange juice": pressed now, and whether the house has it so nobody knows."""
    found = walk.target()
    thing = found[1].entry if found else None
    if thing is not None and thing.role == MIXER and not thing.recipes:
        walk.unknown(walk.take(piece))


def on_top(walk: Walk, piece: Piece, entry: Entry) -> None:
    """Behind a mixer or what goes on a drink it says nothing more."""
    last = walk.atoms[-1] if walk.atoms else None
    thing = last.entry if last is not None and last.kind == CONTENT else None
    mixer = thing is not None and not thing.recipes and thing.role == MIXER
    if last is not None and (mixer or (last.kind == CHANGE and last.code in _PUT_ON)):
        last.at = (*last.at, *walk.take(piece))
    else:
        walk.unknown(walk.take(piece))
