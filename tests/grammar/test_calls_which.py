"""One drink said in two breaths, one of two things, and what a number or a bottle leaves open."""

from __future__ import annotations

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import About, Status
from tests.grammar.called import book

US, GB, EUROPE = "us-classic", "great-britain", "europe"
HOUSES = [US, GB, EUROPE]


def drinks_of(reading):
    return [(d.count, sorted(p.ingredient for p in d.spec.parts)) for d in reading.drinks]


@pytest.mark.parametrize(
    ("text", "drinks"),
    [
        ("vodka 7", [(1, ["lemon-lime-soda", "vodka"])]),
        ("two vodka 7s", [(2, ["lemon-lime-soda", "vodka"])]),
        ("gin and seven", [(1, ["gin", "lemon-lime-soda"])]),
        ("vodka x7", [(7, ["vodka"])]),
        ("7 vodkas", [(7, ["vodka"])]),
        ("gin tonic 7", [(7, ["gin", "tonic-water"])]),
        ("vodka and 7 lagers", [(1, ["vodka"]), (7, ["lager"])]),
    ],
)
@pytest.mark.parametrize("house", HOUSES)
def test_seven_right_behind_a_spirit_is_the_lemon_lime_soda_and_a_count_elsewhere(
    house, text, drinks
):
    """Trade usage, no source."""
    reading = calls.read(text, book(house))

    assert drinks_of(reading) == drinks
    assert reading.unplaced == ()


@pytest.mark.parametrize(
    ("text", "about", "choices"),
    [
        ("white or dark rum and cola", About.BASE, ("white-rum", "dark-rum")),
        ("dark or white rum and cola", About.BASE, ("dark-rum", "white-rum")),
        ("two gin or vodka and tonic", About.BASE, ("gin", "vodka")),
        ("vodka tonic or soda", About.MIXER, ("tonic-water", "club-soda")),
        ("scotch or irish whiskey with ginger ale", About.BASE, ("scotch", "irish-whiskey")),
    ],
)
@pytest.mark.parametrize("house", HOUSES)
def test_one_thing_or_another_is_one_drink_and_asked(house, text, about, choices):
    reading = calls.read(text, book(house))

    assert reading.status is Status.ASK
    assert len(reading.drinks) == 1
    assert reading.unplaced == ()
    assert {q.about: q.choices for q in reading.ask}[about] == choices


@pytest.mark.parametrize("text", ["gin tonic or madras", "vodka or", "or gin", "gin or gin", "or"])
def test_what_is_no_pair_of_things_leaves_the_word_strange(text):
    reading = calls.read(text, book(US))

    assert "or" in reading.unplaced
    assert reading.status is not Status.READY


@pytest.mark.parametrize(
    ("text", "count", "slug"),
    [("three shots, tequila", 3, "tequila-shot"), ("a shot, tequila", 1, "tequila-shot"),
     ("two pints, lager", 2, "draught-lager"), ("two halves, lager", 2, "half-lager")],
)  # fmt: skip
def test_a_size_and_what_it_is_of_behind_a_comma_are_one_drink(text, count, slug):
    reading = calls.read(text, book(GB))

    assert [(d.count, d.recipe) for d in reading.drinks] == [(count, slug)]
    assert reading.unplaced == ()


@pytest.mark.parametrize("text", ["two pints, lager and a cider", "three shots, tequila and a gin"])
def test_with_one_more_drink_behind_it_is_asked_of_what(text):
    assert calls.read(text, book(US)).ask[0].about is About.DRINK


@pytest.mark.parametrize("text", ["two bottles of beer", "bottle of beer", "a bottle, beer"])
@pytest.mark.parametrize("house", HOUSES)
def test_a_bottle_of_beer_is_asked_which(house, text):
    reading = calls.read(text, book(house))
    [asked] = reading.ask

    assert (asked.about, reading.unplaced) == (About.DRINK, ())
    assert {"bottled-lager", "light-lager-bottle"} <= set(asked.choices)


@pytest.mark.parametrize("house", HOUSES)
def test_those_of_several_drinks_are_handed_back(house):
    text = "vodka cran and a gin tonic, two of those tall"
    reading = calls.read(text, book(house))

    assert reading.unplaced == ("two",)
    assert reading.status is not Status.READY
    assert [d.count for d in calls.read("gin tonic, two of those tall", book(house)).drinks] == [2]


@pytest.mark.parametrize(
    ("text", "off"),
    [("old fashioned without the orange", "orange-slice"), ("old fashioned, no cherry", "cherry"),
     ("gin tonic, hold the lime", "lime-wedge")],
)  # fmt: skip
def test_what_is_taken_off_is_named_as_it_lies_on_the_drink(text, off):
    reading = calls.read(text, book(US))
    [drink] = reading.drinks

    assert [c.code for c in drink.changes] == [f"no:{off}"]
    assert off not in {g.item for g in drink.spec.garnish}
