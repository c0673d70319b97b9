from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from typing import Self

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from barcourse.people.codes import new_code
from barcourse.people.sealed import SealedModel, SealedQuerySet

from .membership import Membership
from .venue import Station, Venue


class Moment(models.TextChoices):
    OPENING = "opening", _("Opening")
    DURING = "during", _("During the shift")
    CLOSING = "closing", _("Closing")
    WEEKLY = "weekly", _("Each week")


class SideTaskQuerySet(models.QuerySet["SideTask"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def at(self, station: Station) -> Self:
        return self.filter(station=station)

    def kept(self) -> Self:
        return self.filter(removed_at__isnull=True).order_by("pk")

    def with_codes(self, codes: list[str]) -> Self:
        return self.kept().filter(code__in=codes)


class SideTask(models.Model):
    """Something to be done at a station before, during or after a shift, or each week.

    Its words never change: what was signed stays what was signed. Whoever wants other words takes
    it out and writes another. `hours` is for what is thrown away so long after it was made ready.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="side_tasks")
    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    station = models.ForeignKey(Station, models.PROTECT, related_name="side_tasks")
    when = models.CharField(_("when"), max_length=8, choices=Moment)
    text = models.CharField(_("what is done"), max_length=200)
    caution = models.CharField(_("caution"), max_length=300, blank=True)
    hours = models.PositiveSmallIntegerField(
        _("thrown away after so many hours"),
        null=True,
        blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(168)],
    )
    removed_at = models.DateTimeField(null=True, blank=True)

    objects = SideTaskQuerySet.as_manager()

    def __str__(self) -> str:
        return self.text


class SideDoneQuerySet(SealedQuerySet["SideDone"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def since(self, at: dt.datetime) -> Self:
        rows = self.filter(at__gte=at).select_related("by__person", "void__by__person")
        return rows.order_by("at", "pk")

    def numbered(self, number: int) -> SideDone | None:
        rows = self.select_related("by__person", "task__station", "void__by__person")
        return rows.filter(pk=number).first()

    def done_by(
        self, members: Iterable[Membership], since: dt.datetime, until: dt.datetime
    ) -> Self:
        """What had not been taken back by `until`."""
        rows = self.filter(by__in=list(members), at__gte=since, at__lte=until)
        return rows.exclude(void__at__lte=until).order_by("pk")


class SideDone(SealedModel):
    """Somebody did it and put their name to it. `discard_at` is when what they made ready goes."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="side_work_done")
    task = models.ForeignKey(SideTask, models.PROTECT, related_name="done")
    by = models.ForeignKey(Membership, models.PROTECT, related_name="side_work")
    at = models.DateTimeField()
    discard_at = models.DateTimeField(null=True, blank=True)

    objects = SideDoneQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    def __str__(self) -> str:
        return f"{self.task_id} {self.at:%Y-%m-%d %H:%M}"

    @property
    def is_void(self) -> bool:
        """Whether it was taken back since."""
        return hasattr(self, "void")


class SideTakenBack(SealedModel):
    """A signature that was put by mistake no longer counts, from `at` on. The reason is kept in
    words that can be erased; `reason_code` names them."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    done = models.OneToOneField(SideDone, models.PROTECT, related_name="void")
    by = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    reason_code = models.CharField(max_length=20)
    at = models.DateTimeField()

    def __str__(self) -> str:
        return f"taken back by {self.by_id}: {self.reason_code}"
