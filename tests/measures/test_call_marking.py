"""How a practised call is marked: truth tables of the trade."""

import pytest

from assessments.measures.call_marking import (
    LATER,
    OPENS,
    DrinkAsked,
    DrinkGiven,
    mark_call,
    mark_drink,
)
from assessments.measures.quiz.items import BuildPart, Choice
from recipes.grammar.aspects import Aspect
from recipes.grammar.calls.reading import About

ORDER = (Aspect.GLASS, Aspect.POURS, Aspect.MIXERS, Aspect.FINISH)
RIGHT = (0, 0, 0, 0)


def part(aspect):
    choices = (Choice({"it": "right"}, "madras"), Choice({"it": "other"}, "bay-breeze"),
               Choice({"it": "third"}, "sea-breeze"))  # fmt: skip
    return BuildPart(aspect, choices, 0, (f"topic-{aspect}",))


def drink(*ask):
    return DrinkAsked("Madras", "madras", "print", tuple(part(a) for a in ORDER), ask)


def mark(asked, parts, *ask):
    return mark_drink(asked, DrinkGiven(parts, frozenset(ask)))


@pytest.mark.parametrize(
    ("parts", "ask", "came"),
    [
        (RIGHT, (), "right"),
        ((0, 1, 0, 0), (), "wrong"),
        ((0, 0, LATER, 0), (), "ask"),  # the call says which mixer
        (RIGHT, (About.SIZE,), "ask"),  # nobody said double, so nothing is open
        ((1, 0, LATER, 0), (), "wrong"),
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
        ((LATER, 0, 0, 0), (), "wrong"),  # left open, but nobody asked
        ((0, 0, 0, 0), (), "wrong"),  # built on a guess
        ((LATER, 0, 0, 0), (About.SIZE, About.GARNISH), "ask"),
        ((LATER, 0, 0, 0), (About.GARNISH,), "wrong"),
        ((LATER, 1, 0, 0), (About.SIZE,), "wrong"),
        ((LATER, LATER, 0, 0), (About.SIZE,), "ask"),  # two pours, short or tall
    ],
)
def test_of_a_double_short_or_tall_has_to_be_asked(parts, ask, came):
    assert mark(drink(About.SIZE), parts, *ask).came == came


def test_where_two_things_are_open_both_are_asked():
    asked = drink(About.SIZE, About.GARNISH)

    assert mark(asked, (LATER, 0, 0, LATER), About.SIZE, About.GARNISH).came == "right"
    half = mark(asked, (LATER, 0, 0, LATER), About.SIZE)
    assert (half.came, half.not_asked) == ("wrong", (About.GARNISH,))


def test_an_aspect_that_was_guessed_is_wrong_by_itself():
    marked = dict(mark(drink(About.SIZE), (1, 0, 0, 0)).aspects)

    assert marked == {**dict.fromkeys(ORDER, "right"), Aspect.GLASS: "wrong"}


def test_a_drink_that_nobody_knows_yet_has_no_wrong_build_once_it_was_asked_about():
    assert mark(drink(About.DRINK), (LATER,) * 4, About.DRINK).came == "right"
    assert mark(drink(About.DRINK), (1, 2, 1, 0), About.DRINK).came == "right"
    assert mark(drink(About.DRINK), (LATER,) * 4).came == "wrong"
    assert mark(drink(About.DRINK), RIGHT, About.DRINK).shows == {}


def test_asking_a_colleague_is_neither_right_nor_wrong_and_proves_nothing():
    marked = mark_drink(drink(), None)

    assert marked.came == "ask"
    assert {came for _, came in marked.aspects} == {"ask"}
    assert set(marked.shows.values()) == {False}


def test_each_aspect_shows_what_is_known_of_its_topics_and_what_is_open_shows_nothing():
    marked = mark(drink(About.SIZE), (LATER, 0, 1, LATER), About.SIZE)

    assert marked.shows == {"topic-pours": True, "topic-mixers": False, "topic-finish": False}


@pytest.mark.parametrize(
    ("parts", "other"),
    [
        ((0, 1, 1, 0), "bay-breeze"),
        ((0, 1, 0, 0), None),  # one wrong part is no other drink
        ((0, 1, 2, 0), None),
        (RIGHT, None),
    ],
)
def test_what_it_was_mixed_up_with_is_where_all_the_wrong_parts_are_from(parts, other):
    assert mark(drink(), parts).mixed_up_with == other


@pytest.mark.parametrize("parts", [(0, 0, 0), (0, 0, 0, 3), (0, 0, 0, -2), (0, 0, 0, 0, 0)])
def test_what_was_never_offered_is_refused(parts):
    with pytest.raises(ValueError, match=r"choice"):
        mark(drink(), parts)


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


def test_whatever_can_be_asked_opens_something():
    assert set(OPENS) == set(About)
    assert all(OPENS.values())


def test_nobody_guesses_among_so_many():
    assert drink().ways == 3**4 * 2 ** len(About)


def test_what_is_stored_is_read_back():
    assert DrinkAsked.from_json(drink(About.SIZE).to_json()) == drink(About.SIZE)
