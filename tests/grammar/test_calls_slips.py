"""Slips are said back, whatever kind of word they are in; and a size that was said counts."""

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import ReadAs, Status
from tests.grammar.called import book

US, GB, AU = "us-classic", "great-britain", "australia"


@pytest.mark.parametrize(
    ("call", "said", "meant", "recipe"),
    [
        ("vodka tonc", "tonc", "tonic", "vodka-tonic"),
        ("vodka crn", "crn", "cran", "cape-codder"),
        ("vdka tonic", "vdka", "vodka", "vodka-tonic"),
        ("gni tonic", "gni", "gin", "gin-and-tonic"),
        ("rmu and cola", "rmu", "rum", "rum-and-cola"),
        ("doubl vodka cran", "doubl", "double", "cape-codder"),
        ("tirple madras", "tirple", "triple", "madras"),
        ("rum adn cola", "adn", "and", "rum-and-cola"),
        ("vodka tonic wiht lime", "wiht", "with", "vodka-tonic"),
    ],
)
def test_a_slip_is_read_and_said_back(call, said, meant, recipe):
    reading = calls.read(call, book(US))

    assert reading.read_as == (ReadAs(said, meant),)
    assert [d.recipe for d in reading.drinks] == [recipe]
    assert reading.unplaced == ()


def test_a_family_misspelt_asks_for_its_base_and_is_said_back():
    reading = calls.read("martni", book(US))

    assert reading.read_as == (ReadAs("martni", "martini"),)
    assert [q.choices for q in reading.ask] == [("gin", "vodka")]


@pytest.mark.parametrize("call", ["DBL TALL VOD CRAN", "VOD TON"])
def test_short_forms_of_a_till_are_no_slips(call):
    assert calls.read(call, book(US)).read_as == ()


@pytest.mark.parametrize("call", ["vodka soda no icee", "gin zorble", "gin xot tonic"])
def test_what_is_near_to_nothing_is_handed_back(call):
    reading = calls.read(call, book(US))

    assert reading.status is not Status.READY
    assert reading.unplaced


@pytest.mark.parametrize("call", ["pint of lager", "a pint of lager", "a pint of draught lager"])
def test_a_pint_said_is_a_pint_where_lager_comes_in_a_schooner(call):
    [drink] = calls.read(call, book(AU)).drinks

    assert (drink.recipe, drink.spec.glass) == ("draught-lager", "pint")
    assert [c.code for c in drink.changes] == ["pint"]


def test_without_a_size_it_comes_as_the_house_draws_it():
    [drink] = calls.read("a lager", book(AU)).drinks

    assert (drink.spec.glass, drink.changes) == ("schooner", ())
