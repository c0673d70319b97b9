"""Which words make one drink: breaks and counts part drinks, the cheapest cut settles the rest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from recipes.grammar.calls.atoms import ALL, BREAK, CHANGE, CONTENT, COUNT, FORWARD, UNKNOWN, Atom
from recipes.grammar.calls.entries import Entry
from recipes.grammar.calls.identified import Identity
from recipes.grammar.calls.identity import WITH, identify
from recipes.grammar.calls.loose import Thing, is_loose
from recipes.grammar.calls.placeholder import ALONE, open_serving
from recipes.grammar.calls.qualified import is_qualifier
from recipes.grammar.calls.tokens import LINE
from recipes.grammar.calls.vocabulary import Book

MOST_THINGS = 6
"""A drink that is named by more words than this by its ingredients is not called at a bar."""
UNPLACED_COST = 8.0
LOOSE_COST = 3.0
COMMA_COST = 0.3
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


@dataclass(slots=True)
class Grouped:
    drafts: list[Draft]
    unplaced: list[int]


def group(book: Book, atoms: list[Atom]) -> Grouped:
    things = _things(book, atoms)
    unplaced = [i for a in atoms if a.kind == UNKNOWN for i in a.at]
    drafts, of_thing, lost = _cut(book, things)
    unplaced += [i for t in lost for i in t.atom.at]
    _own_base(atoms, things, drafts, of_thing)
    astray = _attach(atoms, things, drafts, of_thing)
    if unplaced and not things:  # "neat" is understood, of a thing that nobody knows
        named = {i for a in atoms if a.item for i in a.at}
        astray = [i for i in astray if i in named]
    unplaced += astray
    left = [d for d in drafts if d.count > 0]
    if len(left) > 1:
        left.sort(key=lambda d: d.rank)
    return Grouped(left, sorted(set(unplaced)) if unplaced else unplaced)


def _things(book: Book, atoms: list[Atom]) -> list[Thing]:
    found: list[Thing] = []
    sep, hard, count, within = "", False, 1, False
    for place, atom in enumerate(atoms):
        if atom.kind == BREAK:
            sep = "," if atom.code != "and" or sep == "," else "and"
            hard, within = hard or atom.code == LINE, atom.glued
        elif atom.kind == COUNT and not atom.glued and _begins(atoms, place):
            hard, count = True, atom.number
        elif atom.kind == CONTENT or _stands_alone(atoms, place):
            identity = None if atom.kind == CONTENT else open_serving(book, atom.code)
            if atom.kind != CONTENT and identity is None:
                continue
            sep = WITH if atom.glued and not sep else sep
            near = place > 0 and atoms[place - 1].kind == CONTENT
            found.append(Thing(atom, place, sep, near, hard and bool(found), count, identity,
                               within))  # fmt: skip
            sep, hard, count, within = "", False, 1, False
    if not found and not any(a.kind == UNKNOWN for a in atoms):
        found = _only_served(book, atoms)
    return found


def _begins(atoms: Sequence[Atom], place: int) -> bool:
    """Whether a count stands before a drink, past words that are said before one."""
    if atoms[place].code == "after":
        return False
    for atom in atoms[place + 1 :]:
        if atom.kind == CONTENT:
            return True
        if atom.kind != CHANGE or atom.code not in FORWARD or atom.glued:
            return _stands_alone(atoms, place + 1) if atom.kind == BREAK else False
    return _stands_alone(atoms, place + 1)


def _stands_alone(atoms: Sequence[Atom], place: int) -> bool:
    """ "A half", "two shots": how much of something, and not of what."""
    if place >= len(atoms) or atoms[place].kind != CHANGE or atoms[place].code not in ALONE:
        return False
    if place and atoms[place - 1].kind != COUNT:
        return False
    return place + 1 == len(atoms) or atoms[place + 1].kind == BREAK


def _only_served(book: Book, atoms: list[Atom]) -> list[Thing]:
    """A call of nothing but a size: "a double", "something neat"."""
    count = next((a.number for a in atoms if a.kind == COUNT and a.exact), 1)
    for place, atom in enumerate(atoms):
        if atom.kind == CHANGE and (identity := open_serving(book, atom.code)):
            return [Thing(atom, place, "", False, False, count, identity)]
    return []


def _cut(book: Book, things: list[Thing]) -> tuple[list[Draft], list[int | None], list[Thing]]:
    drafts: list[Draft] = []
    of_thing: list[int | None] = [None] * len(things)
    lost: list[Thing] = []
    begin = 0
    for end in range(1, len(things) + 1):
        if end < len(things) and not things[end].hard:
            continue
        for start, stop, identity in _best_cut(book, things[begin:end]):
            if identity is None:
                lost += things[begin + start : begin + stop]
                continue
            for at in range(begin + start, begin + stop):
                of_thing[at] = len(drafts)
            named = things[begin + start : begin + stop]
            words = tuple(i for t in named for i in t.atom.at)
            drafts.append(Draft(identity, named[0].count, at=words, rank=(len(drafts), 0)))
        begin = end
    return drafts, of_thing, lost


_Cut = tuple[int, int, Identity | None]


def _best_cut(book: Book, things: list[Thing]) -> list[_Cut]:
    """The drinks of a group without counts inside, at the least cost."""
    if len(things) == 1:
        return [(0, 1, things[0].identity or _one(book, things))]
    best: list[tuple[float, int, Identity | None]] = [(0.0, 0, None)]
    for end in range(1, len(things) + 1):
        found: tuple[float, int, Identity | None] | None = None
        for start in range(max(0, end - MOST_THINGS), end):
            cost, identity = _price(book, things, start, end)
            if cost is not None and (found is None or best[start][0] + cost < found[0]):
                found = (best[start][0] + cost, start, identity)
        best.append(found or (best[end - 1][0] + UNPLACED_COST, end - 1, None))
    cuts, end = [], len(things)
    while end:
        _, start, identity = best[end]
        cuts.append((start, end, identity))
        end = start
    return cuts[::-1]


def _one(book: Book, things: list[Thing]) -> Identity | None:
    entry = things[0].atom.entry
    return identify(book, (entry,), ()) if entry else None


def _price(
    book: Book, things: list[Thing], start: int, end: int
) -> tuple[float | None, Identity | None]:
    inside = things[start:end]
    if any(t.identity for t in inside):
        return (1.0, inside[0].identity) if len(inside) == 1 else (None, None)
    entries: tuple[Entry, ...] = tuple(t.atom.entry for t in inside if t.atom.entry)
    seps = tuple(t.sep for t in inside[1:])
    identity = identify(book, entries, seps)
    if identity is None:
        return (UNPLACED_COST, None) if len(inside) == 1 else (None, None)
    cost = 1.0 + identity.dear + COMMA_COST * seps.count(",")
    if len(inside) == 1 and (is_loose(things, start) or _says_which(book, things, start)):
        return UNPLACED_COST - LOOSE_COST, None
    return cost, identity


def _says_which(book: Book, things: list[Thing], at: int) -> bool:
    """ "Diet" right before a drink that nothing diet goes into is no drink of its own."""
    entry = things[at].atom.entry
    after = things[at + 1] if at + 1 < len(things) else None
    beside = after is not None and after.touches and after.sep == ""
    return beside and entry is not None and is_qualifier(book, entry)


def _attach(
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


def _own_base(
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
    if atom.code == "those" and owner and drafts[owner[-1]].count == 1:
        drafts[owner[-1]].count = atom.number
        return None
    follows = place + 1 < len(atoms) and atoms[place + 1].kind == CHANGE
    if atom.again and owner and not _begins(atoms, place):
        return _once_more(drafts, drafts[owner[-1]], atom.number, follows)
    if not owner or not follows or not atom.exact or atom.glued:
        if atom.exact and not atom.glued and not _begins(atoms, place):
            lost += atom.at
        return None
    whole = drafts[owner[-1]]
    if _begins(atoms, place):
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
