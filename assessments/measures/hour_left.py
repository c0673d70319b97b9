"""Why somebody who isn't ready has no part of a trainer's hour."""

from assessments.measures.trainers_hour import CLOSE, Hire, shortest
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "hour_ready_already": (),
    "hour_nothing_to_do": (),
    "hour_first_mended_elsewhere": (),
    "hour_builds_not_enough": (),
    "hour_too_long": ("minutes",),
    "hour_to_others": (),
}

READY_ALREADY = Reason.of("hour_ready_already")


def why_without(hire: Hire, minutes: int) -> Reason:
    """Of so many `minutes`; the hire isn't ready. What is said is true of the hire alone, whoever
    else is there, but for the last: then there is time enough, and others need no more of it."""
    if hire.barred:
        if hire.short <= CLOSE and not any(s.must for s in hire.steps):
            return Reason.of("hour_nothing_to_do")
        return Reason.of("hour_first_mended_elsewhere")
    needed = shortest(hire)
    if needed is None:
        return Reason.of("hour_builds_not_enough")
    if needed.minutes > minutes:
        return Reason.of("hour_too_long", minutes=needed.minutes)
    return Reason.of("hour_to_others")
