"""Words that differ by country, and counts that point back: what is ready, what is asked."""

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import Status
from tests.grammar.called import book
from tests.grammar.test_calls_bottles import book as stocked

US, GB, AU = "us-classic", "great-britain", "australia"

# House, call; each drink with its count, recipe, glass and changes.
READY = [
    (GB, "lime and soda", [(1, "soda-and-lime", "highball", [])]),
    (GB, "two pints of bitter", [(2, "draught-pale-ale", "pint", ["pint"])]),
    (GB, "a half of bitter", [(1, "draught-pale-ale", "half-pint", ["half"])]),
    (AU, "a schooner of lager", [(1, "draught-lager", "schooner", [])]),
    (AU, "a pot of stout", [(1, "nitro-stout", "half-pint", ["glass:half-pint"])]),
    (AU, "two pots of pale ale and a schooner of lager",
     [(2, "draught-pale-ale", "half-pint", ["glass:half-pint"]),
      (1, "draught-lager", "schooner", [])]),
    (AU, "lager in a schooner", [(1, "draught-lager", "schooner", [])]),
    (US, "gin and tonic, two of those with no ice", [(2, "gin-and-tonic", "highball", ["no_ice"])]),
    (US, "gin and tonic, three of those please", [(3, "gin-and-tonic", "highball", [])]),
    (US, "three gin tonics, two of those with no ice",
     [(1, "gin-and-tonic", "highball", []), (2, "gin-and-tonic", "highball", ["no_ice"])]),
]  # fmt: skip


@pytest.mark.parametrize(("preset", "call", "drinks"), READY)
def test_words_of_a_country_are_ready(preset, call, drinks):
    reading = calls.read(call, book(preset))

    assert reading.status is Status.READY
    assert [
        (d.count, d.recipe, d.spec.glass, [c.code for c in d.changes]) for d in reading.drinks
    ] == drinks


@pytest.mark.parametrize("call", ["a pot", "a schooner please", "two schooners"])
def test_a_beer_glass_alone_asks_which_beer(call):
    reading = calls.read(call, book(AU))
    [question] = reading.ask

    assert question.about is calls.About.DRINK
    assert {"draught-lager", "nitro-stout"} <= set(question.choices)


def test_a_beer_glass_is_no_glass_for_a_highball():
    reading = calls.read("a schooner of gin and tonic", book(AU))

    assert reading.status is not Status.READY
    assert reading.unplaced == ("schooner",)


def test_those_without_a_drink_before_them_are_nobody_s():
    assert calls.read("two of those", book(US)).status is Status.UNKNOWN
    assert calls.read("two madras, three of those with no ice", book(US)).unplaced == ("three",)


# House, call, the mixers of each drink.
SOFT = [
    (GB, "orange juice and lemonade", [["orange-juice", "lemon-lime-soda"]]),
    (US, "orange juice and lemonade", [["orange-juice", "lemonade"]]),
    (GB, "orange juice and a lemonade", [["orange-juice"], ["lemon-lime-soda"]]),
    (GB, "cola and lemonade", [["cola"], ["lemon-lime-soda"]]),
    (GB, "cranberry and soda", [["cranberry-juice", "club-soda"]]),
]


@pytest.mark.parametrize(("preset", "call", "tops"), SOFT)
def test_juice_and_lemonade_joined_is_one_long_drink(preset, call, tops):
    reading = calls.read(call, book(preset))

    assert reading.status is Status.READY
    assert [[p.ingredient for p in d.spec.mixers] for d in reading.drinks] == tops


@pytest.mark.parametrize(
    ("call", "bottle"),
    [("quayside", "quayside-gin"), ("a lamplighter vodka", "lamplighter-vodka")],
)
def test_a_bottle_called_by_itself_asks_how(call, bottle):
    reading = calls.read(call, stocked())
    [question] = reading.ask

    assert (question.about, len(question.choices)) == (calls.About.STYLE, 4)
    assert [p.ingredient for p in reading.drinks[0].spec.parts] == [bottle]
