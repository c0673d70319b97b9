"""Everyday words: "no sugar", "no lime" of a drink that has the thing in another form."""

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import Status
from tests.grammar.called import book

US = "us-classic"


def read(text):
    return calls.read(text, book(US))


def parts(reading):
    return {p.ingredient for d in reading.drinks for p in d.spec.parts}


@pytest.mark.parametrize(
    ("call", "gone"),
    [
        ("whiskey sour no sugar", "simple-syrup"),
        ("daiquiri without sugar", "simple-syrup"),
        ("old fashioned, no sugar", "sugar-cube"),
        ("caipirinha no sugar", "bar-sugar"),
        ("mojito no mint", "mint-leaf"),
        ("kamikaze no lime", "lime-juice"),
    ],
)
def test_what_is_in_the_drink_by_another_name_is_left_out(call, gone):
    reading = read(call)

    assert reading.status is Status.READY
    assert [c.code for c in reading.drinks[0].changes] == [f"no:{gone}"]
    assert gone not in parts(reading)
    assert not any(g.item.startswith("mint") for g in reading.drinks[0].spec.garnish)


@pytest.mark.parametrize(
    "call", ["whiskey sour extra sugar", "mojito with sugar", "vodka cola no sugar"]
)
def test_more_sugar_and_what_is_sweet_by_nature_are_handed_back(call):
    reading = read(call)

    assert reading.status is not Status.READY
    assert "sugar" in reading.unplaced
    assert reading.drinks[0].spec.rim is None
    assert reading.drinks[0].changes == ()


def test_a_rim_of_sugar_is_one_where_it_is_called_a_rim():
    assert read("whiskey sour sugar rim").drinks[0].spec.rim.item == "rim-sugar"


@pytest.mark.parametrize("call", ["daiquiri no lime", "margarita no lime", "mojito hold the lime"])
def test_of_what_is_both_in_it_and_on_it_it_is_asked(call):
    [asked] = read(call).ask

    assert (asked.about, asked.choices[1:]) == ("garnish", ("none",))
    assert read(f"{call}, no garnish").status is Status.READY


def test_without_any_of_it_in_the_drink_it_is_the_garnish():
    reading = read("gin and tonic no lime")

    assert reading.status is Status.READY
    assert reading.drinks[0].spec.garnish == ()


@pytest.mark.parametrize(
    "call", ["gin and tonic no ice light ice", "gin and tonic light ice extra ice"]
)
def test_two_words_about_ice_that_contradict_each_other_are_never_ready(call):
    reading = read(call)

    assert reading.status is not Status.READY
    assert "ice" in reading.unplaced
    assert read("gin and tonic no ice, no ice").status is Status.READY
