"""What is usual for a person, and what is slow for them."""

from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessments.measures.pace import (
    AS_SIGMA,
    ENOUGH,
    KEPT,
    LEAST_MS,
    MOST_MS,
    is_time,
    pace_of,
)

times = st.integers(LEAST_MS, MOST_MS)
STEADY = pace_of([3000] * ENOUGH)


def test_too_few_times_say_nothing():
    few = pace_of([3000] * (ENOUGH - 1))

    assert few.usual is few.slow_from is few.is_slow(60_000) is None


def test_whoever_is_steady_is_slow_at_half_as_long_again():
    assert STEADY.usual == pytest.approx(3000)
    assert STEADY.is_slow(4499) is False
    assert STEADY.is_slow(4501) is True


def test_whoever_varies_is_slow_later():
    varied = pace_of([1000, 2000, 3000, 4000, 6000, 9000, 2500, 3500])

    assert varied.slow_from > STEADY.slow_from


def test_what_is_slow_for_one_is_usual_for_another():
    assert STEADY.is_slow(9000) is True
    assert pace_of([9000] * ENOUGH).is_slow(9000) is False


def test_one_interruption_moves_nothing():
    assert STEADY.then(110_000).usual == pytest.approx(3000)
    assert STEADY.then(110_000).slow_from == pytest.approx(4500)


@pytest.mark.parametrize("said", [None, 0, LEAST_MS - 1, MOST_MS + 1])
def test_what_is_no_time_says_nothing_and_changes_nothing(said):
    assert not is_time(said)
    assert STEADY.is_slow(said) is None
    assert STEADY.then(said) == STEADY


def test_a_person_gets_quicker_and_the_old_times_are_forgotten():
    pace = pace_of([9000] * KEPT)
    for _ in range(KEPT):
        pace = pace.then(2000)

    assert pace.times == (2000,) * KEPT


@given(st.lists(times, min_size=ENOUGH, max_size=KEPT), st.sampled_from([2, 5]))
def test_a_person_twice_as_slow_in_all_is_no_slower_for_themselves(taken, factor):
    """The scale doesn't matter, within what is taken for a time."""
    slower = [t * factor for t in taken]
    if max(slower) <= MOST_MS:
        assert pace_of(slower).slow_from == pytest.approx(factor * pace_of(taken).slow_from)


@given(st.lists(times, min_size=ENOUGH, max_size=KEPT))
def test_less_than_half_of_the_answers_are_slow(taken):
    pace = pace_of(taken)

    assert sum(bool(pace.is_slow(t)) for t in taken) <= len(taken) / 2


def test_the_factor_is_the_normal_quantile():
    assert pytest.approx(1 / NormalDist().inv_cdf(0.75), abs=1e-4) == AS_SIGMA
