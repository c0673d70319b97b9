"""How a practised call is marked: truth tables of the trade."""

from dataclasses import replace

import pytest

from assessments.measures.call_marking import (
    LATER,
    MOST,
    OPENS,
    DrinkAsked,
    DrinkGiven,
    mark_call,
    mark_drink,
)
from assessments.measures.call_parts import Alike, CallPart, Piece
from recipes.grammar.aspects import Aspect
from recipes.grammar.calls.reading import About

ORDER = (Piece.GLASS, Piece.POUR, Piece.MIXERS, Piece.FINISH)
RIGHT = (0, 0, 0, 0)
ALIKE = (
    Alike("bay-breeze", (frozenset({0}), frozenset({1}), frozenset({1}), frozenset({0}))),
    Alike("sea-breeze", (None, frozenset({0}), frozenset({2}), frozenset({0}))),
)


def part(piece):
    options = ({"it": "right"}, {"it": "other"}, {"it": "third"})
    return CallPart(piece, options, frozenset({0}), (f"topic-{piece}",))


def drink(*ask):
    return DrinkAsked("Madras", "madras", "print", tuple(part(p) for p in ORDER), ask, ALIKE)


RIGHTLY = DrinkGiven(tuple(frozenset({0}) for _ in ORDER))


def mark(asked, parts, *ask):
    picked = tuple(p if p is LATER or isinstance(p, frozenset) else frozenset({p}) for p in parts)
    return mark_drink(asked, DrinkGiven(picked, frozenset(ask)))


@pytest.mark.parametrize(
    ("parts", "ask", "came"),
    [
        (RIGHT, (), "right"),
        ((0, 1, 0, 0), (), "wrong"),
        ((0, 0, LATER, 0), (About.MIXER,), "ask"),  # the call says which mixer
        ((0, 0, frozenset({0, 1}), 0), (), "wrong"),  # one more than was called
        ((0, 0, frozenset(), 0), (), "wrong"),  # nothing goes in
        (RIGHT, (About.SIZE,), "ask"),  # nobody said double, so nothing is open
        ((1, 0, LATER, 0), (About.MIXER,), "wrong"),
        ((1, 0, 0, 0), (About.SIZE,), "wrong"),
    ],
)
def test_of_a_call_that_leaves_nothing_open(parts, ask, came):
    assert mark(drink(), parts, *ask).came == came


@pytest.mark.parametrize(
    ("parts", "ask", "came"),
    [
        ((LATER, 0, 0, 0), (About.SIZE,), "right"),
        ((0, 0, 0, 0), (About.SIZE,), "right"),  # short, as long as nobody says tall
        ((2, 0, 0, 0), (About.SIZE,), "right"),  # asked: whatever the guest answers
        ((0, 0, 0, 0), (), "wrong"),  # built on a guess
        ((LATER, 0, 0, 0), (About.SIZE, About.GARNISH), "ask"),
        ((0, 0, 0, LATER), (About.GARNISH,), "wrong"),
        ((LATER, 1, 0, 0), (About.SIZE,), "wrong"),
        ((LATER, LATER, 0, 0), (About.SIZE, About.BASE), "ask"),  # two pours, short or tall
    ],
)
def test_of_a_double_short_or_tall_has_to_be_asked(parts, ask, came):
    assert mark(drink(About.SIZE), parts, *ask).came == came


def test_where_two_things_are_open_both_are_asked():
    asked = drink(About.SIZE, About.GARNISH)

    assert mark(asked, (LATER, 0, 0, LATER), About.SIZE, About.GARNISH).came == "right"
    half = mark(asked, (LATER, 0, 0, 0), About.SIZE)
    assert (half.came, half.not_asked) == ("wrong", (About.GARNISH,))


def test_an_aspect_that_was_guessed_is_wrong_by_itself():
    marked = dict(mark(drink(About.SIZE), (1, 0, 0, 0)).aspects)

    rest = dict.fromkeys((Aspect.POURS, Aspect.MIXERS, Aspect.FINISH), "right")
    assert marked == {Aspect.GLASS: "wrong", **rest}


def test_an_aspect_is_as_good_as_its_worst_part_and_a_topic_is_shown_by_all_of_its_parts():
    liquid = CallPart(Piece.POUR, ({}, {}), frozenset({0}), ("the drink",))
    size = CallPart(Piece.SIZE, ({}, {}), frozenset({0}), ("the drink", "the pour"))
    asked = DrinkAsked("Gin", "gin", "print", (liquid, size))

    marked = mark(asked, (1, 0))
    assert marked.aspects == ((Aspect.POURS, "wrong"),)
    assert marked.shows == {"the drink": False, "the pour": True}


def test_a_drink_that_nobody_knows_yet_has_no_wrong_build_once_it_was_asked_about():
    assert mark(drink(About.DRINK), (LATER,) * 4, About.DRINK).came == "right"
    assert mark(drink(About.DRINK), (1, 2, 1, 0), About.DRINK).came == "right"
    assert mark(drink(About.DRINK), (1, 2, 1, 0)).came == "wrong"
    assert mark(drink(About.DRINK), RIGHT, About.DRINK).shows == {}


