"""A drink of a try-out is called as guests say it, in words that mean the house's own build."""

from random import Random

import pytest

from assessments.measures.call_writing import Bar
from assessments.measures.quiz import ItemKind, outcome
from assessments.measures.quiz.blueprint import Slot
from assessments.measures.quiz.choices import can_ask, neighbours
from assessments.measures.quiz.one import drink_item
from assessments.measures.tryout_calls import called
from recipes.grammar import calls
from tests.measures import test_call_writing


@pytest.fixture(scope="module")
def bar() -> Bar:
    return test_call_writing.bar()


def item(drink, bar, seed):
    near = neighbours(drink, bar.drinks)
    if not can_ask(drink, ItemKind.BUILD, None, near):
        return None
    return drink_item(drink, Slot(ItemKind.BUILD, None, False), near, None, Random(seed))


@pytest.mark.parametrize("seed", [1, 2])
def test_what_is_said_is_heard_as_the_drink_in_the_houses_build(bar, seed):
    drinks = sorted(bar.drinks, key=lambda d: -d.share)[:40]
    asked = [(d, i) for d in drinks if (i := item(d, bar, seed))]
    made = [(d, i, called(i, d, bar, Random(seed))) for d, i in asked]
    said = [(d, c.said) for d, _, c in made if c.prompt.code == "ask_call"]

    assert len(said) >= 0.8 * len(asked) > 20
    for drink, text in said:
        heard = calls.read(text, bar.book)
        assert [(d.recipe, d.count) for d in heard.drinks] == [(drink.slug, 1)], text
        assert not heard.ask, text
        assert heard.drinks[0].spec == drink.spec, text
    for _, plain, call in made:
        assert (call.parts, call.topics) == (plain.parts, plain.topics)
        assert outcome(call, plain.right_answer) == "right"


def test_guests_have_more_than_one_way_to_say_it_and_the_same_dice_say_the_same(bar):
    drink = max(bar.drinks, key=lambda d: (d.share, d.slug))
    asked = item(drink, bar, 1)

    def said() -> list[str]:
        made = (called(asked, drink, bar, Random(seed)) for seed in range(15))
        return [call.said for call in made]

    assert said() == said()
    assert len(set(said())) > 1
