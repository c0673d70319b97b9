"""How long a person usually takes for a kind of question, and whether an answer was slow for them.

Answer times are skewed: half a minute of interruption must not move what is usual. So what is
usual is the median of the last times, and how far times usually lie from it the median distance on
the scale of logarithms. Nobody rates themselves, and a quick answer counts for no more than a
usual one: a guess is quick too.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log
from statistics import median

KEPT = 31
"""So many of the last times say what is usual: people get quicker (our own number, no source)."""

ENOUGH = 7
"""Fewer times than this say nothing of what is usual (our own number, no source)."""

LEAST_MS, MOST_MS = 200, 120_000
"""A tap by accident, and a phone that was put away: neither is a time (our own, no source)."""

SLOW_SPREADS = 2.0
LEAST_RATIO = 1.5
"""Slow is two usual distances above what is usual, and at least half as long again (our own
choice, no source)."""

AS_SIGMA = 1.4826
"""Makes a median distance a standard deviation where times are log-normal (1 / the normal
quantile of 3/4; Rousseeuw and Croux 1993, from memory)."""


@dataclass(frozen=True)
class Pace:
    """The last times of one person for one kind of question, in milliseconds, oldest first."""

    times: tuple[int, ...] = ()

    @property
    def usual(self) -> float | None:
        """The usual time in milliseconds; None while there are too few."""
        return exp(median(log(t) for t in self.times)) if len(self.times) >= ENOUGH else None

    @property
    def slow_from(self) -> float | None:
        """From how many milliseconds on an answer is slow for this person."""
        if len(self.times) < ENOUGH:
            return None
        logs = [log(t) for t in self.times]
        middle = median(logs)
        spread = AS_SIGMA * median([abs(time - middle) for time in logs])
        return exp(middle + max(log(LEAST_RATIO), SLOW_SPREADS * spread))

    def is_slow(self, milliseconds: int | None) -> bool | None:
        """None where nothing can be said: no time, or too few before it to know what is usual."""
        bar = self.slow_from
        if bar is None or not is_time(milliseconds):
            return None
        return (milliseconds or 0) >= bar

    def then(self, milliseconds: int | None) -> "Pace":
        """The pace after one more answer; what is no time changes nothing."""
        if milliseconds is None or not is_time(milliseconds):
            return self
        return Pace((*self.times, milliseconds)[-KEPT:])


def is_time(milliseconds: int | None) -> bool:
    return milliseconds is not None and LEAST_MS <= milliseconds <= MOST_MS


def pace_of(times: Sequence[int]) -> Pace:
    """From stored times."""
    return Pace(tuple(t for t in times if is_time(t))[-KEPT:])
