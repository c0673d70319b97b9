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


@pytest.mark.parametrize(
    ("call", "said", "meant", "recipe"),
    [
        ("gim tonic", "gim", "gin", "gin-and-tonic"),
        ("gn tonic", "gn", "gin", "gin-and-tonic"),
        ("ginn and tonic", "ginn", "gin", "gin-and-tonic"),
        ("a gun and tonic please", "gun", "gin", "gin-and-tonic"),
        ("rom and cola", "rom", "rum", "rum-and-cola"),
        ("rym cola", "rym", "rum", "rum-and-cola"),
        ("two rm and colas", "rm", "rum", "rum-and-cola"),
    ],
)
def test_a_slip_in_three_letters_is_known_by_what_stands_beside_it(call, said, meant, recipe):
    reading = calls.read(call, book(US))

    assert reading.read_as == (ReadAs(said, meant),)
    assert ([d.recipe for d in reading.drinks], reading.unplaced) == ([recipe], ())


@pytest.mark.parametrize("call", ["gim", "gn", "rom please", "a double rym", "gim on the rocks"])
def test_with_nothing_beside_it_nobody_knows(call):
    reading = calls.read(call, book(US))

    assert (reading.status, reading.read_as) == (Status.UNKNOWN, ())
    assert {"gim", "gn", "rom", "rym"} & set(reading.unplaced)


@pytest.mark.parametrize(
    ("call", "unplaced"),
    [("vodka spritle", ("spritle",)), ("vodka zorble", ("zorble",))],
)
def test_a_guess_that_costs_another_word_its_place_is_none(call, unplaced):
    reading = calls.read(call, book(US))

    assert (reading.unplaced, reading.read_as) == (unplaced, ())
    assert {p.ingredient for d in reading.drinks for p in d.spec.parts} <= {"vodka", "gin"}


def test_few_letters_that_may_begin_two_names_ask_which():
    reading = calls.read("tequila suns", book(US))

    [asked] = reading.ask
    assert (asked.about, asked.choices) == ("drink", ("tequila-sunset", "tequila-sunrise"))


STRANGE = ("zorble", "spritle", "tonc", "gim", "madrax", "suns", "rom", "vdka", "mojto", "lim")


@pytest.mark.parametrize("strange", STRANGE)
@pytest.mark.parametrize("rest", ["vodka", "gin tonic", "tonic", "a beer and two", "madras, extra"])
def test_no_word_is_both_understood_and_not(strange, rest):
    for call in (f"{rest} {strange}", f"{strange} {rest}"):
        reading = calls.read(call, book(US))

        assert not {r.said for r in reading.read_as} & set(reading.unplaced), call
