"""Generated calls read back as the builds that they were made from.

What this measures: that whatever the grammar can say is parted, placed and changed as it was
meant, under the rules of three countries. Drinks with their changes are built by the same code on
both sides; whether the builds are the trade's is tested elsewhere, on calls from another hand.
"""

import random

import pytest

from recipes.grammar import calls
from tests.grammar.called import PRESETS, book

CALLS = 10_000
BATCHES = [(house, seed) for house in PRESETS for seed in range(4)]
EACH = -(-CALLS // len(BATCHES))


def heard(drinks):
    return [(d.count, d.recipe, d.spec, {c.code for c in d.changes}) for d in drinks]


def asked(questions):
    return {(q.drink, q.about, q.choices) for q in questions}


@pytest.mark.parametrize(("house", "seed"), BATCHES)
def test_what_was_meant_is_what_is_heard(house, seed):
    words, rng = book(PRESETS[house]), random.Random(seed)
    for _ in range(EACH):
        said = calls.generate(words, rng)
        reading = calls.read(said.text, words)

        assert heard(reading.drinks) == heard(said.drinks), said.text
        assert asked(reading.ask) == asked(said.ask), said.text
        assert reading.unplaced == (), said.text


def test_the_same_seed_gives_the_same_calls():
    words = book(PRESETS["us"])

    def some(seed):
        rng = random.Random(seed)
        return [calls.generate(words, rng).text for _ in range(50)]

    assert some(7) == some(7) != some(8)


def test_what_sells_is_what_is_called():
    words, rng = book(PRESETS["us"]), random.Random(1)
    mix = {"madras": 1.0}
    named = {
        drink.recipe
        for _ in range(60)
        for drink in calls.generate(words, rng, mix, drinks=1).drinks
        if drink.recipe
    }

    assert "madras" in named
    # The rest are calls by ingredients alone, which happen to be drinks of the book.
    often = [
        d.recipe for _ in range(300) for d in calls.generate(words, rng, mix, drinks=1).drinks
    ].count("madras")
    assert often > 200


def test_a_round_has_as_many_drinks_as_were_asked_for():
    words, rng = book(PRESETS["gb"]), random.Random(3)

    assert [len(calls.generate(words, rng, drinks=n).drinks) for n in (1, 2, 5)] == [1, 2, 5]


def test_calls_are_of_every_sort():
    """Doubles, tall ones, changes of ice and garnish, tills in capitals, rounds."""
    words, rng = book(PRESETS["us"]), random.Random(2)
    made = [calls.generate(words, rng) for _ in range(400)]
    changes = {c.what.value for m in made for d in m.drinks for c in d.changes}

    assert {"double", "tall", "short", "no_ice", "light_ice", "no_garnish", "extra", "with",
            "splash", "no_straw", "neat", "rocks", "up"} <= changes  # fmt: skip
    assert any(m.text.isupper() for m in made)
    assert any(len(m.drinks) > 2 for m in made)
