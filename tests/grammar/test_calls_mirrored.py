"""A glass of its own on either side of an "and": asked or handed back, merged with no drink."""

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import About, Status
from recipes.grammar.calls.answering import answered, phrases
from tests.grammar.called import book

US = "us-classic"
HOUSES = ("us-classic", "great-britain", "europe")


def read(text, preset=US):
    return calls.read(text, book(preset))


def told(reading):
    return [(d.count, " ".join(c.code for c in d.changes)) for d in reading.drinks]


@pytest.mark.parametrize("preset", HOUSES)
@pytest.mark.parametrize(
    ("call", "opened", "then"),
    [
        ("a double and a vodka tonic", [1], (1, "")),
        ("a double, and a vodka tonic please", [1], (1, "")),
        ("a double and vodka tonic", [1], (1, "")),
        ("double and a vodka tonic", [1], (1, "")),
        ("two doubles and a vodka tonic", [2], (1, "")),
        ("a double and two vodka tonics", [1], (2, "")),
        ("a double one and a vodka tonic", [1], (1, "")),
        ("a tall and a vodka cran", [1], (1, "")),
        ("tall & a vodka cran", [1], (1, "")),
        ("a short and a vodka tonic", [1], (1, "")),
        ("neat and a scotch", [1], (1, "")),
        ("a single and a vodka tonic", [1], (1, "")),
        ("a double and a tall and a vodka tonic", [1, 1], (1, "")),
        ("two shots, a tequila sunrise", [2], (1, "")),
    ],
)
def test_before_a_drink_it_is_asked_of_what(preset, call, opened, then):
    reading = read(call, preset)
    before = reading.drinks[:-1]

    assert told(reading)[-1] == then
    assert [d.count for d in before] == opened
    assert [(d.recipe, d.spec) for d in before] == [(None, None)] * len(opened)
    for at in range(len(opened)):
        assert {q.about for q in reading.asks_about(at)} <= {About.BASE, About.DRINK}
        assert reading.asks_about(at)
    assert (reading.status, reading.unplaced) == (Status.ASK, ())


@pytest.mark.parametrize("call", ["a double and a tall", "a single and a double please"])
def test_two_glasses_of_nothing_are_asked_about_one_by_one(call):
    reading = read(call)

    assert [(q.drink, q.about) for q in reading.ask] == [(0, About.BASE), (1, About.BASE)]


@pytest.mark.parametrize(
    ("call", "handed_back", "drinks"),
    [
        ("a virgin and a mojito", "a virgin", [(1, "")]),
        ("virgin and a mojito", "virgin", [(1, "")]),
        ("a frozen and a margarita", "a frozen", [(1, "")]),
        ("no ice and a vodka tonic", "no ice", [(1, "")]),
        ("one with no ice and a vodka tonic", "one no ice", [(1, "")]),
        ("a double, a vodka tonic", "a double", [(1, "")]),
        ("one double; one vodka tonic", "one double", [(1, "")]),
        ("two doubles, a vodka tonic and a gin tonic", "two doubles", [(1, ""), (1, "")]),
        ("a single and a double vodka tonic", "a single", [(1, "double")]),
        ("a double and a tall vodka tonic", "a double", [(1, "tall")]),
        ("one double and one single vodka tonic", "one double", [(1, "")]),
        ("a house and a vodka tonic", "house", [(1, "")]),
        ("margarita and a no salt", "a no salt", [(1, "")]),
        ("margarita and a without salt", "a without salt", [(1, "")]),
        ("margarita and a no salt one", "a no salt one", [(1, "")]),
        ("margarita and a salty one", "a salty one", [(1, "")]),
        ("margarita and a frozen", "a frozen", [(1, "")]),
        ("gin tonic and a no lime", "a no lime", [(1, "")]),
        ("gin tonic, a no lime", "a no lime", [(1, "")]),
        ("a gin tonic; a no lime", "a no lime", [(1, "")]),
        ("gin tonic and a no straw", "a no straw", [(1, "")]),
        ("gin tonic and a short glass", "a short glass", [(1, "")]),
        ("gin tonic and a rocks glass", "a rocks glass", [(1, "")]),
        ("gin tonic and a house", "house", [(1, "")]),
        ("gin tonic and one house", "one house", [(1, "")]),
        ("gin tonic and house", "house", [(1, "")]),
        ("gin tonic, a well please", "well", [(1, "")]),
        ("two vodka tonics with one no lime", "one no lime", [(2, "")]),
        ("two vodka tonics, with one no lime", "one no lime", [(2, "")]),
        ("three vodka tonics with one without lime", "one without lime", [(3, "")]),
        ("two vodka tonics with one with no lime", "one no lime", [(2, "")]),
        ("two vodka tonics with a no lime", "a no lime", [(2, "")]),
        ("two vodka tonics with one double", "one double", [(2, "")]),
        ("two vodka tonics with one lime", "one lime", [(2, "")]),
        ("two margaritas with one no salt", "one no salt", [(2, "")]),
        ("a tall gin tonic in a rocks glass", "in a rocks glass", [(1, "tall")]),
        ("a tall gin tonic in a short glass", "in a short glass", [(1, "tall")]),
    ],
)
def test_what_nobody_can_place_is_handed_back_and_changes_no_drink(call, handed_back, drinks):
    reading = read(call)

    assert " ".join(reading.unplaced) == handed_back
    assert told(reading) == drinks
    assert reading.status is not Status.READY