def test_asking_a_colleague_is_neither_right_nor_wrong_and_proves_nothing():
    marked = mark_drink(drink(), None)

    assert marked.came == "ask"
    assert {came for _, came in marked.aspects} == {"ask"}
    assert set(marked.shows.values()) == {False}


def test_each_aspect_shows_what_is_known_of_its_topics_and_what_is_open_shows_nothing():
    marked = mark(drink(About.SIZE), (LATER, 0, 1, 1), About.SIZE)

    assert marked.shows == {"topic-pour": True, "topic-mixers": False, "topic-finish": False}


@pytest.mark.parametrize(
    ("parts", "other"),
    [
        ((0, 1, 1, 0), "bay-breeze"),
        ((1, 1, 1, 0), None),  # in a glass that neither of them has
        ((0, 0, 2, 0), "sea-breeze"),  # its mixers with what both have
        ((0, 0, 2, 1), None),
        ((0, 1, 2, 0), None),  # half of one, half of the other
        ((1, 0, 0, 0), None),  # a wrong glass makes no other drink
        (RIGHT, None),
    ],
)
def test_what_it_was_mixed_up_with_is_the_drink_that_was_built_instead(parts, other):
    assert mark(drink(), parts).mixed_up_with == other


@pytest.mark.parametrize(
    ("parts", "ask"),
    [
        ((0, 0, 0), ()),
        ((0, 0, 0, 3), ()),
        ((0, 0, 0, -1), ()),
        ((0, 0, 0, 0, 0), ()),
        ((frozenset({0, 1}), 0, 0, 0), ()),  # two glasses
        ((frozenset(), 0, 0, 0), ()),
        ((LATER, 0, 0, 0), ()),  # left out, though nothing was asked back
        ((0, 0, 0, LATER), (About.SIZE,)),
    ],
)
def test_what_is_no_whole_answer_is_refused(parts, ask):
    with pytest.raises(ValueError, match=r"choice"):
        mark(drink(), parts, *ask)


@pytest.mark.parametrize(
    ("drinks", "came"),
    [
        (["right", "right"], "right"),
        (["right", "ask"], "ask"),
        (["ask", "wrong"], "wrong"),
        (["right", "wrong"], "wrong"),
    ],
)
def test_a_round_is_as_good_as_its_worst_drink(drinks, came):
    marks = {
        "right": mark(drink(), RIGHT),
        "ask": mark_drink(drink(), None),
        "wrong": mark(drink(), (1, 0, 0, 0)),
    }

    assert mark_call([marks[d] for d in drinks]) == came


@pytest.mark.parametrize(
    ("called", "heard", "came"),
    [(1, 1, "right"), (2, 2, "right"), (2, 1, "wrong"), (1, 4, "wrong"), (6, 6, "right")],
)
def test_how_many_is_part_of_what_was_heard(called, heard, came):
    asked = replace(drink(About.SIZE), count=called)
    given = DrinkGiven((LATER, *(frozenset({0}) for _ in ORDER[1:])), frozenset({About.SIZE}))

    marked = mark_drink(asked, replace(given, count=heard))
    assert (marked.came, marked.counted) == (came, came)
    assert (marked.built, marked.asking) == ("right", "right")
    assert {outcome for _, outcome in marked.aspects} == {"right"}
    assert mark_drink(asked, None).counted == "ask"


def test_a_wrong_number_excuses_no_wrong_build_and_is_no_way_to_guess_the_drink():
    two = replace(drink(), count=2)

    for parts, built in [((1, 0, 0, 0), "wrong"), (RIGHT, "right")]:
        given = DrinkGiven(tuple(frozenset({p}) for p in parts), count=3)
        marked = mark_drink(two, given)
        assert (marked.came, marked.built) == ("wrong", built)
    assert two.ways == drink().ways


@pytest.mark.parametrize("heard", [0, -1, 5])
def test_how_many_is_one_of_those_offered(heard):
    with pytest.raises(ValueError, match="how many"):
        mark_drink(replace(drink(), count=2), replace(RIGHTLY, count=heard))


def test_the_same_is_offered_whatever_was_called_and_an_older_call_asks_for_none():
    assert {tuple(replace(drink(), count=n).counts) for n in range(1, MOST + 1)} == {(1, 2, 3, 4)}
    older = {k: v for k, v in drink().to_json().items() if k != "count"}
    assert DrinkAsked.from_json(older).count == 0
    assert mark_drink(DrinkAsked.from_json(older), RIGHTLY).came == "right"


def test_whatever_can_be_asked_opens_something():
    assert set(OPENS) == set(About)
    assert all(OPENS.values())


def test_nobody_guesses_among_so_many():
    assert drink().ways == 3 * 3 * 2**3 * 2**3 * 2 ** len(About)


def test_what_is_stored_is_read_back():
    assert DrinkAsked.from_json(drink(About.SIZE).to_json()) == drink(About.SIZE)
