"""Figures of what ready takes that contradict each other, as a truth table."""

import pytest

from assessments.measures.policy_sense import doubts
from assessments.measures.ready_facts import ReadyPolicy


@pytest.mark.parametrize(
    ("least", "most", "second", "codes"),
    [
        (0.7, 0.1, 0.5, []),
        (0.9, 0.09, 0.9, []),
        (0.9, 0.1, 0.5, ["bar_idle"]),
        (0.9, 0.2, 0.5, ["bar_idle"]),
        (0.99, 0.01, 0.5, ["bar_idle"]),
        (1.0, 0.1, 0.5, ["bar_never_right"]),
        (0.7, 0.0, 0.5, ["bar_never_wrong"]),
        (1.0, 0.0, 0.0, ["bar_never_right", "bar_never_wrong", "bar_second_is_everybody"]),
        (0.0, 1.0, 0.0, ["bar_idle", "bar_second_is_everybody"]),
    ],
)
def test_what_whoever_sets_it_should_know(least, most, second, codes):
    assert [r.code for r in doubts(ReadyPolicy(least, most, second))] == codes


def test_it_says_how_many_can_be_wrong_at_all():
    (reason,) = doubts(ReadyPolicy(0.9, 0.2, 0.5))

    assert reason.values == {"least": 90, "most": 20, "rest": 10}
