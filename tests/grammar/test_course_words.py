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
