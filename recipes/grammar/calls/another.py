""" "And a double", "a short and a madras": another glass, and of what nobody said.

Never a change of the drink beside it: that would be poured otherwise than called, and one be
missing. Where it may be one of those that were called, or nobody can ask what it is, its words are
handed back.
"""

from __future__ import annotations

from collections.abc import Sequence

from recipes.grammar.calls.atoms import BREAK, CHANGE, CONTENT, COUNT, UNKNOWN, Atom
from recipes.grammar.calls.placeholder import ALONE, MAY_OPEN, open_serving, opener
from recipes.grammar.calls.tokens import BREAKS
from recipes.grammar.calls.vocabulary import Book

_LEFT_OUT = frozenset({"no", "no_ice", "no_rim", "no_straw", "no_garnish", "no_slice"})
_SERVED = MAY_OPEN | _LEFT_OUT | frozenset({
    "virgin", "dirty", "dry", "extra_dry", "premium", "call", "light_ice", "full_ice", "more_ice",
    "crushed_ice", "cold", "measure", "blended", "glass",
})  # fmt: skip
"""Ways to serve a drink. What is put on one ("and a lime", "and a salt rim") is on the last one."""


def other_glasses(book: Book, atoms: list[Atom]) -> None:
    """The first change of each such glass stands for it, where what it may be can be asked; the
    words of any other are handed back."""
    if not _may_be(atoms):
        return
    spare: list[Atom] = []
    named = next((n for n, a in enumerate(atoms) if a.kind == CONTENT), len(atoms))
    for start in _starts(atoms):
        said = _before(atoms, start) if start < named else []
        asked = bool(said) and _is_asked(atoms, start + len(said))
        if not said and _is_behind(atoms, start):
            said = _behind(atoms, start)
            asked = bool(said) and _is_more(atoms[: start - 1], said[0])
        if said:
            spare += _stands(book, said, asked=asked)
    _of_some(atoms)
    if spare:
        atoms[:] = [a for a in atoms if all(a is not s for s in spare)]


def _may_be(atoms: Sequence[Atom]) -> bool:
    """Told at a glance, as most calls are of one drink and have none."""
    named, last = False, ""
    for atom in atoms:
        kind = atom.kind
        if kind == CONTENT:
            named = True
        elif (kind == BREAK and last and not named) or (kind == CHANGE and last == COUNT):
            return True
        last = kind
    return False


def _starts(atoms: Sequence[Atom]) -> list[int]:
    """Where glasses may begin: at the start of the call, and behind every mark between drinks."""
    return [0, *(n + 1 for n, a in enumerate(atoms) if a.kind == BREAK and not a.glued)]


def _stands(book: Book, said: list[Atom], *, asked: bool) -> list[Atom]:
    """A glass of its own, or words that nobody places; returns the "one" of "a short one"."""
    first = opener(said)
    if not asked or first is None or not open_serving(book, first.code):
        for one in said:
            one.kind = UNKNOWN
        return []
    first.opens = True
    ones = [a for a in said[1:] if a.kind == COUNT]
    first.at = (*first.at, *(i for a in ones for i in a.at))
    return ones


def _before(atoms: Sequence[Atom], start: int) -> list[Atom]:
    """ "A double" before "and a madras"; "neat" before "and a scotch". With a comma between it is
    one where both are counted: "double, madras" is how tills write one drink."""
    said = _glass(atoms, start)
    counted = bool(said) and said[0].kind == COUNT
    mark, then = start + len(said), _past_marks(atoms, start + len(said))
    if not said or then >= len(atoms) or then == mark:
        return []
    by_and = any(a.code == "and" and not a.glued for a in atoms[mark:then])
    next_counted = atoms[then].kind == COUNT and not atoms[then].again
    next_named = counted and by_and and atoms[then].kind == CONTENT
    if not (next_counted or next_named) or not (by_and or counted):
        return []
    if not by_and and any(a.code in ALONE for a in said):  # "two shots, a tequila"
        return []
    return said if any(a.kind in (CONTENT, CHANGE) for a in atoms[then:]) else []


