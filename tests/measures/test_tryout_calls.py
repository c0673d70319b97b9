"""A drink of a try-out is called as a guest says it, and all of it can be shown by building it."""

from random import Random

import pytest

from assessments.measures.call_writing import Bar
from assessments.measures.quiz import ItemAsked, outcome, shows
from assessments.measures.tryout_calls import CALLS_FIRST, call_item
from recipes.grammar import calls
from tests.measures import test_call_writing


@pytest.fixture(scope="module")
def bar() -> Bar:
    return test_call_writing.bar()


def test_most_must_knows_can_be_called(bar):
    made = [call_item(d, bar, Random(1), critical=False) for d in bar.drinks]

    assert sum(m is not None for m in made) >= 0.8 * len(made)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_what_is_said_is_heard_as_the_drink_and_its_parts_show_every_topic(bar, seed):
    for drink in bar.drinks:
        item = call_item(drink, bar, Random(seed), critical=False)
        if item is None:
            continue
        said = str(item.prompt.values["call"])
        heard = calls.read(said, bar.book)
        assert [d.recipe for d in heard.drinks] == [drink.slug], said
        assert not heard.ask
        right = item.right_answer
        assert outcome(item, right) == "right"
        assert shows(item, right) == {t.fingerprint: True for t in drink.topics}
        assert ItemAsked.from_json(item.to_json()) == item


def test_the_same_dice_make_the_same_call_and_others_another(bar):
    drink = max(bar.drinks, key=lambda d: (d.share, d.slug))
    texts = [
        {
            str(i.prompt.values["call"])
            for s in range(20)
            if (i := call_item(drink, bar, Random(s), critical=False))
        }
        for _ in range(2)
    ]

    assert texts[0] == texts[1]
    assert len(texts[0]) > 1
    assert CALLS_FIRST > 0
