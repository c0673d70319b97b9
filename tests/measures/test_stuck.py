"""Three fails on one drink, and what is proposed then."""

import pytest

from assessments.measures.stuck import Plan, Tried, fails_running, propose, step_each_time


def tried(*failed, shown=False):
    return Tried(shown=shown, passed=not failed, failed=frozenset(failed))


@pytest.mark.parametrize(
    ("tries", "running"),
    [
        ([], 0),
        ([tried("ice")], 1),
        ([tried("ice"), tried()], 0),
        ([tried("ice"), tried(), tried("rim"), tried("ice")], 2),
    ],
)
def test_only_fails_since_the_last_pass_count(tries, running):
    assert fails_running(tries) == running


@pytest.mark.parametrize(
    ("tries", "plan"),
    [
        ([tried("ice"), tried("rim"), tried("pour")], Plan.SHOW),
        ([tried("ice"), tried("ice"), tried("ice")], Plan.SHOW),
        ([tried("ice", shown=True), tried("ice", "rim"), tried("ice")], Plan.ONE_STEP),
        ([tried("ice", shown=True), tried("rim"), tried("pour")], Plan.STUDY),
        ([tried("ice", shown=True)] * 5, Plan.STATION),
        ([tried("x", shown=True), tried(), *[tried("ice")] * 3], Plan.SHOW),
    ],
)
def test_the_next_plan(tries, plan):
    assert propose(tries) is plan


def test_without_another_station_none_is_proposed():
    assert propose([tried("ice", shown=True)] * 5, elsewhere=False) is Plan.ONE_STEP
    assert propose([tried("ice")] * 5, elsewhere=False) is Plan.SHOW


def test_a_step_that_failed_each_time_is_named():
    assert step_each_time([tried("ice", "rim"), tried("rim"), tried("rim", "pour")]) == "rim"
    assert step_each_time([tried("ice"), tried("rim")]) == ""


@pytest.mark.parametrize("tries", [[], [tried()]])
def test_where_nothing_failed_there_is_no_plan(tries):
    with pytest.raises(ValueError, match="nothing failed"):
        propose(tries)
