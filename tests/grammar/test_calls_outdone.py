"""A name and the house's own word may mean two things: which of them is asked, and said why."""

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import About, Status
from recipes.grammar.calls.answering import answered, phrases
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
def test_a_name_ties_with_the_word_so_which_bottle_is_asked(moved, call):
    reading = calls.read(call, moved)
    [drink], [asked] = reading.drinks, reading.ask

    assert reading.status is Status.ASK
    assert (asked.about, asked.choices) == (About.BASE, ("bourbon", "scotch"))
    assert OLD_WORD in drink.why


@pytest.mark.parametrize(
    "call", ["vodka lemonade", "vodka and lemonade", "two vodka lemonades, no ice"]
)
def test_what_the_list_answers_of_a_name_that_lists_its_parts_is_not_asked(moved, call):
    reading = calls.read(call, moved)
    [drink] = reading.drinks

    assert reading.status is Status.READY
    assert {p.ingredient for p in drink.spec.parts} == {"vodka", "lemon-lime-soda"}


def test_why_tells_that_the_recipe_of_the_name_has_another_mixer(moved):
    [drink] = calls.read("vodka lemonade", moved).drinks

    told = {"said": "lemonade", "ingredient": "lemon-lime-soda", "instead": "lemonade"}
    assert Reason.of("call_word_outdone", **told) in drink.why


@pytest.mark.parametrize("call", ["shandy", "lager shandy", "half a shandy"])
def test_lemonade_ties_as_well_where_the_name_doesn_t_say_it(moved, call):
    reading = calls.read(call, moved)
    [asked] = reading.ask

    assert (asked.about, asked.choices) == (About.MIXER, ("lemonade", "lemon-lime-soda"))


@pytest.mark.parametrize(
    "call", ["whisky neat", "whisky cola", "shot of whisky", "two whisky sours", "whisky press",
             "a lager and a whisky sour", "shandy", "two lager shandies"],
)  # fmt: skip
def test_every_answer_to_a_tie_leads_on(moved, call):
    before = calls.read(call, moved)
    [asked] = before.ask

    for choice in asked.choices:
        said = phrases(asked, choice, moved.pantry[choice].name)
        text = answered(before, asked, choice, said, lambda call: calls.read(call, moved))
        assert text is not None, choice
        after = calls.read(text, moved)
        assert asked.about not in {q.about for q in after.ask}
        assert choice in {p.ingredient for p in after.drinks[asked.drink].spec.parts}


@pytest.mark.parametrize(("call", "bottle"), [
    ("bourbon and cola", "bourbon"), ("scotch and cola", "scotch"),
    ("whisky sour with scotch", "scotch"), ("whisky sour with bourbon", "bourbon"),
])  # fmt: skip
def test_a_bottle_that_is_said_is_poured_unasked(moved, call, bottle):
    reading = calls.read(call, moved)

    assert reading.status is Status.READY
    assert bottle in {p.ingredient for p in reading.drinks[0].spec.parts}


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


OF_THE_COURSE = {"us-classic": set(), "great-britain": {"Whiskey Sour"}, "europe": {"Whiskey Sour"},
                 "ireland": {"Whiskey Sour"}}  # fmt: skip
"""An international list has it with bourbon, and elsewhere the word alone means another whiskey."""


@pytest.mark.parametrize("preset", ["us-classic", "great-britain", "ireland", "europe"])
def test_no_other_drink_of_the_course_is_called_by_what_is_not_in_it(preset):
    words = book(preset)
    outdone = {
        drink.name
        for known in words.stock.drinks.values()
        for drink in calls.read(known.name, words).drinks
        if "call_word_outdone" in {why.code for why in drink.why}
    }

    assert outdone <= OF_THE_COURSE[preset]
