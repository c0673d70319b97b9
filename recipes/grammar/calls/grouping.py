"""Which words make one drink: breaks and counts part drinks, the cheapest cut settles the rest."""

from __future__ import annotations

from dataclasses import dataclass

from recipes.grammar.calls.another import other_glasses
from recipes.grammar.calls.atoms import BREAK, CHANGE, CONTENT, COUNT, UNKNOWN, Atom
from recipes.grammar.calls.attaching import Draft, attach, begins, own_base, stands_alone
from recipes.grammar.calls.entries import Entry
from recipes.grammar.calls.identified import Identity
from recipes.grammar.calls.identity import WITH, identify
from recipes.grammar.calls.loose import Thing, is_loose
from recipes.grammar.calls.placeholder import open_serving, opener
from recipes.grammar.calls.poured_in import poured_in
from recipes.grammar.calls.qualified import is_qualifier
from recipes.grammar.calls.tokens import LINE
from recipes.grammar.calls.vocabulary import Book

MOST_THINGS = 6
"""A drink that is named by more words than this by its ingredients is not called at a bar."""
UNPLACED_COST = 8.0
LOOSE_COST = 3.0
COMMA_COST = 0.3


@dataclass(slots=True)
class Grouped:
    drafts: list[Draft]
    unplaced: list[int]


def group(book: Book, atoms: list[Atom]) -> Grouped:
    other_glasses(book, atoms)
    things = _things(book, atoms)
    unplaced = [i for a in atoms if a.kind == UNKNOWN for i in a.at]
    drafts, of_thing, lost = _cut(book, things)
    if lost:
        lost = list(poured_in(book, things, drafts, of_thing))
        unplaced += [i for t in lost for i in t.atom.at]
    own_base(atoms, things, drafts, of_thing)
    astray = attach(atoms, things, drafts, of_thing)
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
        elif atom.kind == COUNT and not atom.glued and begins(atoms, place):
            hard, count = True, atom.number
        elif atom.kind == CONTENT or atom.opens or stands_alone(atoms, place):
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


def _only_served(book: Book, atoms: list[Atom]) -> list[Thing]:
    """A call of nothing but a size: "a double", "something neat"."""
    count = next((a.number for a in atoms if a.kind == COUNT and a.exact), 1)
    first = opener(atoms)
    for place, atom in enumerate(atoms):
        if first and atom.code == "tall" and atom is not first:
            continue
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
