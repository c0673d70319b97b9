"""The stated chance is drawn to where the answers are."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessments.measures.memory import TopicMemory
from assessments.measures.stated import AS_GUESSED, Line, line_after
from tests.measures.bar import drink
from tests.measures.test_shift_plan import NOON, known

guesses = st.floats(0.001, 0.999)


@given(guesses)
def test_it_begins_as_guessed(guess):
    assert AS_GUESSED.stated(guess) == pytest.approx(guess, abs=1e-9)


@given(st.lists(st.tuples(guesses, st.booleans()), max_size=60))
def test_it_never_falls_where_the_guess_rises(answers):
    line = AS_GUESSED
    for guess, right in answers:
        line = line.then(guess, right=right)

    said = line.stated(np.linspace(0, 1, 50))
    assert np.all(np.diff(said) >= 0)
    assert np.all((said > 0) & (said < 1))


@pytest.mark.parametrize(("shift", "slope"), [(0.0, 1.0), (1.0, 0.6), (-1.0, 1.0), (0.5, 1.4)])
def test_it_finds_the_line_that_the_answers_follow(shift, slope):
    """Simulated answers of known truth: after 400 the stated chance is within .15 of it."""
    dice, line = np.random.default_rng(11), AS_GUESSED
    truth = Line(shift, slope)
    for guess in dice.uniform(0.05, 0.99, 400):
        line = line.then(guess, right=bool(dice.random() < truth.stated(guess)))

    where = np.linspace(0.1, 0.95, 18)
    assert line.stated(where) == pytest.approx(truth.stated(where), abs=0.15)


def test_one_answer_moves_it_a_little_and_towards_it():
    up, down = AS_GUESSED.then(0.7, right=True), AS_GUESSED.then(0.7, right=False)

    assert 0.7 < up.stated(0.7) < 0.8
    assert 0.6 < down.stated(0.7) < 0.7


def test_a_drink_that_was_never_met_in_full_says_nothing_of_forgetting():
    madras = drink("madras")
    topics = [t.fingerprint for t in madras.topics]
    memories: dict[str, TopicMemory] = known(madras)
    assert line_after(AS_GUESSED, topics, memories, False, NOON) != AS_GUESSED

    del memories[topics[0]]
    assert line_after(AS_GUESSED, topics, memories, False, NOON) == AS_GUESSED


def test_values_come_back():
    line = AS_GUESSED.then(0.4, right=True)

    assert Line.from_values(line.to_values()) == line
