"""Whisky and whiskey are one word in two spellings: a house means the same by both."""

from __future__ import annotations

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import About
from tests.grammar.called import book

PRESETS = [
    ("australia", "scotch"), ("europe", "scotch"), ("great-britain", "scotch"),
    ("ireland", "irish-whiskey"), ("us-classic", "bourbon"), ("us-free-pour", "bourbon"),
]  # fmt: skip
AROUND = ["{}", "two {}", "a double {} and soda", "{} neat", "irish {}", "scotch {} and cola",
          "bourbon {}", "{} sour", "{} ginger", "premium {} on the rocks"]  # fmt: skip


@pytest.mark.parametrize(("preset", "kind"), PRESETS)
def test_plain_whiskey_is_the_house_s_own_kind_in_either_spelling(preset, kind):
    for spelt in ("whisky", "whiskey", "whiskies", "whiskeys"):
        [drink] = calls.read(f"two {spelt}, straight", book(preset)).drinks

        assert [p.ingredient for p in drink.spec.parts] == [kind]
        assert drink.count == 2


@pytest.mark.parametrize("said", AROUND)
@pytest.mark.parametrize(("preset", "kind"), PRESETS)
def test_what_is_said_with_it_means_the_same_in_either_spelling(preset, kind, said):
    one, other = (calls.read(said.format(w), book(preset)) for w in ("whisky", "whiskey"))

    assert (one.drinks, one.ask, one.unplaced) == (other.drinks, other.ask, other.unplaced)
    assert one.read_as == other.read_as == ()


@pytest.mark.parametrize(
    ("said", "kind"),
    [("scotch whiskey", "scotch"), ("irish whisky", "irish-whiskey"), ("bourbon whisky", "bourbon"),
     ("rye whisky", "rye")],
)  # fmt: skip
@pytest.mark.parametrize("preset", ["great-britain", "us-classic"])
def test_a_kind_said_with_it_is_that_kind_and_one_drink(preset, said, kind):
    reading = calls.read(said, book(preset))
    [drink] = reading.drinks

    assert [p.ingredient for p in drink.spec.parts] == [kind]
    assert {q.about for q in reading.ask} == {About.STYLE}
    assert reading.unplaced == ()


def test_a_house_whose_words_tell_them_apart_is_asked_which():
    told = book("great-britain").rules.model_copy(
        update={"slang": {"whisky": "scotch", "whiskey": "irish-whiskey"}}
    )
    stock = book("great-britain").stock
    words = calls.vocabulary(told, stock.drinks.values(), stock.pantry)
    for spelt in ("whisky", "whiskey"):
        asked = {q.about: set(q.choices) for q in calls.read(f"{spelt}, straight", words).ask}

        assert asked[About.BASE] == {"scotch", "irish-whiskey"}
