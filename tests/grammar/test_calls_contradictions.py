"""What a guest takes back or says twice over: never built as if both had been meant."""

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import About, Status
from tests.grammar.called import book

US = "us-classic"


def told(reading):
    return [(d.count, d.recipe, [c.code for c in d.changes]) for d in reading.drinks]


@pytest.mark.parametrize(
    ("call", "unplaced"),
    [
        ("vodka cran, actually make it a madras", "actually make it"),
        ("vodka cran make that a madras", "make that"),
        ("two madras, actually two screwdrivers", "actually"),
        ("a madras, change it to a double gin and tonic", "change it to"),
        ("a madras, scratch that, a gin and tonic", "scratch that"),
        ("gin and tonic, i mean madras", "i mean"),
        ("madras, no wait, screwdriver", "no wait"),
    ],
)
def test_a_drink_said_instead_of_another_is_never_ready_as_both(call, unplaced):
    reading = calls.read(call, book(US))

    assert reading.status is not Status.READY
    assert " ".join(reading.unplaced) == unplaced


@pytest.mark.parametrize(
    ("call", "drinks"),
    [
        ("actually a madras", [(1, "madras", [])]),
        ("make it a madras", [(1, "madras", [])]),
        ("a madras, make it tall", [(1, "madras", ["tall"])]),
        ("a madras, make it three", [(3, "madras", [])]),
        ("a madras actually", [(1, "madras", [])]),
        ("a madras and actually a cuba libre", [(1, "madras", []), (1, "cuba-libre", [])]),
        ("can you make it a double madras, no ice", [(1, "madras", ["double", "no_ice"])]),
    ],
)
def test_words_of_taking_back_say_nothing_where_nothing_is_taken_back(call, drinks):
    reading = calls.read(call, book(US))

    assert reading.unplaced == ()
    assert told(reading) == drinks


@pytest.mark.parametrize(
    ("call", "ways"),
    [
        ("whiskey neat on the rocks", {"neat", "rocks"}),
        ("whiskey on the rocks neat", {"neat", "rocks"}),
        ("whiskey on the rocks, no ice", {"neat", "rocks"}),
        ("whiskey no ice on the rocks", {"neat", "rocks"}),
        ("gin neat with ice", {"neat", "rocks"}),
        ("vodka up on the rocks", {"up", "rocks"}),
        ("two gins on the rocks, up", {"up", "rocks"}),
    ],
)
def test_two_ways_of_serving_one_spirit_ask_which(call, ways):
    reading = calls.read(call, book(US))
    [question] = reading.ask

    assert (question.about, set(question.choices)) == (About.STYLE, ways)


@pytest.mark.parametrize("call", ["manhattan up on the rocks", "frozen margarita on the rocks"])
def test_a_second_way_of_serving_a_drink_is_handed_back(call):
    assert calls.read(call, book(US)).unplaced == ("on", "the", "rocks")


def test_without_ice_the_rocks_are_no_choice():
    [question] = calls.read("whiskey no ice", book(US)).ask

    assert question.choices == ("neat", "shot", "mixer")


@pytest.mark.parametrize("call", ["vodka no ice up", "whiskey neat, no ice", "whiskey neat, neat"])
def test_what_agrees_is_no_contradiction(call):
    assert calls.read(call, book(US)).status is Status.READY


@pytest.mark.parametrize(
    ("call", "recipe", "count"),
    [
        ("screwdriver with a double vodka", "screwdriver", 1),
        ("gin and tonic with a double gin", "gin-and-tonic", 1),
        ("two screwdrivers with a double vodka", "screwdriver", 2),
        ("whiskey sour with a double whiskey", "whiskey-sour", 1),
    ],
)
def test_a_double_of_the_drink_s_own_spirit_is_a_double_of_the_drink(call, recipe, count):
    reading = calls.read(call, book(US))

    assert told(reading) == [(count, recipe, ["double"])]
    assert [q.about for q in reading.ask] == [About.SIZE]


def test_a_double_of_another_spirit_is_never_poured_into_the_drink_unasked():
    reading = calls.read("screwdriver with a double gin", book(US))

    assert reading.status is not Status.READY
    assert [d.recipe for d in reading.drinks] == ["screwdriver", None]


@pytest.mark.parametrize(
    ("call", "handed_back"),
    [
        ("tall short vodka tonic", "short"),
        ("double tall short vodka tonic", "short"),
        ("vodka tonic extra lime no garnish", "no garnish"),
        ("vodka tonic no garnish extra lime", "extra lime"),
        ("vodka tonic extra lime no lime", "no lime"),
        ("margarita with salt no salt", "no salt"),
        ("margarita no salt with salt", "salt"),
        ("vodka martini dirty extra olives no olives", "no olives"),
        ("vodka tonic with a straw no straw", "no straw"),
    ],
)
def test_of_two_changes_against_each_other_the_second_is_handed_back(call, handed_back):
    reading = calls.read(call, book(US))

    assert reading.status is not Status.READY
    assert " ".join(reading.unplaced) == handed_back


@pytest.mark.parametrize(
    ("call", "changes"),
    [
        ("margarita no salt no garnish", ["no_rim", "no_garnish"]),
        ("margarita no salt sugar rim", ["no_rim", "rim:rim-sugar"]),
        ("vodka soda no lime with lemon", ["no:lime-wedge", "with:lemon-wedge"]),
        ("vodka tonic no garnish no straw", ["no_straw", "no_garnish"]),
    ],
)
def test_changes_of_two_things_go_together(call, changes):
    [drink] = calls.read(call, book(US)).drinks

    assert [c.code for c in drink.changes] == changes
