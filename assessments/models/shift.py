"""When somebody works next, and what is usual for them: both serve the plan of their cards."""

from __future__ import annotations

import datetime as dt
from typing import Any, Self

from django.db import models

from assessments.measures.pace import Pace, pace_of
from assessments.measures.stated import Line
from barcourse.people.models import Membership, Venue

MOST_MINUTES = 60


class ShiftAheadQuerySet(models.QuerySet["ShiftAhead"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def of(self, hire: Membership) -> Self:
        return self.filter(hire=hire)

    def after(self, at: dt.datetime) -> Self:
        """Soonest first, with who set each."""
        ahead = self.filter(starts_at__gt=at).select_related("said_by__person")
        return ahead.order_by("starts_at")


class ShiftAhead(models.Model):
    """A shift that somebody works, and how many minutes a day they have until then to study.
    Typed by themselves or set by a manager; of all that stand the next one counts."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="shifts_ahead")
    starts_at = models.DateTimeField()
    minutes = models.PositiveSmallIntegerField()
    said_by = models.ForeignKey(Membership, models.PROTECT, related_name="+")

    objects = ShiftAheadQuerySet.as_manager()

    class Meta:
        constraints = (
            models.UniqueConstraint(name="one_shift_ahead_a_moment", fields=("hire", "starts_at")),
            models.CheckConstraint(
                name="shift_ahead_minutes_in_reason",
                condition=models.Q(minutes__gte=1, minutes__lte=MOST_MINUTES),
            ),
        )

    def __str__(self) -> str:
        return f"{self.hire_id} at {self.starts_at:%Y-%m-%d %H:%M}"


class Habit(models.Model):
    """How long somebody usually takes, by kind of question, and the line that sets their stated
    recall right: see `measures.pace` and `measures.stated`."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    hire = models.OneToOneField(Membership, models.PROTECT, related_name="habit")
    times = models.JSONField(default=dict)
    line = models.JSONField(default=dict)

    def __str__(self) -> str:
        return f"{self.hire_id}"

    def pace(self, kind: str) -> Pace:
        return pace_of(self.times.get(kind, ()))

    def keep_pace(self, kind: str, pace: Pace) -> None:
        self.times = {**self.times, kind: list(pace.times)}

    @property
    def stated(self) -> Line:
        return Line.from_values(self.line)

    def keep_line(self, line: Line) -> None:
        values: dict[str, Any] = line.to_values()
        self.line = values
