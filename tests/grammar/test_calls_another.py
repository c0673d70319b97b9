""" "And a double" is another glass, and of what nobody said; the drink before stays as called."""

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import About, Status
from tests.grammar.called import book

US = "us-classic"
HOUSES = ("us-classic", "great-britain", "europe")


def read(text, preset=US):
    return calls.read(text, book(preset))


@pytest.mark.parametrize("preset", HOUSES)
@pytest.mark.parametrize(
    ("call", "count", "more"),
    [
        ("two vodka tonics and a double", 2, 1),
        ("vodka cran and a double", 1, 1),
        ("vodka cran, and a double please", 1, 1),
        ("tequila sunrise and a double tall", 1, 1),
        ("vodka tonic and a tall", 1, 1),
        ("a madras and a short one", 1, 1),
        ("a madras and two doubles", 1, 2),
        ("a madras and a short with a lime", 1, 1),
    ],
)
def test_it_is_asked_of_what(preset, call, count, more):
    reading = read(call, preset)
    first, other = reading.drinks

    assert (first.count, first.changes, other.count) == (count, (), more)
    assert (other.recipe, other.spec) == (None, None)
    assert [q.about for q in reading.asks_about(1)] == [About.BASE]
    assert reading.status is Status.ASK


@pytest.mark.parametrize(
    ("call", "count", "handed_back"),
    [
        ("rum cola and a virgin", 1, "a virgin"),
        ("a mojito and a dry one", 1, "a dry one"),
        ("two vodka tonics and one with no lime", 2, "one no lime"),
        ("two vodka tonics and one double", 2, "one double"),
        ("gin tonic, one with lemon", 1, "one lemon"),
        ("madras and a no ice", 1, "a no ice"),
    ],
)
def test_what_may_be_one_of_them_or_one_more_is_handed_back(call, count, handed_back):
    reading = read(call)
    [drink] = reading.drinks

    assert (drink.count, drink.changes) == (count, ())
    assert " ".join(reading.unplaced) == handed_back
    assert reading.status is not Status.READY


@pytest.mark.parametrize(
    ("call", "changes"),
    [
        ("vodka cran and make it a double", [(1, "double")]),
        ("a gin tonic with a double", [(1, "double")]),
        ("three vodka tonics, one double", [(2, ""), (1, "double")]),
        ("three madras, one no ice and one double", [(1, ""), (1, "no_ice"), (1, "double")]),
        ("gin tonic and a lime", [(1, "with:lime-wedge")]),
        ("gin tonic and two limes", [(1, "extra:lime-wedge")]),
        ("margarita and a salt rim", [(1, "rim:salt")]),
        ("a gin tonic and another double", [(1, ""), (1, "double")]),
    ],
)
def test_what_is_said_of_the_drink_before_stays_with_it(call, changes):
    drinks = read(call).drinks

    assert [(d.count, " ".join(c.code for c in d.changes)) for d in drinks] == changes


def test_an_answer_makes_it_a_drink_of_its_own():
    first, other = read("two vodka tonics and a double gin tonic").drinks

    assert (first.changes, other.count) == ((), 1)


@pytest.mark.parametrize(
    "call", ["vodka neat tall", "tall scotch on the rocks", "double tall gin up"]
)
def test_a_tall_glass_of_what_is_not_topped_up_is_handed_back(call):
    reading = read(call)

    assert reading.unplaced == ("tall",)
    assert "tall" not in [c.code for c in reading.drinks[0].changes]


def test_a_tall_spirit_is_topped_up_and_with_what_is_asked():
    reading = read("double tall scotch")

    assert [q.about for q in reading.ask] == [About.MIXER]
    assert {"club-soda", "water"} <= set(reading.ask[0].choices)


@pytest.mark.parametrize("preset", HOUSES)
@pytest.mark.parametrize(
    "call", ["gin grapefruit with salt", "gin grapefruit salt rim", "salty gin grapefruit"]
)
def test_a_drink_known_by_its_rim_comes_with_what_the_house_puts_on_it(preset, call):
    reading = read(call, preset)
    [drink] = reading.drinks

    assert (reading.status, drink.recipe) == (Status.READY, "salty-dog")
    assert drink.spec == book(preset).stock.drinks["salty-dog"].spec


def test_what_the_guest_wants_off_it_stays_off():
    [drink] = read("gin grapefruit with salt no lime").drinks

    assert (drink.recipe, drink.spec.garnish) == (None, ())
    assert [c.code for c in drink.changes] == ["rim:salt", "no:lime-wedge"]


@pytest.mark.parametrize("preset", HOUSES)
def test_a_half_of_lager_shandy_is_one_drink(preset):
    assert [(d.recipe, d.spec.glass) for d in read("half lager shandy", preset).drinks] == [
        ("shandy", "half-pint")
    ]
