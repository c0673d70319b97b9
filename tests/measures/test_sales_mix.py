"""Shares of what sells, and kinds of shift."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessments.measures.sales_mix import ShiftKind, business_day, kind_of, smoothed

FRIDAY, SUNDAY = dt.date(2026, 3, 6), dt.date(2026, 3, 8)
COUNTS = st.dictionaries(st.sampled_from("abcdef"), st.floats(0, 10_000), min_size=1)


def test_a_drink_that_nobody_ordered_is_not_worth_nothing():
    """By hand: 800 sold, as if 200 by the earlier belief; the mean of a Dirichlet posterior
    (Gelman et al., Bayesian Data Analysis, 3rd edition, 3.4)."""
    found = smoothed({"madras": 600, "negroni": 200}, {"madras": 1, "negroni": 1, "press": 2})

    assert found == pytest.approx({"madras": 0.65, "negroni": 0.25, "press": 0.10})


@given(COUNTS, COUNTS)
def test_shares_sum_to_one_and_none_is_below_nothing(sold, thought):
    found = smoothed(sold, thought)

    assert sum(found.values()) == pytest.approx(1)
    assert set(found) == set(thought)
    assert all(share >= 0 for share in found.values())


def test_without_sales_it_is_what_was_thought_and_with_many_what_was_sold():
    assert smoothed({}, {"a": 3, "b": 1}) == {"a": 0.75, "b": 0.25}
    assert smoothed({}, {"a": 0, "b": 0}) == {"a": 0.5, "b": 0.5}
    assert smoothed({"b": 1e9}, {"a": 3, "b": 1})["b"] == pytest.approx(1, abs=1e-6)


def test_more_given_back_than_sold_counts_as_unsold():
    assert smoothed({"a": -5}, {"a": 1, "b": 1}) == {"a": 0.5, "b": 0.5}


@pytest.mark.parametrize(
    ("day", "hour", "kind"),
    [
        (FRIDAY, 19, ShiftKind.WEEKEND_EARLY),
        (FRIDAY, 22, ShiftKind.WEEKEND_LATE),
        (FRIDAY, 2, ShiftKind.WEEKEND_LATE),
        (SUNDAY, 21, ShiftKind.WEEK_EARLY),
        (SUNDAY, 1, ShiftKind.WEEK_LATE),
    ],
)
def test_the_kind_of_a_shift(day, hour, kind):
    assert kind_of(day, hour, day_begins=5) is kind


def test_hours_past_midnight_are_the_evening_before():
    assert business_day(SUNDAY, 1, 5) == SUNDAY - dt.timedelta(days=1)
    assert business_day(SUNDAY, 5, 5) == business_day(SUNDAY, None, 5) == SUNDAY
