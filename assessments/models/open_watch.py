"""What a trainer is in the middle of watching: nothing of it is on record."""

from __future__ import annotations

import datetime as dt
from typing import Self

from django.db import models

from barcourse.people.codes import new_code
from barcourse.people.models import Membership, Venue

KEPT_FOR = dt.timedelta(days=1)
"""Whoever hasn't gone on by then watches it anew (our own number)."""
LONGEST_WHERE = 1000


class OpenWatchQuerySet(models.QuerySet["OpenWatch"]):
    def of(self, trainer: Membership) -> Self:
        return self.filter(trainer=trainer)

    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def with_trainer(self) -> Self:
        return self.select_related("trainer__person")

    def at_address(self, where: str) -> Self:
        return self.filter(where=where)

    def fresh(self, at: dt.datetime) -> Self:
        return self.filter(at__gt=at - KEPT_FOR)

    def stale(self, at: dt.datetime) -> Self:
        return self.filter(at__lte=at - KEPT_FOR)

    def newest_first(self) -> Self:
        return self.order_by("-at", "-pk")


class OpenWatch(models.Model):
    """What stands tapped on a page of watching, one a trainer and page. For their eyes alone, and
    gone once it is on record, dropped, or a day old. Once they no longer watch here, others read
    that it was begun, never what was tapped.

    `where` is the page's address in the house, `kept` what static/js/kept.js writes down, as JSON.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    trainer = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    where = models.CharField(max_length=LONGEST_WHERE)
    kept = models.TextField()
    begun_at = models.DateTimeField()
    at = models.DateTimeField()

    objects = OpenWatchQuerySet.as_manager()

    class Meta:
        constraints = (
            models.UniqueConstraint(name="one_open_watch_a_page", fields=("trainer", "where")),
        )

    def __str__(self) -> str:
        return self.code
