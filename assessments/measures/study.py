"""Minutes spent on cards, questions and calls, from the moments at which they were answered.

An answer tells when it was given and how long it took. Answers that follow one another closely
are one sitting, from the showing of the first to the last answer; a longer pause ends it and is
nobody's study. Reading is told by itself, by whoever shows the text, and counts as far as that text
takes to be read.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

PAUSE = timedelta(minutes=2)
"""Answers further apart than this are two sittings (our own number, no source)."""

LONGEST_S = 120.0
UNTOLD_S = 10.0
"""Seconds of a first answer whose time the phone did not tell (our own number, no source)."""


WORDS_A_MINUTE = 100
"""A text is read at this pace at the slowest: well under half of the 238 words a minute that adults
read silently (Brysbaert 2019), for most who read here it is a second language."""
LEAST_READ_S = 20
"""However short a text is (our own number, no source)."""


@dataclass(frozen=True)
class Moment:
    """An answer: when it was given, and how many milliseconds it took, where that is known. Or the
    end of some reading (`is_read`), which took so long and no longer."""

    at: datetime
    milliseconds: int | None
    is_read: bool = False


def most_seconds(text: str) -> int:
    """The longest that reading this text once may take."""
    return max(LEAST_READ_S, round(60 * len(text.split()) / WORDS_A_MINUTE))


def counted(said: int, text: str, so_far: int) -> int:
    """Of so many seconds said of reading it, those that count beside `so_far` of the same day."""
    return max(0, min(said, most_seconds(text) - so_far))


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
    """What this answer adds: the time since the one before it in a sitting, else its own. Nobody
    reads while they answer."""
    if moment.is_read:
        read = (moment.milliseconds or 0) / 1000
        return read if before is None else min(read, (moment.at - before).total_seconds())
    if before is not None and moment.at - before <= PAUSE:
        return (moment.at - before).total_seconds()
    told = moment.milliseconds
    return UNTOLD_S if told is None else min(told / 1000, LONGEST_S)
