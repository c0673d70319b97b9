"""How much of a wine was said: kept where it is the house's glass, asked where it isn't."""

from __future__ import annotations

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import About, Status
from recipes.grammar.ingredients import LiquorClass
from tests.grammar.called import book

HOUSES = ["us-classic", "us-free-pour", "great-britain", "ireland", "europe", "australia"]
POURS = {"us-classic": 148, "us-free-pour": 148, "great-britain": 175, "ireland": 175,
         "europe": 150, "australia": 150}  # fmt: skip
"""Millilitres of one glass in each preset; 5 US fl oz are 147.9."""
SAID = ["{} of the house white", "a {} of red", "{}ml of rosé", "two {} ml white wine",
        "a glass of red wine, {}"]  # fmt: skip


def test_the_presets_pour_what_the_table_has():
    for house, ml in POURS.items():
        assert round(book(house).rules.pours[LiquorClass.WINE].ml) == ml


@pytest.mark.parametrize("said", SAID)
@pytest.mark.parametrize("house", HOUSES)
def test_the_house_s_own_measure_is_ready_and_any_other_is_asked(house, said):
    for ml in (125, 148, 150, 175, 187, 250, 500):
        reading = calls.read(said.format(ml), book(house))
        [drink] = reading.drinks

        assert reading.unplaced == ()
        assert round(drink.spec.parts[0].ml) == POURS[house]
        own = ml == POURS[house]
        assert [q.about for q in reading.ask] == ([] if own else [About.SIZE])
        assert drink.count == (2 if said.startswith("two") else 1)


@pytest.mark.parametrize(
    "said", ["small glass of red wine", "large glass of white", "a bottle of the house red",
             "half carafe of red", "a carafe of white wine", "half a carafe of rosé",
             "a double white wine"],
)  # fmt: skip
@pytest.mark.parametrize("house", HOUSES)
def test_a_size_that_no_house_of_these_pours_is_asked(house, said):
    reading = calls.read(said, book(house))

    assert reading.status is Status.ASK
    assert (len(reading.drinks), reading.unplaced) == (1, ())
    assert {q.about for q in reading.ask} == {About.SIZE}


@pytest.mark.parametrize("house", HOUSES)
def test_a_medium_glass_is_175_ml_in_britain_and_ireland_and_asked_elsewhere(house):
    """Common practice, no source."""
    reading = calls.read("two medium reds", book(house))

    assert (reading.status is Status.READY) == (house in ("great-britain", "ireland"))
    assert [(d.count, d.recipe) for d in reading.drinks] == [(2, "glass-of-red")]


@pytest.mark.parametrize("said", ["gin 175", "a 250 of lager", "small lager", "a carafe of vodka",
                                  "175", "a carafe", "a madras 250ml"])  # fmt: skip
@pytest.mark.parametrize("house", HOUSES)
def test_of_anything_else_it_is_handed_back(house, said):
    reading = calls.read(said, book(house))

    assert reading.unplaced != ()
    assert reading.status is not Status.READY


def test_a_house_whose_measure_is_another_one_is_asked_for_that_no_more():
    shipped = book("great-britain")
    pours = dict(shipped.rules.pours)
    pours[LiquorClass.WINE] = pours[LiquorClass.WINE].model_copy(update={"amount": 250})
    rules = shipped.rules.model_copy(update={"pours": pours})
    house = calls.vocabulary(rules, shipped.stock.drinks.values(), shipped.pantry)

    assert calls.read("a 250 of red", house).ask == ()
    assert calls.read("a medium white wine", house).ask[0].about is About.SIZE
