"""What words may have been that are further off than a slip: offered, never taken for granted."""

from __future__ import annotations

import dataclasses

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import Status
from recipes.grammar.calls.suggest import MOST
from tests.grammar.called import book

# The call, the likest that is offered, and the words of the call that it may be.
OFFERED = [
    ("moheeto", "mojito", "moheeto"),
    ("a daquri please", "daiquiri", "daquri"),
    ("Madrazzo", "madras", "Madrazzo"),
    ("neegronee", "negroni", "neegronee"),
    ("two bloodie marry", "bloody-mary", "bloodie marry"),
    ("mint joolep, no ice", "mint-julep", "mint joolep"),
    ("longe ilande tee", "long-island-iced-tea", "longe ilande tee"),
    ("vodka kranberi", "cape-codder", "vodka kranberi"),
    ("white russkie", "white-russian", "white russkie"),
    ("tequila sunshine", "tequila-sunrise", "tequila sunshine"),
    ("a beer and a cosmopolitician", "cosmopolitan", "cosmopolitician"),
]


@pytest.mark.parametrize(("text", "slug", "words"), OFFERED)
def test_the_likest_names_are_offered_with_the_words_that_they_may_be(text, slug, words):
    reading = calls.read(text, book("us-classic"))

    assert reading.status is not Status.READY
    assert (reading.did_you_mean[0], reading.meant_for[0]) == (slug, words)
    assert len(reading.did_you_mean) == len(reading.meant_for) <= MOST


def test_an_ingredient_is_offered_too():
    assert "cranberry-juice" in calls.read("vodka kranberi", book("us-classic")).did_you_mean


def test_of_several_drinks_that_end_in_a_word_some_are_offered():
    meant = calls.read("marteenie", book("us-classic")).did_you_mean

    assert len(meant) == MOST
    assert all(slug.endswith("martini") for slug in meant)


@pytest.mark.parametrize(
    "text",
    ["unicorn tears", "a lamp post", "xyz", "qwertyuiop", "vodka and rosewater", "", "1 2 3",
     "gin tonic or madras", "tonc " * 40],
)  # fmt: skip
def test_what_is_like_nothing_is_no_name(text):
    reading = calls.read(text, book("great-britain"))

    assert reading.did_you_mean == ()


@pytest.mark.parametrize("text", ["madras", "mohito", "two gin tonics", "a beer"])
def test_where_every_word_has_its_place_nothing_is_offered(text):
    assert calls.read(text, book("us-classic")).did_you_mean == ()


def test_nothing_is_looked_for_until_somebody_asks():
    fresh = dataclasses.replace(book("us-classic"), spoken=None, sounds=None)
    reading = calls.read("moheeto and a daquri", fresh)

    assert fresh.spoken is None
    assert "mojito" in reading.did_you_mean
    assert fresh.spoken is not None
