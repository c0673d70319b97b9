"""A name and the house's own word may mean two things: the answer says which of them won."""

import pytest

from recipes.grammar import calls
from recipes.grammar.reasons import Reason
from tests.grammar.called import book

OLD_WORD = Reason.of("call_word_outdone", said="whiskey", ingredient="scotch", instead="bourbon")


@pytest.fixture(scope="module")
def moved():
    """Its recipes are of the United States, its words of Britain since it took those over."""
    us = book("us-classic")
    rules = us.rules.model_copy(update={"slang": book("great-britain").rules.slang})
    return calls.vocabulary(rules, us.stock.drinks.values(), us.pantry)


@pytest.mark.parametrize(
    "call", ["whisky neat", "whiskey cola", "two whisky sours", "whisky press"]
)
def test_a_name_comes_first_and_the_answer_says_so(moved, call):
    [drink] = calls.read(call, moved).drinks

    assert "bourbon" in {p.ingredient for p in drink.spec.parts}
    assert OLD_WORD in drink.why


@pytest.mark.parametrize(
    "call", ["whisky", "scotch neat", "irish whiskey shot", "bourbon cola", "whisky and tonic"]
)
def test_where_nothing_was_outdone_nothing_is_said_of_it(moved, call):
    [drink] = calls.read(call, moved).drinks

    assert "call_word_outdone" not in {r.code for r in drink.why}


def test_a_thing_s_own_name_comes_before_the_word_of_the_house(moved):
    shipped = moved.pantry
    pantry = {
        **shipped,
        "lemonade": shipped["lemonade"].model_copy(update={"name": "lemonade"}),
        "cloudy": shipped["lemonade"].model_copy(update={"slug": "cloudy", "name": "cloudy"}),
    }
    rules = moved.rules.model_copy(update={"slang": {"lemonade": "cloudy"}})  # fmt: skip
    house = calls.vocabulary(rules, moved.stock.drinks.values(), pantry)
    [drink] = calls.read("gin and lemonade", house).drinks

    told = {"said": "lemonade", "ingredient": "cloudy", "instead": "lemonade"}
    assert [p.ingredient for p in drink.spec.mixers] == ["lemonade"]
    assert Reason.of("call_word_outdone", **told) in drink.why


OF_THE_COURSE = {
    "Whiskey Sour",
    "Whiskey and Lemon-Lime",
    "Three-Layer Whiskey",
    "Ginger and Lime Shot",
}
"""Built with another whiskey, or ginger, than the word alone means in some preset."""


@pytest.mark.parametrize("preset", ["us-classic", "great-britain", "ireland", "europe"])
def test_no_other_drink_of_the_course_is_called_by_what_is_not_in_it(preset):
    words = book(preset)
    outdone = {
        drink.name
        for known in words.stock.drinks.values()
        for drink in calls.read(known.name, words).drinks
        if "call_word_outdone" in {why.code for why in drink.why}
    }

    assert outdone <= OF_THE_COURSE
