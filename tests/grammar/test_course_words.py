"""One word, one meaning: what a course calls lemonade is what the house's country means by it."""

import pytest

from recipes.grammar import calls
from recipes.grammar.coursefile import read_course
from recipes.grammar.reasons import Reason
from tests.grammar.called import COURSE, book

FIZZY = ("great-britain", "ireland", "australia", "europe")
STILL = ("us-classic", "us-free-pour")


def tops(reading):
    return [[p.ingredient for p in d.spec.mixers] for d in reading.drinks]


@pytest.mark.parametrize("preset", FIZZY)
@pytest.mark.parametrize(
    ("call", "recipe", "within"),
    [
        ("shandy", "shandy", ["lager", "lemon-lime-soda"]),
        ("lager and lemonade", "shandy", ["lager", "lemon-lime-soda"]),
        ("vodka lemonade", "vodka-lemonade", ["lemon-lime-soda"]),
        ("vodka and lemonade", "vodka-lemonade", ["lemon-lime-soda"]),
        ("lemonade vodka", "vodka-lemonade", ["lemon-lime-soda"]),
        ("vodka and lemon-lime", "vodka-lemonade", ["lemon-lime-soda"]),
        ("lemonade", None, ["lemon-lime-soda"]),
    ],
)
def test_where_lemonade_is_fizzy_every_drink_with_it_is(preset, call, recipe, within):
    reading = calls.read(call, book(preset))

    assert [d.recipe for d in reading.drinks] == [recipe]
    assert tops(reading) == [within]
    assert {q.about.value for q in reading.ask} <= {"garnish"}  # "ice and a slice?" is a rule
    assert not reading.unplaced


@pytest.mark.parametrize("preset", STILL)
def test_where_it_is_still_the_course_stays_as_it_is_written(preset):
    words = book(preset)

    assert tops(calls.read("shandy", words)) == [["lager", "lemonade"]]
    assert calls.read("vodka and lemon-lime", words).drinks[0].recipe == "vodka-lemon-lime"


@pytest.mark.parametrize("preset", FIZZY)
def test_no_drink_is_lost_and_none_comes_twice(preset):
    here, us = read_course(COURSE, preset), read_course(COURSE)
    drinks = [d for m in here.modules for d in m.drinks]
    names = {n for d in drinks for n in (d.name, *d.aliases)}

    assert {d.name for m in us.modules for d in m.drinks} <= names
    assert sum(d.share for d in drinks) == pytest.approx(
        sum(d.share for m in us.modules for d in m.drinks)
    )
    assert not [d for d in drinks if "lemonade" in {p.ingredient for p in d.spec.parts}]


def test_why_is_told_by_the_name_alone():
    [drink] = calls.read("vodka lemonade", book("great-britain")).drinks

    assert drink.why[0] == Reason.of("call_name", said="vodka lemonade", drink="vodka-lemonade")


WHISKY = {
    "great-britain": "scotch",
    "europe": "scotch",
    "australia": "scotch",
    "ireland": "irish-whiskey",
    "us-classic": "bourbon",
    "us-free-pour": "bourbon",
}
"""What a house of the preset means by a bare whisky (its list of words)."""
ALL = sorted(WHISKY)


@pytest.mark.parametrize("preset", ALL)
@pytest.mark.parametrize(
    "call",
    ["whisky neat", "whiskey neat", "whisky on the rocks", "whisky and cola", "whisky soda",
     "a shot of whisky", "whisky rickey", "whisky press", "whisky ginger", "whisky and diet",
     "a whisky mule", "double whisky neat"],
)  # fmt: skip
def test_a_bare_whisky_is_the_house_s_own_whatever_it_is_said_with(preset, call):
    [drink] = calls.read(call, book(preset)).drinks

    kinds = book(preset).pantry
    within = {p.ingredient for p in drink.spec.parts}
    assert {s for s in within if kinds[s].kind.value == "whiskey"} == {WHISKY[preset]}


@pytest.mark.parametrize("preset", ALL)
@pytest.mark.parametrize("kind", ["bourbon", "scotch", "rye"])
@pytest.mark.parametrize("call", ["{} neat", "{} and cola", "{} on the rocks", "{} rickey"])
def test_a_kind_that_was_said_is_poured_everywhere(preset, kind, call):
    [drink] = calls.read(call.format(kind), book(preset)).drinks

    within = {p.ingredient for p in drink.spec.parts}
    assert {s for s in within if book(preset).pantry[s].kind.value == "whiskey"} == {kind}


@pytest.mark.parametrize("preset", ALL)
def test_a_drink_of_an_international_list_has_the_whiskey_of_the_list(preset):
    for call in ("whisky sour", "mint julep"):
        [drink] = calls.read(call, book(preset)).drinks

        assert "bourbon" in {p.ingredient for p in drink.spec.parts}


@pytest.mark.parametrize("preset", ALL)
def test_where_the_word_is_nobody_s_it_is_asked_which(preset):
    here = book(preset)
    rules = here.rules.model_copy(update={"slang": {}})
    whole = [d for d in here.stock.drinks.values() if "Whiskey" not in d.name]
    house = calls.vocabulary(rules, whole, here.pantry)

    [asked] = calls.read("whisky neat", house).ask
    assert asked.about.value == "base"
    assert {"bourbon", "scotch", "irish-whiskey"} <= set(asked.choices)
