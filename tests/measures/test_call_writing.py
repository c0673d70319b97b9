"""Calls to practise: from the grammar, by what sells, with choices that give nothing away."""

from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from assessments.measures.call_marking import DrinkGiven, mark_drink
from assessments.measures.call_writing import (
    COUNT,
    FEW,
    MOST,
    Bar,
    CallAsked,
    CallKind,
    write_calls,
)
from assessments.measures.quiz.alike import same_answer
from recipes.grammar import calls
from recipes.grammar.aspects import Aspect
from recipes.grammar.coursefile import read_course
from recipes.grammar.drink import make_drink

COURSE = Path(__file__).parents[2] / "fixtures" / "course"
SEEDS = range(5)


@cache
def bar(preset="us-classic"):
    course = read_course(COURSE, preset)
    drinks = tuple(
        make_drink(
            slug=d.slug, name=d.name, module=m.slug, spec=d.spec, rules=course.rules,
            pantry=course.pantry, aliases=d.aliases, share=d.share,
        )
        for m in course.modules
        for d in m.drinks
    )  # fmt: skip
    book = calls.vocabulary(course.rules, drinks, course.pantry)
    return Bar(book, drinks, course.rules, course.pantry)


@cache
def rushes(preset="us-classic"):
    return [call for seed in SEEDS for call in write_calls(CallKind.RUSH, bar(preset), seed)]


def drinks():
    return [drink for call in rushes() for drink in call.drinks]


@pytest.mark.parametrize("kind", CallKind)
def test_same_seed_same_calls(kind):
    once, again = write_calls(kind, bar(), 7), write_calls(kind, bar(), 7)

    assert once == again
    assert len(once) == COUNT[kind]
    assert once != write_calls(kind, bar(), 8)


def test_nobody_can_learn_the_list():
    said = Counter(call.text for call in rushes())

    assert len(said) > 0.9 * len(rushes())


def test_rounds_have_several_drinks_and_a_rush_one_a_call():
    assert {len(call.drinks) for call in rushes()} == {1}
    assert {len(c.drinks) for c in write_calls(CallKind.ROUND, bar(), 3)} == {2, 3}


@pytest.mark.parametrize("preset", ["us-classic", "great-britain", "europe"])
def test_a_call_is_heard_as_what_has_to_be_built(preset):
    for call in rushes(preset):
        heard = calls.read(call.text, bar(preset).book)

        assert [d.recipe for d in heard.drinks] == [d.recipe for d in call.drinks]
        asks = [tuple(dict.fromkeys(q.about for q in heard.asks_about(n)))
                for n in range(len(heard.drinks))]  # fmt: skip
        assert asks == [d.ask for d in call.drinks]


def test_now_and_then_what_is_wanted_has_to_be_asked():
    asked = Counter(bool(drink.ask) for drink in drinks())

    assert asked[True] > 0.1 * asked.total()
    assert asked[False] > 0.5 * asked.total()


def test_the_right_build_is_among_the_choices_and_no_choice_says_the_same():
    for drink in drinks():
        assert len(drink.parts) == len(Aspect)
        assert mark_drink(drink, right(drink)).came == "right"
        for part in drink.parts:
            assert FEW <= len(part.choices) <= MOST
            for n, one in enumerate(part.choices):
                for other in part.choices[n + 1 :]:
                    assert not same_answer(part.aspect, one.content, other.content)


def right(drink):
    return DrinkGiven(tuple(p.right for p in drink.parts), frozenset(drink.ask))


def test_the_place_of_a_choice_says_nothing():
    """Always the first, or always the last, would be far from enough."""
    for aspect in (Aspect.POURS, Aspect.MIXERS):
        places = Counter(p.right for d in drinks() for p in d.parts if p.aspect is aspect)

        assert max(places.values()) < 0.5 * places.total()


def test_a_double_stands_beside_the_single():
    doubles = [d for c, d in ((c, d) for c in rushes() for d in c.drinks)
               if "double" in c.text.lower().split()]  # fmt: skip
    assert doubles
    for drink in doubles:
        [pours] = [p for p in drink.parts if p.aspect is Aspect.POURS]
        amounts = [[float(x[1] or 0) for x in c.content["poured"]] for c in pours.choices]
        wanted = amounts[pours.right]
        assert [a / 2 for a in wanted] in amounts


def test_what_is_stored_is_read_back():
    call = rushes()[0]

    assert CallAsked.from_json(call.to_json()) == call


def test_a_house_that_pours_nothing_calls_nothing():
    empty = Bar(bar().book, (), bar().rules, bar().pantry)

    assert write_calls(CallKind.SINGLE, empty, 1) == ()
