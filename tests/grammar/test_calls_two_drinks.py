"""Two drinks in one breath: what is said of the second is never heard of the first."""

import itertools

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import Status
from tests.grammar.called import book

US = "us-classic"
READABLE = (
    "madras", "two screwdrivers", "old fashioned", "virgin mojito", "a double gin and tonic",
    "two draught lagers", "a tall cuba libre",
)  # fmt: skip


def told(text):
    drinks = calls.read(text, book(US)).drinks
    return [(d.count, d.recipe, {c.code for c in d.changes}) for d in drinks]


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("screwdriver", "a virgin gin and tonic"), ("screwdriver", "virgin gin and tonic"),
        ("madras", "a double gin and tonic"), ("madras", "a tall gin and tonic"),
        ("two old fashioneds", "a premium gin and tonic"), ("two lagers", "a virgin mojito"),
        ("old fashioned", "a virgin mojito"), ("madras", "two double gin and tonics"),
    ],
)  # fmt: skip
def test_what_is_said_of_the_drink_after_with_is_said_of_that_drink(first, second):
    assert told(f"{first} with {second}") == told(first) + told(second)


@pytest.mark.parametrize(("first", "second"), list(itertools.permutations(READABLE, 2)))
@pytest.mark.parametrize("joint", [" with a ", " and ", ", ", " plus ", " then "])
def test_no_drink_disappears_at_a_joint(first, second, joint):
    second = second.removeprefix("a ") if joint == " with a " else second
    reading = calls.read(first + joint + second, book(US))

    both = {recipe for _, recipe, _ in told(first) + told(second)}
    assert both <= {d.recipe for d in reading.drinks} or reading.unplaced


def test_alcohol_is_never_in_what_was_called_virgin():
    reading = calls.read("screwdriver with a virgin gin and tonic", book(US))

    assert [d.spec.alcohol_free for d in reading.drinks] == [False, True]


@pytest.mark.parametrize("text", ["gin tonic 2 madras 3", "two vodka cran three"])
def test_two_numbers_of_one_drink_are_never_multiplied(text):
    reading = calls.read(text, book(US))

    assert reading.status is not Status.READY
    assert reading.unplaced == (text.split()[-1],)


def test_how_many_olives_is_handed_back():
    assert calls.read("gin martini three olives", book(US)).unplaced == ("three",)


def test_a_round_of_nobody_knows_how_many_is_handed_back():
    reading = calls.read("a round of tequila shots", book(US))

    assert reading.status is Status.UNKNOWN
    assert "round" in " ".join(reading.unplaced)
