"""Cohen's kappa and its interval."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from statsmodels.stats.inter_rater import cohens_kappa

from assessments.measures.agreement import FEW_STEPS, agreement


def marks(neither, second, first, both):
    return (
        [(False, False)] * neither + [(False, True)] * second + [(True, False)] * first
        + [(True, True)] * both
    )  # fmt: skip


def test_a_table_whose_kappa_is_known():
    """20 and 15 alike of 50 with margins 25/25 and 30/20: 0.7 seen, 0.5 by chance, kappa 0.4."""
    found = agreement(marks(20, 5, 10, 15))

    assert found.same == pytest.approx(0.7)
    assert found.kappa == pytest.approx(0.4)


@given(st.tuples(*[st.integers(1, 60)] * 4))
def test_it_is_what_statsmodels_says(cells):
    """statsmodels.stats.inter_rater.cohens_kappa, variance of Fleiss, Cohen and Everitt 1969."""
    neither, second, first, both = cells
    ours = agreement(marks(*cells))
    theirs = cohens_kappa([[neither, second], [first, both]])

    assert ours.kappa == pytest.approx(theirs.kappa)
    assert ours.low == pytest.approx(max(-1, theirs.kappa_low), abs=1e-9)
    assert ours.high == pytest.approx(min(1, theirs.kappa_upp), abs=1e-9)


@given(st.tuples(*[st.integers(0, 30)] * 4).filter(any))
def test_who_is_first_changes_nothing(cells):
    neither, second, first, both = cells
    one, other = agreement(marks(*cells)), agreement(marks(neither, first, second, both))

    assert one.same == pytest.approx(other.same)
    assert (one.kappa is None) == (other.kappa is None)
    if one.kappa is not None:
        assert one.kappa == pytest.approx(other.kappa)
        assert -1 <= one.low <= one.kappa <= one.high <= 1


def test_the_same_marks_agree_wholly():
    found = agreement(marks(40, 0, 0, 3))

    assert (found.kappa, found.low, found.high) == pytest.approx((1, 1, 1))


def test_where_nobody_marks_anything_down_kappa_says_nothing():
    found = agreement(marks(40, 0, 0, 0))

    assert (found.same, found.kappa) == (1, None)


@pytest.mark.parametrize(("steps", "few"), [(FEW_STEPS - 1, True), (FEW_STEPS, False)])
def test_few_steps_are_called_few(steps, few):
    assert agreement(marks(steps - 1, 0, 0, 1)).is_few is few


def test_without_a_step_there_is_nothing_to_say():
    assert agreement([]) is None
