"""What a hire says to an entry in their record, and that a manager has heard both. Sealed; the
entry itself stays as it was written, and words lie where they can be erased."""

from __future__ import annotations

import datetime as dt
from typing import Self

from django.db import models

from assessments.models.heard import not_settled_by_a_void
from assessments.models.kinds import KINDS, Entry, any_of
from assessments.models.practical import PaceCheck, PourCheck, SpotMark, WatchedRound
from assessments.models.watch import WatchedBuild
from barcourse.people.codes import new_code
from barcourse.people.models import Membership, Venue
from barcourse.people.sealed import SealedModel, SealedQuerySet


class AnsweredQuerySet(SealedQuerySet["Answered"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def of(self, hire: Membership) -> Self:
        return self.filter(hire=hire)

    def with_all(self) -> Self:
        """With what they are about, taken back or not, and who settled them; oldest first."""
        beside = [f"{kind}__void__by__person" for kind in KINDS]
        rows = self.select_related(
            *beside, "spot__recipe", "pours__ingredient", "pace__station", "build__recipe",
            "settled__by__person",
        )  # fmt: skip
        return rows.order_by("at", "pk")

    def about(self, kind: str, entry: models.Model) -> Self:
        rows = self.filter(**{kind: entry}).select_related("settled__by__person", "hire__person")
        return rows.order_by("at", "pk")

    def disagreeing(self, at: dt.datetime) -> Self:
        """Those that nobody has settled, by their word or by taking the entry back."""
        open_ones = self.filter(disagrees=True, settled__isnull=True, at__lte=at)
        for kind in KINDS:
            open_ones = open_ones.filter(not_settled_by_a_void(kind))
        return open_ones


class Answered(SealedModel):
    """What a hire says to an entry of theirs; as often as there is something to say."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    spot = models.ForeignKey(SpotMark, models.PROTECT, null=True, related_name="answers")
    pours = models.ForeignKey(PourCheck, models.PROTECT, null=True, related_name="answers")
    pace = models.ForeignKey(PaceCheck, models.PROTECT, null=True, related_name="answers")
    round = models.ForeignKey(WatchedRound, models.PROTECT, null=True, related_name="answers")
    build = models.ForeignKey(WatchedBuild, models.PROTECT, null=True, related_name="answers")
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    disagrees = models.BooleanField()
    text_code = models.CharField(max_length=20)
    at = models.DateTimeField()

    objects = AnsweredQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    class Meta:
        constraints = (
            models.CheckConstraint(name="something_is_answered", condition=any_of(KINDS)),
        )

    def __str__(self) -> str:
        return self.code

    @property
    def kind(self) -> str:
        return next(kind for kind in KINDS if getattr(self, f"{kind}_id") is not None)

    @property
    def entry(self) -> Entry:
        found: Entry = getattr(self, self.kind)
        return found


class AnswerSettled(SealedModel):
    """A manager has heard both: the entry stands, or stays taken back where it was by then. Taking
    it back settles the answer too, where it is a manager's (`heard`)."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    answer = models.OneToOneField(Answered, models.PROTECT, related_name="settled")
    by = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    def __str__(self) -> str:
        return f"settled {self.answer_id}"
