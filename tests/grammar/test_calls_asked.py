"""Questions: each has two answers or more, or it is none."""

import random

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import Status
from recipes.grammar.reasons import Reason
from tests.grammar.called import PRESETS, book, smaller_book, table

US = "us-classic"
WITHOUT = [(), ("vodka-martini",), ("gin-martini",), ("vodka-martini", "dirty-martini")]


def few(reading):
    return [q for q in reading.ask if len(set(q.choices)) < 2]


@pytest.mark.parametrize("preset", sorted(PRESETS.values()))
@pytest.mark.parametrize("unsold", WITHOUT, ids=", ".join)
def test_calls_of_the_trade_ask_nothing_with_one_answer(preset, unsold):
    words = smaller_book(preset, *unsold)

    for text in sorted({call["call"] for call in table()}):
        assert not few(calls.read(text, words)), text


@pytest.mark.parametrize("preset", sorted(PRESETS.values()))
def test_generated_calls_ask_nothing_with_one_answer(preset):
    words, rng = book(preset), random.Random(4)
    for _turn in range(400):
        call = calls.generate(words, rng)
        assert not few(calls.read(call.text, words)), call.text


@pytest.mark.parametrize("unsold", WITHOUT, ids=", ".join)
@pytest.mark.parametrize("call", ["martini", "a martini up", "dry martini", "dirty martini"])
def test_a_martini_is_of_gin_or_vodka_whichever_of_them_has_a_recipe(call, unsold):
    reading = calls.read(call, smaller_book(US, *unsold))

    assert not few(reading)
    assert not reading.unplaced
    for question in (q for q in reading.ask if q.about is calls.About.BASE):
        assert set(question.choices) == {"gin", "vodka"}
    assert [d.recipe for d in reading.drinks] in (
        [None], ["dirty-martini"], ["gin-martini"], ["vodka-martini"],
    )  # fmt: skip


def test_the_one_thing_that_half_a_name_may_be_is_asked_about():
    [question] = calls.read("spiced ginger beer", book(US)).ask

    assert (question.about.value, question.choices) == ("base", ("spiced-rum", "none"))


@pytest.mark.parametrize(
    ("call", "ice"),
    [("gin and tonic, no ice", "none"), ("vodka cran light ice", "light")],
)
def test_why_tells_that_the_guest_said_how_much_ice(call, ice):
    reading = calls.read(call, book(US))

    assert reading.status is Status.READY
    assert Reason.of("call_guest_ice", ice=ice) in reading.drinks[0].why
    assert "call_rule_ice" not in {r.code for r in reading.drinks[0].why}
