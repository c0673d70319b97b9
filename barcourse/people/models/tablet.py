from __future__ import annotations

import datetime as dt
from typing import Self

from django.db import models
from django.utils.translation import gettext_lazy as _

from barcourse.people.codes import new_code
from barcourse.people.names import NAME_LENGTH

from .membership import Membership
from .venue import Venue


class TabletQuerySet(models.QuerySet["Tablet"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def in_use(self) -> Self:
        return self.filter(withdrawn_at__isnull=True)

    def with_token(self, token_hash: str) -> Tablet | None:
        return self.in_use().select_related("venue").filter(token_hash=token_hash).first()

    def with_code(self, code: str) -> Tablet | None:
        return self.in_use().select_related("venue").filter(code=code).first()


class Tablet(models.Model):
    """A device that stands at the bar and that people share, each coming in with their PIN.

    Known by a token in its cookie, of which only the hash is kept; the address it calls from
    says nothing, since everything in a bar shares one.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="tablets")
    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    name = models.CharField(_("name of the tablet"), max_length=NAME_LENGTH)
    token_hash = models.CharField(max_length=64, unique=True)
    enrolled_by = models.ForeignKey(Membership, models.PROTECT, related_name="tablets_enrolled")
    enrolled_at = models.DateTimeField()
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    objects = TabletQuerySet.as_manager()

    def __str__(self) -> str:
        return self.name


class PinQuerySet(models.QuerySet["Pin"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def of(self, membership: Membership) -> Self:
        return self.filter(membership=membership)

    def here(self, today: dt.date) -> Self:
        """Of people who have not left by this business day."""
        return self.exclude(membership__left_day__lte=today)

    def by_name(self) -> Self:
        return self.select_related("membership__person").order_by("membership__person__name", "pk")


class Pin(models.Model):
    """A few digits that let somebody in on a shared tablet of their house and nowhere else."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="pins")
    membership = models.OneToOneField(Membership, models.PROTECT, related_name="pin")
    hash = models.CharField(max_length=128)
    set_at = models.DateTimeField()

    objects = PinQuerySet.as_manager()

    def __str__(self) -> str:
        return str(self.membership)


class PinTryQuerySet(models.QuerySet["PinTry"]):
    def on(self, tablet: Tablet) -> Self:
        return self.filter(tablet=tablet)

    def of(self, membership: Membership) -> Self:
        return self.filter(membership=membership)

    def since(self, at: dt.datetime) -> Self:
        return self.filter(at__gt=at)

    def stale(self, at: dt.datetime) -> Self:
        return self.filter(at__lte=at)


class PinTry(models.Model):
    """A wrong PIN, kept to slow down guessing: counted for the person and for the tablet."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="pin_tries")
    tablet = models.ForeignKey(Tablet, models.PROTECT, related_name="tries")
    membership = models.ForeignKey(Membership, models.PROTECT, related_name="pin_tries")
    at = models.DateTimeField()

    objects = PinTryQuerySet.as_manager()

    class Meta:
        indexes = (models.Index(fields=("membership", "at")), models.Index(fields=("tablet", "at")))

    def __str__(self) -> str:
        return f"{self.tablet} {self.at:%Y-%m-%d %H:%M}"
