"""Every change and every count to the drink that it is said of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from recipes.grammar.calls.atoms import ALL, BREAK, CHANGE, CONTENT, COUNT, FORWARD, Atom
from recipes.grammar.calls.identified import Identity
from recipes.grammar.calls.loose import Thing
from recipes.grammar.calls.placeholder import ALONE
from recipes.grammar.calls.stock import BASE
from recipes.grammar.calls.tokens import COMMA, LINE

_MORE_OF_IT = frozenset({"double", "triple"})


MOST_EXTRA = 2
"""Of a garnish, as one more of it; a higher number is handed back."""


@dataclass(slots=True)
class Draft:
    """One drink of the round: what it is, how many, and every change with the words it came of."""

    identity: Identity
    count: int = 1
    changes: list[Atom] = field(default_factory=list)
    why_split: bool = False
    at: tuple[int, ...] = ()  # the words that name it
    rank: tuple[int, int] = (0, 0)


def begins(atoms: Sequence[Atom], place: int) -> bool:
    """Whether a count stands before a drink, past words that are said before one."""
    if atoms[place].code == "after":
        return False
    for at, atom in enumerate(atoms[place + 1 :], start=place + 1):
        if atom.kind == CONTENT or atom.opens:
            return True
        if atom.kind == BREAK and at > place + 1 and _is_of_what_follows(atoms, at - 1):
            continue
        if atom.kind != CHANGE or atom.code not in FORWARD or atom.glued:
            return stands_alone(atoms, place + 1) if atom.kind == BREAK else False
    return stands_alone(atoms, place + 1)


def stands_alone(atoms: Sequence[Atom], place: int) -> bool:
    """ "A half", "two shots": how much of something, and not of what."""
    if place >= len(atoms) or atoms[place].kind != CHANGE or atoms[place].code not in ALONE:
        return False
    if place and atoms[place - 1].kind != COUNT:
        return False
    if _is_of_what_follows(atoms, place):
        return False
    return place + 1 == len(atoms) or atoms[place + 1].kind == BREAK


def attach(
    atoms: list[Atom], things: list[Thing], drafts: list[Draft], of_thing: list[int | None]
) -> list[int]:
    """Every change to its drink; returns words of those that no drink takes."""
    places = [t.place for t in things]
    number = {place: n for n, place in enumerate(places)}
    lost: list[int] = []
    before: int | None = None
    every, split = False, None
    for place, atom in enumerate(atoms):
        if place in number:
            before, split = number[place], None
        elif atom.kind == ALL:
            every = True
        elif atom.kind == COUNT:
            split = _counted(atom, atoms, place, before, drafts, of_thing, lost)
        elif atom.kind == CHANGE:
            to = _draft_of(_owner(atoms, places, place, before), of_thing)
            taken = [split] if split else drafts if every else [drafts[d] for d in to]
            lost += _changed(taken, atom)
        elif atom.code == LINE:
            split = None
    return lost


def own_base(
    atoms: list[Atom], things: list[Thing], drafts: list[Draft], of_thing: list[int | None]
) -> None:
    """ "A screwdriver with a double vodka" is one drink: the spirit is the one in it, and what is
    said of it is said of the drink."""
    for n in range(1, len(things)):
        to, own = of_thing[n - 1], of_thing[n]
        if not things[n].within or things[n].count != 1 or None in (to, own):
            continue
        drink, spirit = drafts[to or 0], drafts[own or 0].identity
        poured = {
            p.ingredient for p in (drink.identity.build.parts if drink.identity.build else ())
        }
        between = atoms[things[n - 1].place + 1 : things[n].place]
        said = {a.code for a in between if a.kind == CHANGE}
        if (
            said
            and said <= _MORE_OF_IT
            and of_thing.count(own) == 1
            and not drink.identity.bare
            and spirit.bare in poured
        ):
            drafts[own or 0].count, of_thing[n] = 0, to


def _is_of_what_follows(atoms: Sequence[Atom], place: int) -> bool:
    """ "Three shots, tequila": a thing by itself behind the comma says of what. With one more
    drink behind it ("two pints, lager and a cider") nobody knows."""
    if place + 2 >= len(atoms) or atoms[place].code not in ALONE or atoms[place + 1].code != COMMA:
        return False
    entry = atoms[place + 2].entry
    more = any(a.kind == CONTENT for a in atoms[place + 3 :])
    return not more and entry is not None and bool(entry.items) and entry.role == BASE


def _changed(drafts: list[Draft], atom: Atom) -> tuple[int, ...]:
    for draft in drafts:
        draft.changes.append(atom)
    return () if drafts else atom.at


def _draft_of(thing: int | None, of_thing: list[int | None]) -> list[int]:
    found = of_thing[thing] if thing is not None else None
    return [] if found is None else [found]


def _owner(atoms: list[Atom], places: list[int], place: int, before: int | None) -> int | None:
    after = 0 if before is None else before + 1
    if before is None:
        return after if places else None
    if after >= len(places) or atoms[place].glued:
        return before
    parted_before = _parted(atoms, places[before] + 1, place)
    parted_after = _parted(atoms, place + 1, places[after])
    if parted_before != parted_after:
        return after if parted_before else before
    return after if not parted_before and atoms[place].code in FORWARD else before


def _once_more(drafts: list[Draft], whole: Draft, number: int, changed: bool) -> Draft | None:
    """ "And another": of the same; with changes of its own where these follow."""
    if not changed:
        whole.count += number
        return None
    rank = (whole.rank[0], len(drafts))
    more = Draft(whole.identity, number, list(whole.changes), at=whole.at, rank=rank)
    drafts.append(more)
    return more


def _parted(atoms: list[Atom], start: int, end: int) -> bool:
    return any(a.kind in (BREAK, COUNT) for a in atoms[start:end])


def _of_those(atom: Atom, drafts: list[Draft], last: Draft, lost: list[int]) -> bool:
    """ "Two of those": of one drink it says how many; of several, which ones nobody knows."""
    if len({id(d.identity) for d in drafts}) > 1:
        lost += atom.at
    elif last.count == 1:
        last.count = atom.number
    else:
        return False
    return True


def _counted(
    atom: Atom, atoms: list[Atom], place: int, before: int | None,
    drafts: list[Draft], of_thing: list[int | None], lost: list[int],
) -> Draft | None:  # fmt: skip
    """A count that begins no drink: after one ("x2"), or some of the drink before ("one no ice").

    Returns the part of the round that was split off, for the changes that follow.
    """
    owner = _draft_of(before, of_thing)
    if atom.code == "after" and owner:
        if drafts[owner[-1]].count > 1 and atom.exact:
            lost += atom.at  # "two madras, 3", "gin tonic 2 madras 3"
            return None
        drafts[owner[-1]].count = drafts[owner[-1]].count * atom.number
        return None
    if atom.code == "those" and owner and _of_those(atom, drafts, drafts[owner[-1]], lost):
        return None
    follows = place + 1 < len(atoms) and atoms[place + 1].kind == CHANGE
    if atom.again and owner and not begins(atoms, place):
        return _once_more(drafts, drafts[owner[-1]], atom.number, follows)
    if not owner or not follows or not atom.exact or atom.glued:
        if atom.exact and not atom.glued and not begins(atoms, place):
            lost += atom.at
        return None
    whole = drafts[owner[-1]]
    if begins(atoms, place):
        return None
    if whole.count == 1 and not whole.why_split and atoms[place + 1].code in ("with", "along"):
        atoms[place + 1].code = "extra"  # "two limes"
        lost += atom.at if atom.number > MOST_EXTRA else ()
        return None
    if atom.number > whole.count or (whole.count == 1 and not whole.why_split):
        lost += atom.at
        return None
    whole.count -= atom.number
    whole.why_split = True
    rank = (whole.rank[0], len(drafts))
    part = Draft(whole.identity, atom.number, list(whole.changes), at=whole.at, rank=rank)
    drafts.append(part)
    return part
