"""The shortest list of rules and drinks, against every list there is."""

from itertools import chain, combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessments.measures.shortest_list import (
    DRINK_MINUTES,
    RULE_MINUTES,
    Listed,
    left_of,
    shortest_list,
)

gains = st.integers(0, 12).map(lambda n: n / 100)


def every(of):
    return chain.from_iterable(combinations(of, n) for n in range(len(of) + 1))


def fewest_minutes(rules, drinks, short) -> int | None:
    """By looking at all lists. A rule's part of a drink is never won twice: what drinks win is
    less by as much of it as the rules have won, and the rules win no more than all drinks."""
    whole, enough = sum(drinks), []
    for some_rules in every(rules):
        by_rules = min(sum(some_rules), whole)
        for some_drinks in every(drinks):
            by_drinks = sum(some_drinks) * (1 - by_rules / whole) if whole else 0.0
            if by_rules + by_drinks >= short - 1e-9:
                minutes = len(some_rules) * RULE_MINUTES + len(some_drinks) * DRINK_MINUTES
                enough.append(minutes)
    return min(enough, default=None)


@given(
    st.lists(gains, max_size=5),
    st.lists(gains, max_size=5),
    st.floats(0.001, 0.5),
)
def test_no_list_is_shorter(rules, drinks, short):
    rules, drinks = (sorted(of, reverse=True) for of in (rules, drinks))

    found, best = shortest_list(rules, drinks, short), fewest_minutes(rules, drinks, short)

    assert (found.minutes if found else None) == best
    if found:
        by_rules, whole = sum(rules[: found.rules]), sum(drinks)
        by_drinks = left_of(by_rules, whole) * sum(drinks[: found.drinks])
        assert min(by_rules, whole) + by_drinks >= short - 1e-8


@pytest.mark.parametrize(
    ("rules", "drinks", "short", "listed"),
    [
        ((0.05, 0.05), (0.1, 0.1), 0.1, Listed(2, 0)),  # two minutes instead of a drink's four
        ((0.05, 0.05), (0.1, 0.1), 0.05, Listed(1, 0)),
        ((0.01, 0.01), (0.1, 0.1), 0.1, Listed(0, 1)),
        ((0.02,) * 4, (0.1, 0.1), 0.08, Listed(0, 1)),  # four minutes too, and more is won
        ((0.05,), (0.1, 0.1), 0.12, Listed(1, 1)),  # .05 and three quarters of .10
        ((0.5,), (0.1, 0.1), 0.2, Listed(1, 0)),
        ((0.5,), (0.1, 0.1), 0.21, None),  # rules win no more than all drinks
        ((), (0.1, 0.1), 0.21, None),
        ((), (), 0.1, None),
        ((0.1,), (0.1,), float("inf"), None),
    ],
)
def test_a_list_by_hand(rules, drinks, short, listed):
    assert shortest_list(rules, drinks, short) == listed
