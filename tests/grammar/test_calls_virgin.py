"""Without alcohol: what is left, and only that, is offered."""

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import Status
from tests.grammar.called import book


def read(text):
    return calls.read(text, book("us-classic"))


@pytest.mark.parametrize(
    "call", ["virgin gin", "virgin whiskey", "virgin manhattan", "three virgin martinis"]
)
def test_where_nothing_is_left_nothing_is_offered(call):
    reading = read(call)

    assert (reading.status, reading.drinks) == (Status.UNKNOWN, ())
    assert (reading.did_you_mean, reading.ask) == ((), ())
    assert reading.unplaced


def test_a_beer_without_alcohol_is_the_one_of_the_house():
    [drink] = read("virgin beer, please").drinks

    assert drink.recipe == "alcohol-free-lager"
    assert drink.spec.alcohol_free


def test_only_drinks_that_can_be_had_without_are_asked_about():
    words = book("us-classic")
    [asked] = read("virgin breeze").ask

    assert asked.choices
    assert all(calls.read(f"virgin {words.stock.drinks[s].name}", words).drinks
               for s in asked.choices)  # fmt: skip


def test_without_its_base_a_pattern_asks_for_none():
    reading = read("virgin rickey")

    assert reading.status is Status.READY
    assert [p.ingredient for p in reading.drinks[0].spec.parts] == ["club-soda"]


@pytest.mark.parametrize("call", ["nojito", "two nojitos", "2 NOJITOS please"])
def test_its_name_in_one_word_is_no_slip_of_the_drink_with_alcohol(call):
    """Common practice, no source."""
    reading = read(call)
    [drink] = reading.drinks

    assert drink.spec.alcohol_free
    assert [r.meant for r in reading.read_as] == ["virgin mojito"]


def test_a_house_without_the_drink_hands_the_word_back():
    reading = calls.read("nogroni", book("us-classic"))

    assert (reading.status, reading.unplaced) == (Status.UNKNOWN, ("nogroni",))
