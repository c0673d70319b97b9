"""What a bar sells, as shares, and the kinds of shift that sell differently.

A month's till is a sample: a drink that nobody ordered in it is not one that nobody orders. So each
drink is given what it was thought to sell before, as if so many drinks had been sold by that
(a Dirichlet prior, whose mean comes out). The share that the house book says is what was thought
of all shifts; what all of them sell is what is thought of one kind.
"""

import datetime as dt
from collections.abc import Mapping
from enum import StrEnum

AS_IF_SOLD = 200.0
"""Drinks that the earlier belief counts for: an hour or two of a busy bar (our own number)."""

LATE_FROM = 22
"""Ten in the evening (common practice, no source)."""
WEEKEND = (4, 5)
"""Friday and Saturday, as business days (common practice, no source)."""


class ShiftKind(StrEnum):
    """Friday and Saturday, or the others; before ten in the evening, or from then on."""

    WEEK_EARLY = "week-early"
    WEEK_LATE = "week-late"
    WEEKEND_EARLY = "weekend-early"
    WEEKEND_LATE = "weekend-late"


def kind_of(day: dt.date, hour: int, day_begins: int) -> ShiftKind:
    """Of a business day and an hour of the clock; hours before the day begins are its late ones."""
    late = hour >= LATE_FROM or hour < day_begins
    if day.weekday() in WEEKEND:
        return ShiftKind.WEEKEND_LATE if late else ShiftKind.WEEKEND_EARLY
    return ShiftKind.WEEK_LATE if late else ShiftKind.WEEK_EARLY


def business_day(day: dt.date, hour: int | None, day_begins: int) -> dt.date:
    """An hour past midnight, before the day begins, is the evening before."""
    return day - dt.timedelta(days=1) if hour is not None and hour < day_begins else day


def smoothed(
    sold: Mapping[str, float], thought: Mapping[str, float], as_if: float = AS_IF_SOLD
) -> dict[str, float]:
    """Shares of the drinks in `thought`, summing to 1; what was given back counts as unsold.

    `thought` need not sum to 1; all alike where it says nothing."""
    total = sum(thought.values())
    before = {s: t / total if total > 0 else 1 / len(thought) for s, t in thought.items()}
    counts = {s: max(0.0, sold.get(s, 0.0)) for s in thought}
    whole = sum(counts.values()) + as_if
    return {s: (counts[s] + as_if * before[s]) / whole for s in thought}
