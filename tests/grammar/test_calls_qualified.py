"""A word that says which kind of a mixer it is: "diet"."""

from functools import cache

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import Status
from tests.grammar.called import book

US = "us-classic"


def poured(text, words=None):
    reading = calls.read(text, words or book(US))
    return reading, [p.ingredient for d in reading.drinks for p in d.spec.parts]


@pytest.mark.parametrize(
    "call",
    ["diet rum cola", "rum cola diet", "rum and diet", "diet rum and cola", "diet cola and rum"],
)
def test_diet_takes_the_place_of_the_cola(call):
    reading, parts = poured(call)

    assert (reading.status, parts) == (Status.READY, ["white-rum", "diet-cola"])
    assert reading.drinks[0].recipe == "rum-and-diet-cola"


@pytest.mark.parametrize("call", ["diet cuba libre", "cuba libre with diet"])
def test_in_a_drink_of_the_house_too(call):
    reading, parts = poured(call)

    assert (reading.status, parts) == (Status.READY, ["white-rum", "diet-cola"])
    assert [c.code for c in reading.drinks[0].changes] == ["mixer:diet-cola"]


@cache
def without_diet_tonic() -> calls.Book:
    whole = book(US)
    pantry = {slug: item for slug, item in whole.pantry.items() if slug != "diet-tonic"}
    return calls.vocabulary(whole.rules, whole.stock.drinks.values(), pantry)


@pytest.mark.parametrize(
    "call",
    ["diet vodka tonic", "vodka tonic diet", "diet gin and tonic", "gin and tonic with diet",
     "diet vodka cran", "diet moscow mule", "diet whiskey ginger", "diet vodka soda"],
)  # fmt: skip
def test_beside_another_mixer_it_is_handed_back_and_no_cola_is_poured(call):
    reading, parts = poured(call, without_diet_tonic())

    assert reading.status is not Status.READY
    assert reading.unplaced == ("diet",)
    assert len(reading.drinks) == 1
    assert "diet-cola" not in parts


@pytest.mark.parametrize("call", ["diet gin and tonic", "gin and diet tonic", "diet gin tonic"])
def test_where_the_house_has_that_mixer_as_diet_it_is_poured(call):
    reading, parts = poured(call)

    assert (reading.status, parts) == (Status.READY, ["gin", "diet-tonic"])


@pytest.mark.parametrize(
    "call", ["gin and slimline", "slimline gin and tonic", "gin and slimline tonic, please"]
)
def test_slimline_is_the_diet_kind_of_tonic(call):
    reading, parts = poured(call)

    assert (reading.status, parts) == (Status.READY, ["gin", "diet-tonic"])


def test_by_itself_and_as_a_second_drink_it_is_a_cola():
    assert poured("a diet")[1] == ["diet-cola"]
    assert len(poured("vodka tonic and a diet")[0].drinks) == 2
