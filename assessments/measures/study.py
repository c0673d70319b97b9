"""Minutes spent on cards, questions and calls, from the moments at which they were answered.

An answer tells when it was given and how long it took. Answers that follow one another closely
are one sitting, from the showing of the first to the last answer; a longer pause ends it and is
nobody's study. Reading that no answer follows is not seen.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

PAUSE = timedelta(minutes=2)
"""Answers further apart than this are two sittings (our own number, no source)."""

LONGEST_S = 120.0
UNTOLD_S = 10.0
"""Seconds of a first answer whose time the phone did not tell (our own number, no source)."""


@dataclass(frozen=True)
class Moment:
    """An answer: when it was given, and how many milliseconds it took, where that is known."""

    at: datetime
    milliseconds: int | None


def seconds_by_day(
    moments: Iterable[Moment], day_of: Callable[[datetime], date]
) -> dict[date, float]:
    """Seconds studied, by the day on which each answer was given."""
    found: dict[date, float] = {}
    before: datetime | None = None
    for moment in sorted(moments, key=lambda m: m.at):
        day = day_of(moment.at)
        found[day] = found.get(day, 0.0) + _seconds(moment, before)
        before = moment.at
    return found


def _seconds(moment: Moment, before: datetime | None) -> float:
    """What this answer adds: the time since the one before it in a sitting, else its own."""
    if before is not None and moment.at - before <= PAUSE:
        return (moment.at - before).total_seconds()
    told = moment.milliseconds
    return UNTOLD_S if told is None else min(told / 1000, LONGEST_S)
