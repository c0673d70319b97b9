"""What is known of each hire, packed: a copy of what the evidence says, made anew at any time."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from typing import Self

from django.db import models

from barcourse.people.models import Membership, Venue


class ReadyRowQuerySet(models.QuerySet["ReadyRow"]):
    def of(self, hires: Sequence[Membership]) -> Self:
        return self.filter(hire__in=hires)

    def of_those_here(self, venue: Venue, today: dt.date) -> Self:
        """Of whoever is being trained and has not left by this business day."""
        return self.filter(hire__in=Membership.objects.in_house(venue).hires().here(today))

    def holding(self, menu: str, at: dt.datetime) -> Self:
        """Those that are true of this menu at that moment."""
        return self.filter(packed_for=models.F("evidence"), menu=menu, at__lte=at)


class ReadyRow(models.Model):
    """One row a hire. It holds while `packed_for` is `evidence`, which goes up in the transaction
    of whatever is shown, while `menu` is the print of the menu, and from `at` on."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    hire = models.OneToOneField(Membership, models.PROTECT, related_name="ready_row")
    evidence = models.PositiveIntegerField(default=0)
    packed_for = models.PositiveIntegerField(null=True)
    menu = models.CharField(max_length=32, blank=True)
    at = models.DateTimeField(null=True)
    packed = models.BinaryField(default=b"")

    objects = ReadyRowQuerySet.as_manager()

    def __str__(self) -> str:
        return f"{self.hire_id} {self.packed_for} of {self.evidence}"
