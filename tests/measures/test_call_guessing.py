"""Whoever knows nothing of the house is hardly better with calls than chance, whatever they go by:
the odd one out, what is like the rest, what is offered most, where it lies, how many there are."""

from collections import Counter
from functools import cache

import pytest

from assessments.measures.call_choices import MANY
from assessments.measures.call_parts import ASPECT, Piece
from assessments.measures.call_writing import CallKind, write_calls
from recipes.grammar.aspects import fingerprint
from tests.measures.test_call_writing import bar, rushes

RUSHES = range(25)
"""500 calls."""
A_LITTLE = 0.1
"""By so much of all calls a strategy may beat chance (our own number)."""


@cache
def asked():
    """What each drink of 500 calls asks, but for what is open there: nobody could know that."""
    drinks = [d for s in RUSHES for c in write_calls(CallKind.RUSH, bar(), s) for d in c.drinks]
    assert len(drinks) == 500
    return [[p for p in drink.parts if not drink.opened_by(p)] for drink in drinks]


def words(option):
    """All that an option says: its liquid, its amount, its unit."""
    if isinstance(option, dict):
        return {w for held in option.values() for w in words(held)}
    if isinstance(option, list):
        return {w for held in option for w in words(held)}
    return {str(option)}


def likeness(part, n):
    mine = words(part.options[n])
    return sum(len(mine & words(o)) for at, o in enumerate(part.options) if at != n)


@cache
def offered():
    """How often each option is offered at all."""
    return Counter(fingerprint(o) for parts in asked() for p in parts for o in p.options)


def seen(part, n):
    return offered()[fingerprint(part.options[n])]


def one(key, best):
    return lambda part: frozenset({best(range(len(part.options)), key=lambda n: key(part, n))})


STRATEGIES = {
    "the first": one(lambda _part, n: n, min),
    "the last": one(lambda _part, n: n, max),
    "the odd one out": one(likeness, min),
    "what is like the rest": one(likeness, max),
    "offered most": one(seen, max),
    "offered least": one(seen, min),
    "nothing, or the first": lambda part: frozenset() if part.takes_several else frozenset({0}),
    "all that is like the rest": lambda part: (
        frozenset(n for n in range(len(part.options)) if likeness(part, n) >= mean(part))
        if part.takes_several
        else frozenset({0})
    ),
}


def mean(part):
    return sum(likeness(part, n) for n in range(len(part.options))) / len(part.options)


def parts_with(piece):
    return [part for parts in asked() for part in parts if part.piece is piece]


def usual(piece):
    """How often the answer that is right most often is right: what this bar does as a rule."""
    parts = parts_with(piece)
    answers = Counter(tuple(sorted(fingerprint(p.options[n]) for n in p.right)) for p in parts)
    return max(answers.values()) / len(parts)


def chance(piece):
    """One of those offered, or nothing, where that is as likely as it is in all calls."""
    parts = parts_with(piece)
    alone = sum(len(p.right) == 1 for p in parts) / sum(len(p.options) for p in parts)
    return max(alone, sum(not p.right for p in parts) / len(parts))


def rate(piece, strategy):
    parts = parts_with(piece)
    return sum(strategy(p) == p.right for p in parts) / len(parts)


@pytest.mark.parametrize("piece", [Piece.POURS, Piece.MIXERS, Piece.FINISH, Piece.GLASS])
@pytest.mark.parametrize("name", sorted(STRATEGIES))
def test_who_knows_nothing_hardly_beats_chance(name, piece):
    assert rate(piece, STRATEGIES[name]) <= chance(piece) + A_LITTLE


@pytest.mark.parametrize("piece", [Piece.ICE, Piece.HOW])
@pytest.mark.parametrize("name", sorted(STRATEGIES))
def test_of_what_a_bar_nearly_always_does_the_choices_tell_no_more_than_that(name, piece):
    """Most drinks have full ice and are built: that much is right without knowing the call."""
    assert rate(piece, STRATEGIES[name]) <= usual(piece) + 0.02


@pytest.mark.parametrize("name", sorted(STRATEGIES))
def test_nobody_builds_a_whole_call_by_such_a_trick(name):
    calls = [parts for parts in asked() if parts]
    whole = sum(all(STRATEGIES[name](p) == p.right for p in parts) for parts in calls)

    assert whole / len(calls) <= 0.03


@pytest.mark.parametrize("preset", ["us-classic", "great-britain", "europe"])
def test_every_call_goes_through_the_same_steps_with_as_many_choices(preset):
    """But where more than half of them would be right: of such a drink a few more are shown."""
    drinks = [d for c in rushes(preset) for d in c.drinks]

    assert {tuple(p.piece for p in d.parts) for d in drinks} == {
        (Piece.GLASS, Piece.ICE, Piece.HOW, Piece.POURS, Piece.MIXERS, Piece.FINISH)
    }
    for piece in ASPECT:
        plain = [p for d in drinks for p in d.parts if p.piece is piece]
        plain = [p for p in plain if 2 * len(p.right) <= MANY.get(piece, len(p.options))]
        assert len({len(p.options) for p in plain}) <= 1, piece


def test_no_choice_has_a_kind_of_its_own():
    """Beside a spirit there are spirits, each of them as one pour and as two."""
    own = [d for c in rushes() for d in c.drinks if not d.ask]
    [pours] = zip(*[[p for p in d.parts if p.piece is Piece.POURS] for d in own], strict=True)
    singles = [p for p in pours if [unit_of(o) for o in right_of(p)] == ["pour"]]
    spirits = [p for p in singles if {kind_of(o) for o in right_of(p)} == {"spirit"}]
    assert len(spirits) > 30
    for part in spirits:
        assert {kind_of(o) for o in part.options} == {"spirit"}
        said = Counter(o["poured"][0][0] for o in part.options)
        assert set(said.values()) == {2}


def right_of(part):
    return [part.options[n] for n in part.right]


def unit_of(option):
    return option["poured"][0][2] if "poured" in option else ""


def kind_of(option):
    slug = option["ingredient"] if "ingredient" in option else option["poured"][0][0]
    return bar().pantry[slug].liquor_class.value
