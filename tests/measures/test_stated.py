"""The stated chance is drawn to where the answers are."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessments.measures.memory import TopicMemory
from assessments.measures.stated import AT_FIRST, Line, line_after
from tests.measures.bar import drink
from tests.measures.test_shift_plan import NOON, known

guesses = st.floats(0.001, 0.999)


@given(guesses)
def test_a_line_of_no_shift_and_slope_one_states_the_guess(guess):
    assert Line(0.0, 1.0).stated(guess) == pytest.approx(guess, abs=1e-9)


def test_at_first_a_low_guess_is_drawn_up_and_a_high_one_hardly_moved():
    """All of a drink is learned in one look and forgotten together: the product is too low."""
    low, even, high = AT_FIRST.stated([0.16, 0.5, 0.9])

    assert 0.3 < low < even
    assert 0.5 < even < 0.65
    assert high == pytest.approx(0.9, abs=0.05)


@given(st.lists(st.tuples(guesses, st.booleans()), max_size=60))
def test_it_never_falls_where_the_guess_rises(answers):
    line = AT_FIRST
    for guess, right in answers:
        line = line.then(guess, right=right)

    said = line.stated(np.linspace(0, 1, 50))
    assert np.all(np.diff(said) >= 0)
    assert np.all((said > 0) & (said < 1))


@pytest.mark.parametrize(("shift", "slope"), [(0.0, 1.0), (1.0, 0.6), (-1.0, 1.0), (0.5, 1.4)])
def test_it_finds_the_line_that_the_answers_follow(shift, slope):
    """Simulated answers of known truth: after 400 the stated chance is within .15 of it."""
    dice, line = np.random.default_rng(11), AT_FIRST
    truth = Line(shift, slope)
    for guess in dice.uniform(0.05, 0.99, 400):
        line = line.then(guess, right=bool(dice.random() < truth.stated(guess)))

    where = np.linspace(0.1, 0.95, 18)
    assert line.stated(where) == pytest.approx(truth.stated(where), abs=0.15)


def test_one_answer_moves_it_a_little_and_towards_it():
    up, down = AT_FIRST.then(0.7, right=True), AT_FIRST.then(0.7, right=False)

    before = AT_FIRST.stated(0.7)
    assert before < up.stated(0.7) < before + 0.1
    assert before - 0.1 < down.stated(0.7) < before


def test_a_drink_that_was_never_met_in_full_says_nothing_of_forgetting():
    madras = drink("madras")
    topics = [t.fingerprint for t in madras.topics]
    memories: dict[str, TopicMemory] = known(madras)
    assert line_after(AT_FIRST, topics, memories, False, NOON) != AT_FIRST

    del memories[topics[0]]
    assert line_after(AT_FIRST, topics, memories, False, NOON) == AT_FIRST


def test_values_come_back():
    line = AT_FIRST.then(0.4, right=True)

    assert Line.from_values(line.to_values()) == line
