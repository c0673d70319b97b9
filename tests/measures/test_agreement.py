"""Cohen's kappa and its interval."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import t as students_t
from statsmodels.stats.inter_rater import cohens_kappa

from assessments.measures.agreement import FEW_BUILDS, FEW_STEPS, agreement


def marks(neither, second, first, both):
    return (
        [(False, False)] * neither + [(False, True)] * second + [(True, False)] * first
        + [(True, True)] * both
    )  # fmt: skip


def one_each(*cells):
    """A build for each step."""
    return [[mark] for mark in marks(*cells)]


def width(found):
    return found.high - found.low


def test_a_table_whose_kappa_is_known():
    """20 and 15 alike of 50 with margins 25/25 and 30/20: 0.7 seen, 0.5 by chance, kappa 0.4."""
    found = agreement(one_each(20, 5, 10, 15))

    assert found.same == pytest.approx(0.7)
    assert found.kappa == pytest.approx(0.4)


@given(st.tuples(*[st.integers(1, 60)] * 4))
def test_with_one_step_a_build_it_is_what_statsmodels_says(cells):
    """statsmodels.stats.inter_rater.cohens_kappa, variance of Fleiss, Cohen and Everitt 1969; ours
    is as wide as few builds make it: n / (n - 1), and Student's t in place of the normal."""
    neither, second, first, both = cells
    ours = agreement(one_each(*cells))
    theirs = cohens_kappa([[neither, second], [first, both]])
    n = sum(cells)
    far = students_t.ppf(0.975, n - 1) * (n / (n - 1)) ** 0.5 * theirs.std_kappa

    assert ours.kappa == pytest.approx(theirs.kappa)
    assert ours.low == pytest.approx(max(-1, theirs.kappa - far), abs=1e-9)
    assert ours.high == pytest.approx(min(1, theirs.kappa + far), abs=1e-9)


builds_marked = st.lists(
    st.lists(st.tuples(st.booleans(), st.booleans()), min_size=1, max_size=6),
    min_size=2, max_size=12,
)  # fmt: skip


@given(builds_marked, st.integers(2, 5))
def test_the_same_steps_said_over_again_say_nothing_more(builds, times):
    """Each build's steps many times over: were they independent, the interval would shrink."""
    once, often = agreement(builds), agreement([build * times for build in builds])

    assert (once.kappa is None) == (often.kappa is None)
    if once.kappa is not None:
        assert often.kappa == pytest.approx(once.kappa)
        assert (often.low, often.high) == pytest.approx((once.low, once.high), abs=1e-9)


def leave_one_out(builds):
    """The jackknife by build (Efron and Tibshirani 1993, chapter 11): its standard error."""
    left = [agreement(builds[:n] + builds[n + 1 :]).kappa for n in range(len(builds))]
    mean, count = sum(left) / len(left), len(left)
    return ((count - 1) / count * sum((kappa - mean) ** 2 for kappa in left)) ** 0.5


def invented(seed, count, steps=12):
    """Builds of hires who differ, seen by trainers who are at times careless for a whole build."""
    dice, builds = random.Random(seed), []
    for _build in range(count):
        slips, careful = dice.choice((0.05, 0.4)), dice.choice((0.6, 1.0))
        first = [dice.random() < slips for _ in range(steps)]
        builds.append([(f, f if dice.random() < careful else dice.random() < 0.2) for f in first])
    return builds


@pytest.mark.parametrize("seed", range(4))
def test_it_is_near_the_jackknife_that_leaves_out_one_build_after_the_other(seed):
    builds = invented(seed, 60)
    ours = agreement(builds)
    error = width(ours) / 2 / students_t.ppf(0.975, 59)

    assert error == pytest.approx(leave_one_out(builds), rel=0.1)
    alone = agreement([[mark] for build in builds for mark in build])
    assert width(ours) > 1.1 * width(alone)


def test_it_holds_as_often_as_it_says():
    """Of 200 houses with twenty builds each; the truth is that of 20,000 builds. Steps taken for
    independent hold too seldom."""
    truth = agreement(invented(999, 20_000)).kappa
    houses = [invented(seed, 20) for seed in range(200)]

    def held(found):
        return sum(a.low <= truth <= a.high for a in found) / len(houses)

    assert 0.92 <= held(map(agreement, houses)) <= 0.98
    assert held(agreement([m] for build in b for m in build) for b in houses) < 0.88


@given(st.tuples(*[st.integers(0, 30)] * 4).filter(any))
def test_who_is_first_changes_nothing(cells):
    neither, second, first, both = cells
    one = agreement([marks(*cells), [(False, False)]])
    other = agreement([marks(neither, first, second, both), [(False, False)]])

    assert one.same == pytest.approx(other.same)
    assert (one.kappa is None) == (other.kappa is None)
    if one.kappa is not None:
        assert one.kappa == pytest.approx(other.kappa)
        assert (one.low, one.high) == pytest.approx((other.low, other.high))
        assert -1 <= one.low <= one.kappa + 1e-12
        assert one.kappa - 1e-12 <= one.high <= 1


def test_the_same_marks_agree_wholly():
    found = agreement(one_each(40, 0, 0, 3))

    assert (found.kappa, found.low, found.high) == pytest.approx((1, 1, 1))


def test_where_nobody_marks_anything_down_kappa_says_nothing():
    found = agreement(one_each(40, 0, 0, 0))

    assert (found.same, found.kappa) == (1, None)


def test_one_build_alone_tells_no_spread():
    found = agreement([marks(8, 1, 1, 2)])

    assert found.kappa is not None
    assert (found.low, found.high, found.is_few) == (None, None, True)


@pytest.mark.parametrize(
    ("builds", "steps", "few"),
    [
        (FEW_BUILDS, FEW_STEPS, False),
        (FEW_BUILDS - 1, FEW_STEPS * 2, True),
        (FEW_BUILDS, FEW_STEPS - 1, True),
    ],
)
def test_few_steps_or_few_builds_are_called_few(builds, steps, few):
    apart = [[(False, False)] for _ in range(builds - 1)]
    rest = marks(steps - builds, 0, 0, 1)

    assert agreement([*apart, rest]).is_few is few


def test_without_a_step_there_is_nothing_to_say():
    assert agreement([]) is None
    assert agreement([[]]) is None
