""" "And a double", "and a short one": another glass, and of what nobody said.

Never a change of the drink before: that would be poured otherwise than called, and one be missing.
"""

from __future__ import annotations

from collections.abc import Sequence

from recipes.grammar.calls.atoms import BREAK, CHANGE, CONTENT, COUNT, UNKNOWN, Atom
from recipes.grammar.calls.placeholder import MAY_OPEN, open_serving, opener
from recipes.grammar.calls.tokens import COMMA
from recipes.grammar.calls.vocabulary import Book

_SERVED = frozenset({
    *MAY_OPEN, "virgin", "dirty", "dry", "extra_dry", "premium", "call", "no_ice", "light_ice",
    "full_ice", "more_ice", "crushed_ice", "cold", "measure",
})  # fmt: skip
"""Ways to serve a drink. What is put on one ("and a lime", "and a salt rim") is on the last one."""


def other_glasses(book: Book, atoms: list[Atom]) -> None:
    """The first change of each such glass stands for it, where what it may be can be asked; the
    words of any other are handed back."""
    for at, atom in enumerate(atoms):
        if atom.kind != BREAK or atom.glued or atom.code not in ("and", COMMA):
            continue
        if not any(a.kind == CONTENT for a in atoms[:at]):
            continue
        said = _glass(atoms, at + 1)
        if not said or (said[0].exact and _is_split(atoms[:at], atom, said[0])):
            continue
        first = opener(said)
        if first and _is_more(atoms[:at], said[0]) and open_serving(book, first.code):
            first.opens = True
        else:
            for one in said:
                one.kind = UNKNOWN


def _glass(atoms: Sequence[Atom], start: int) -> list[Atom]:
    """The atoms of the glass that begins here; none where it is no glass of nothing."""
    if start >= len(atoms) or atoms[start].kind != COUNT:
        return []
    if atoms[start].again or atoms[start].code:  # "another double", "two of those tall"
        return []
    found, end = [atoms[start]], start + 1
    while end < len(atoms) and atoms[end].kind in (CHANGE, COUNT):
        found.append(atoms[end])
        end += 1
    changes = [a for a in found if a.kind == CHANGE]
    ends = end == len(atoms) or atoms[end].kind == BREAK
    counts = [a for a in found[1:] if a.kind == COUNT and a.number != 1]
    if not ends or not changes or counts or found[1].kind != CHANGE:
        return []
    if found[0].exact:  # "and one with no lime"; "and two limes" go on the drink before
        plain = changes[0].code in ("with", "along", "straw") and not changes[0].glued
        return [] if plain else found
    return found if changes[0].code in _SERVED else []


def _is_split(before: Sequence[Atom], mark: Atom, count: Atom) -> bool:
    """ "Two madras, one with no ice and one double": one of those, then the other."""
    last = max((n for n, a in enumerate(before) if a.kind == BREAK), default=0)
    goes_on = any(a.kind == COUNT and a.exact for a in before[last:]) and not any(
        a.kind == CONTENT for a in before[last:]
    )
    return goes_on or (mark.code == COMMA and _called(before) > count.number)


def _called(before: Sequence[Atom]) -> int:
    return next((a.number for a in reversed(before) if a.kind == COUNT and a.exact), 1)


def _is_more(before: Sequence[Atom], count: Atom) -> bool:
    """ "Two madras and one double" may be one of the two; "a madras and a double" is not."""
    return not count.exact or count.number >= _called(before)
