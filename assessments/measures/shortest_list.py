"""The shortest list of house rules and drinks that takes somebody over the bar.

Unlike the steps of a trainer's hour these overlap: a rule gone over is a part of each drink that
goes by it. So what drinks still win is less by what the rules have won, each by the same part of
its own, for which rules it goes by isn't looked at; and rules never win more than all drinks would.
"""

from bisect import bisect_left
from collections.abc import Sequence
from itertools import accumulate
from typing import NamedTuple

DRINK_MINUTES, RULE_MINUTES = 4, 1
"""To look at all of a drink, or to say one rule to oneself (our own choice, no source)."""

CLOSE = 1e-9


class Listed(NamedTuple):
    """So many of the rules, and of the drinks, those that win most."""

    rules: int
    drinks: int

    @property
    def minutes(self) -> int:
        return RULE_MINUTES * self.rules + DRINK_MINUTES * self.drinks


def left_of(gained: float, whole: float) -> float:
    """The part of its own, 0 to 1, that each drink still wins once rules have gained so much of
    what all drinks win."""
    return max(0.0, 1 - gained / whole) if whole else 0.0


def shortest_list(rules: Sequence[float], drinks: Sequence[float], short: float) -> Listed | None:
    """The list of fewest minutes that wins `short`, None where none does; of lists that take as
    long the one that wins most. What each wins is a share of all orders, in falling order.

    Exact: rules take equally long, and so do drinks, and what a list wins only rises with what its
    rules and what its drinks win. So of each length of rules those that win most are enough to look
    at, with as few drinks as it then takes.
    """
    by_rules = list(accumulate(rules, initial=0.0))
    by_drinks = list(accumulate(drinks, initial=0.0))
    whole = by_drinks[-1]
    found = []
    for many, gain in enumerate(by_rules):
        gained, left = min(gain, whole), left_of(gain, whole)
        few = bisect_left([gained + left * won for won in by_drinks], short - CLOSE)
        if few < len(by_drinks):
            found.append((Listed(many, few), gained + left * by_drinks[few]))
    if not found:
        return None
    best, _wins = min(found, key=lambda each: (each[0].minutes, -each[1]))
    return best
