from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from typing import Self

from django.db import models
from django.utils.translation import gettext_lazy as _

from barcourse.people.codes import new_code

from .membership import Membership
from .venue import Venue


class PermitKind(models.TextChoices):
    SERVING = "serving", _("permit to serve alcohol")
    LICENCE = "licence", _("personal licence")
    FOOD = "food", _("food handling")
    FIRST_AID = "first_aid", _("first aid")
    DOOR = "door", _("door supervision")
    OTHER = "other", _("another permit")


class PermitQuerySet(models.QuerySet["Permit"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def kept(self) -> Self:
        """Those that nobody took out of the list."""
        return self.filter(removed_at__isnull=True)

    def held_by(self, members: Iterable[Membership]) -> Self:
        return self.filter(member__in=list(members)).order_by("pk")

    def soonest_first(self) -> Self:
        return self.select_related("member__person").order_by("valid_until", "pk")

    def with_code(self, code: str) -> Permit | None:
        return self.kept().filter(code=code).first()


class Permit(models.Model):
    """An official paper that somebody holds, as the house has seen it. Never the paper itself.

    The number is words about a person, kept where they can be erased: `number_code` names them.
    It holds up to and including `valid_until`, by the calendar; without a day it has no end.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="permits")
    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    member = models.ForeignKey(Membership, models.PROTECT, related_name="permits")
    kind = models.CharField(_("kind"), max_length=10, choices=PermitKind)
    number_code = models.CharField(max_length=20, blank=True)
    valid_until = models.DateField(_("holds until"), null=True, blank=True)
    seen_by = models.ForeignKey(Membership, models.PROTECT, related_name="permits_seen")
    at = models.DateTimeField()
    removed_at = models.DateTimeField(null=True, blank=True)

    objects = PermitQuerySet.as_manager()

    def __str__(self) -> str:
        return f"{self.kind} {self.valid_until}"

    def holds_on(self, day: dt.date) -> bool:
        return self.valid_until is None or day <= self.valid_until
