"""The house's own record against what the model says of it: a copy, made anew at any time."""

from __future__ import annotations

import datetime as dt
from typing import Self

from django.db import models

from barcourse.people.models import Venue


class OwnRecordQuerySet(models.QuerySet["OwnRecord"]):
    def kept(self, venue: Venue, stamp: str) -> Self:
        return self.filter(venue=venue, stamp=stamp)

    def of_other_days(self, venue: Venue, day: dt.date) -> Self:
        return self.filter(venue=venue).exclude(day=day)


class OwnRecord(models.Model):
    """What had come until business day `day` began. `stamp` names that day, the menu and the way of
    reckoning; `cases` are lists of a person's number, the chances of right, ask and wrong, what
    came, and whether a trainer picked the drink. `down` and `up`: see
    `measures.house_miss.Miss`."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    stamp = models.CharField(max_length=32)
    day = models.DateField()
    cases = models.JSONField(default=list)
    down = models.FloatField(default=0.0)
    up = models.FloatField(default=0.0)

    objects = OwnRecordQuerySet.as_manager()

    class Meta:
        constraints = (
            models.UniqueConstraint(name="one_own_record_a_stamp", fields=("venue", "stamp")),
        )

    def __str__(self) -> str:
        return f"{self.venue_id} {self.day}"
