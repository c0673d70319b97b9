"""Checks that a trainer's hour may hold beside builds: which of them mends what, and how long each
takes."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from math import ceil

from assessments.measures.gates import shut_by_hands
from assessments.measures.pace_check import ORDERS, drinks_at_most
from assessments.measures.ready_facts import Facts, ReadyPolicy
from assessments.measures.trainers_hour import Step
from recipes.grammar.reasons import Reason


class Check(StrEnum):
    """What a trainer watches beside builds, by the name of its page."""

    POURS = "pours"
    PACE = "pace"


POUR_MINUTES = 5
"""Our own choice, no source."""

DRINKS = drinks_at_most(ORDERS)
"""Nine in ten of the tickets that are drawn where nobody asks for another hold no more."""

_MENDS = {
    "pours_not_checked": Check.POURS,
    "pours_not_passed": Check.POURS,
    "pace_not_checked": Check.PACE,
    "pace_too_low": Check.PACE,
}
"""What a check mends, by the code of what is missing."""


def minutes_of(check: Check, policy: ReadyPolicy) -> int:
    """A ticket takes as long as whoever makes it just as fast as `policy` asks for; 0 where it asks
    for no pace."""
    if check is Check.POURS:
        return POUR_MINUTES
    return ceil(60 * DRINKS / policy.least_pace) if policy.least_pace else 0


def mended_in(gate: Reason, policy: ReadyPolicy) -> int:
    """The minutes of the check that opens this gate."""
    return minutes_of(_MENDS[gate.code], policy)


def checks(facts: Facts) -> Iterator[Step]:
    """What is missing of them. None wins orders."""
    for gate in shut_by_hands(facts.policy, facts.gates):
        check = _MENDS[gate.code]
        yield Step(f"check:{check}", minutes_of(check, facts.policy), 0.0, must=True)


def check_of(step: Step) -> Check | None:
    """None for a build: no slug of a drink has a colon."""
    return Check(step.name.removeprefix("check:")) if step.name.startswith("check:") else None