@pytest.mark.parametrize(
    ("call", "drinks"),
    [
        ("double, vodka tonic", [(1, "double")]),
        ("vodka tonic, double", [(1, "double")]),
        ("vodka tonic; double", [(1, "double")]),
        ("a double tall vodka tonic", [(1, "double tall")]),
        ("a double and tall vodka tonic", [(1, "double tall")]),
        ("2 vodka tonic; 1 no lime", [(1, ""), (1, "no:lime-wedge")]),
        ("vodka tonic, make it a double and a gin tonic", [(1, "double"), (1, "")]),
        ("gin tonic, house", [(1, "")]),
        ("house gin tonic and a house red", [(1, ""), (1, "")]),
        ("margarita and no salt", [(1, "no_rim")]),
        ("a no salt margarita and a margarita", [(1, "no_rim"), (1, "")]),
        ("gin tonic and a little ice", [(1, "light_ice")]),
        ("vodka tonic with one lime", [(1, "with:lime-wedge")]),
        ("two lagers and a vodka tonic with one lime", [(2, ""), (1, "with:lime-wedge")]),
        ("two vodka tonics with a lime", [(2, "with:lime-wedge")]),
        ("two vodka tonics with no lime", [(2, "no:lime-wedge")]),
        ("two shots, tequila", [(2, "")]),
    ],
)
def test_what_is_said_of_a_drink_stays_with_it(call, drinks):
    reading = read(call)

    assert told(reading) == drinks
    assert reading.unplaced == ()


@pytest.mark.parametrize("preset", HOUSES)
@pytest.mark.parametrize("drink", ["gin tonic", "vodka cran", "mojito", "cola", "lager"])
@pytest.mark.parametrize("said", ["in a short glass", "in short glass", "short glass"])
def test_a_short_glass_is_the_rocks_glass(preset, drink, said):
    [poured] = read(f"{drink} {said}", preset).drinks
    [asked] = read(f"{drink} in a rocks glass", preset).drinks

    assert (poured.spec, poured.changes) == (asked.spec, asked.changes)
    assert poured.spec.glass == "rocks"


@pytest.mark.parametrize("call", ["a short glass of cola", "short glass of gin tonic"])
def test_a_short_glass_of_something_is_one_too(call):
    [drink] = read(call).drinks

    assert (drink.spec.glass, [c.code for c in drink.changes]) == ("rocks", ["glass:rocks"])


def test_a_double_in_a_short_glass_is_a_short_one():
    reading = read("double gin tonic in a short glass")

    assert (reading.status, reading.drinks[0].spec.glass) == (Status.READY, "rocks")


@pytest.mark.parametrize("call", ["a double and a vodka tonic", "neat and a mojito"])
def test_an_answer_before_a_drink_makes_it_that_spirit_served_so(call):
    before = read(call)
    [question] = before.asks_about(0)
    said = phrases(question, "gin", "gin")
    after = read(answered(before, question, "gin", said, read))

    assert [d.count for d in after.drinks] == [1, 1]
    assert (after.drinks[1], after.unplaced) == (before.drinks[1], ())
    assert "gin" in [p.ingredient for p in after.drinks[0].build.parts]
