"""The closed forms against the library (fsrs 6), one topic at a time and a house at once."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from fsrs import Card, Rating, Scheduler, State
from hypothesis import given
from hypothesis import strategies as st

from assessments.measures.forgetting import (
    DAY_S,
    FIRST_WRONG,
    recall_after,
    recall_all,
    stronger,
    weaker,
)

NOON = datetime(2026, 5, 4, 12, tzinfo=UTC)
LIBRARY = Scheduler(learning_steps=(), relearning_steps=(), enable_fuzzing=False)

stabilities = st.floats(0.01, 400)
difficulties = st.floats(1, 10)
whole_days = st.integers(1, 2000)


def card(stability: float, difficulty: float = 5.0) -> Card:
    return Card(card_id=1, state=State.Review, stability=stability, difficulty=difficulty,
                due=NOON, last_review=NOON)  # fmt: skip


def reviewed(stability: float, difficulty: float, days: int, rating: Rating) -> float:
    after, _ = LIBRARY.review_card(card(stability, difficulty), rating, NOON + timedelta(days=days))
    return float(after.stability or 0)


def test_the_published_values_at_ten_days_of_stability_in_one_pass():
    """R(t, S) = (1 + F t/S)^-d with d = 0.1542, S = 10: values of the library, fsrs 6.3."""
    at = 100 * DAY_S
    last = [at - days * DAY_S for days in (1, 5, 20, 100)]

    assert recall_all([10.0] * 4, last, at) == pytest.approx(
        [0.985682, 0.940344, 0.845885, 0.692827], abs=5e-7
    )


@given(st.lists(st.tuples(stabilities, st.integers(0, 2000)), min_size=1, max_size=20))
def test_recall_of_all_topics_is_the_librarys_at_whole_days(topics):
    at = NOON.timestamp() + 3000 * DAY_S
    last = [at - days * DAY_S for _, days in topics]
    library = [
        LIBRARY.get_card_retrievability(card(stability), NOON + timedelta(days=days))
        for stability, days in topics
    ]

    assert recall_all([s for s, _ in topics], last, at) == pytest.approx(library, abs=1e-10)


def test_before_the_last_answer_all_is_known():
    assert recall_all([1.0, 2.0], [500.0, 10.0], 10.0).tolist() == [1.0, 1.0]


@given(stabilities, st.floats(0, 2000))
def test_one_topic_or_many_is_the_same(stability, days):
    at = days * DAY_S
    assert recall_all(stability, 0.0, at) == pytest.approx(recall_after(days, stability), abs=1e-12)


@given(stabilities, difficulties, whole_days)
def test_a_right_answer_strengthens_as_in_the_library(stability, difficulty, days):
    now = recall_after(days, stability)

    assert stronger(stability, difficulty, now) == pytest.approx(
        reviewed(stability, difficulty, days, Rating.Good), rel=1e-9
    )
    assert stronger(stability, difficulty, now, slow=True) == pytest.approx(
        reviewed(stability, difficulty, days, Rating.Hard), rel=1e-9
    )


@given(stabilities, difficulties, whole_days)
def test_a_wrong_answer_weakens_as_in_the_library(stability, difficulty, days):
    now = recall_after(days, stability)

    assert weaker(stability, difficulty, now) == pytest.approx(
        reviewed(stability, difficulty, days, Rating.Again), rel=1e-9
    )


def test_the_first_wrong_answer_leaves_what_the_library_leaves():
    after, _ = LIBRARY.review_card(Card(card_id=1), Rating.Again, NOON)

    assert after.stability == FIRST_WRONG


def test_arrays_and_numbers_agree():
    several = np.array([0.5, 3.0, 40.0])

    assert stronger(several, 5.0, 0.8).tolist() == [stronger(s, 5.0, 0.8) for s in several]
    assert weaker(several, 5.0, 0.8).tolist() == [weaker(s, 5.0, 0.8) for s in several]
