"""Why a line or a cell of a pasted rota is asked about: what it says that nobody could tell."""

import datetime as dt
from collections.abc import Collection, Sequence

from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "rota_who_unknown": ("said",),
    "rota_who_alike": ("said", "names"),
    "rota_who_none": (),
    "rota_day_none_such": ("said",),
    "rota_day_several": (),
    "rota_day_differs": (),
    "rota_day_none": (),
    "rota_day_lost": (),
    "rota_hour_none_such": ("said",),
    "rota_hour_half": ("said",),
    "rota_hour_none": (),
}


def who(said: str, alike: Sequence[str]) -> Reason:
    """`said` is what could be a name, `alike` are the names that it fits, if any."""
    if alike:
        return Reason.of("rota_who_alike", said=said, names=", ".join(sorted(alike)))
    return Reason.of("rota_who_unknown", said=said) if said else Reason.of("rota_who_none")


def day(dates: Sequence[tuple[str, dt.date | None]], weekdays: Collection[int]) -> Reason:
    """`dates` as they were said, with the day of the calendar that each is, if any."""
    for said, found in dates:
        if found is None:
            return Reason.of("rota_day_none_such", said=said.strip())
    if len({found for _, found in dates}) > 1 or len(weekdays) > 1:
        return Reason.of("rota_day_several")
    return Reason.of("rota_day_differs") if dates and weekdays else Reason.of("rota_day_none")


def day_lost() -> Reason:
    """Of a cell under no day: its row is longer than the days, or has lost cells."""
    return Reason.of("rota_day_lost")


def hour(said: str, number: int | None, minute: int, *, has_half: bool) -> Reason:
    """`said` is the first hour that it says, `number` and `minute` what stands in it; no number
    where it says none. `has_half`: it says which half of the day."""
    if number is None:
        return Reason.of("rota_hour_none")
    if has_half or number > 12 or minute > 59:
        return Reason.of("rota_hour_none_such", said=said)
    return Reason.of("rota_hour_half", said=said)