def _is_asked(atoms: Sequence[Atom], mark: int) -> bool:
    """ "A single and a double madras", "two doubles, a madras and a lager": of what follows?"""
    then = _past_marks(atoms, mark)
    end = next((n for n in range(then, len(atoms)) if atoms[n].kind == BREAK), len(atoms))
    kinds = [a.kind for a in atoms[then:end]]
    of_its_size = kinds[1:2] == [CHANGE] and CONTENT in kinds and atoms[then + 1].code in MAY_OPEN
    return not of_its_size and any(a.code == "and" for a in atoms[mark:then])


def _past_marks(atoms: Sequence[Atom], at: int) -> int:
    while at < len(atoms) and atoms[at].kind == BREAK:
        at += 1
    return at


def _is_behind(atoms: Sequence[Atom], start: int) -> bool:
    if not start or start >= len(atoms) or atoms[start].kind != COUNT:
        return False
    return any(a.kind == CONTENT or a.opens for a in atoms[: start - 1])


def _behind(atoms: Sequence[Atom], start: int) -> list[Atom]:
    said = _glass(atoms, start)
    if not said:
        return []
    split = said[0].exact and _is_split(atoms[: start - 1], atoms[start - 1], said[0])
    return [] if split else said


def _glass(atoms: Sequence[Atom], start: int) -> list[Atom]:
    """The atoms of the glass that begins here; none where it is no glass of nothing."""
    found: list[Atom] = []
    while start + len(found) < len(atoms) and atoms[start + len(found)].kind in (CHANGE, COUNT):
        found.append(atoms[start + len(found)])
    end = start + len(found)
    counted = bool(found) and found[0].kind == COUNT
    changes = found[1:] if counted else found
    if not changes or changes[0].kind != CHANGE:
        return []
    if end < len(atoms) and atoms[end].kind != BREAK:
        return []
    if found[0].again or (counted and found[0].code):  # "another double", "two of those tall"
        return []
    ones = [a for a in changes if a.kind == COUNT]
    if any(a.number != 1 for a in ones):
        return []
    if counted and found[0].exact:  # "and one with no lime"; "and two limes" go on the drink before
        plain = changes[0].code in ("with", "along", "straw") and not changes[0].glued
        return [] if plain else found
    return found if ones or changes[0].code in _SERVED else []


def _of_some(atoms: Sequence[Atom]) -> None:
    """ "Two madras with one no lime": of one of them, or of each? Its words are handed back."""
    for at, atom in enumerate(atoms[:-1]):
        if atom.kind != COUNT or not atom.glued or atoms[at + 1].kind != CHANGE:
            continue
        code = atoms[at + 1].code
        some = atom.exact and (atom.number < _of_the_last(atoms[:at]) or code in _SERVED)
        if some or code in _LEFT_OUT:
            end = at + 1
            while end < len(atoms) and atoms[end].kind == CHANGE:
                end += 1
            for one in atoms[at:end]:
                one.kind = UNKNOWN


def _is_split(before: Sequence[Atom], mark: Atom, count: Atom) -> bool:
    """ "Two madras, one with no ice and one double": one of those, then the other."""
    last = max((n for n, a in enumerate(before) if a.kind == BREAK), default=0)
    goes_on = any(a.kind == COUNT and a.exact for a in before[last:]) and not any(
        a.kind == CONTENT for a in before[last:]
    )
    return goes_on or (mark.code in BREAKS and _called(before) > count.number)


def _called(before: Sequence[Atom]) -> int:
    return next((a.number for a in reversed(before) if a.kind == COUNT and a.exact), 1)


def _of_the_last(before: Sequence[Atom]) -> int:
    return next((a.number for a in reversed(before) if a.kind == COUNT and not a.glued), 1)


def _is_more(before: Sequence[Atom], count: Atom) -> bool:
    """ "Two madras and one double" may be one of the two; "a madras and a double" is not."""
    return not count.exact or count.number >= _called(before)
