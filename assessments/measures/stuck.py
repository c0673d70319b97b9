"""Somebody who failed one drink three times running: what to try next. A person decides."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

ENOUGH = 3
"""So many fails running and trying the same once more is no plan."""
MANY = 5


class Plan(StrEnum):
    """What may come next."""

    SHOW = "show"
    ONE_STEP = "one_step"
    STUDY = "study"
    STATION = "station"


@dataclass(frozen=True)
class Tried:
    """One build of the drink: whether it was shown, and which steps went wrong that fail it."""

    shown: bool
    passed: bool
    failed: frozenset[str]


def fails_running(tries: Sequence[Tried]) -> int:
    """How many of the newest, oldest first in `tries`, were not passed, one after the other."""
    count = 0
    for tried in reversed(tries):
        if tried.passed:
            break
        count += 1
    return count


def propose(tries: Sequence[Tried], *, elsewhere: bool = True) -> Plan:
    """The next plan after the fails at the end of `tries`, oldest first.

    Five fails or more, and there is somewhere `elsewhere` to stand: another station for now. Never
    shown: show it. The same step each time:
    that step alone. Otherwise the drink isn't known yet: cards and a quiz first.
    Raises ValueError where nothing failed.
    """
    running = fails_running(tries)
    if not running:
        raise ValueError("nothing failed")
    failed = tries[-running:]
    if running >= MANY and elsewhere:
        return Plan.STATION
    if not any(tried.shown for tried in failed):
        return Plan.SHOW
    return Plan.ONE_STEP if step_each_time(failed) else Plan.STUDY


def step_each_time(tries: Sequence[Tried]) -> str:
    """A step that failed every one of them, "" where there is none."""
    counts = Counter(step for tried in tries for step in tried.failed)
    return min((step for step, times in counts.items() if times == len(tries)), default="")
