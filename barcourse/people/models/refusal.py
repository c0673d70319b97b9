from __future__ import annotations

import datetime as dt
from typing import Self

from django.db import models
from django.utils.translation import gettext_lazy as _

from barcourse.people.codes import new_code
from barcourse.people.sealed import SealedModel, SealedQuerySet

from .membership import Membership
from .venue import Venue


class What(models.TextChoices):
    """Why somebody was not served, or what else happened. A word each, to be tapped."""

    UNDER_AGE = "under_age", _("under age")
    NO_PROOF = "no_proof", _("no valid proof of age")
    NOT_THEIRS = "not_theirs", _("proof of age false or somebody else's")
    DRUNK = "drunk", _("drunk")
    FOR_ANOTHER = "for_another", _("buying for somebody who may not")
    CONDUCT = "conduct", _("threatening or abusive")
    HOURS = "hours", _("outside the hours of sale")
    FIGHT = "fight", _("a fight or an injury")
    SPIKED = "spiked", _("a drink perhaps spiked")
    UNWELL = "unwell", _("somebody unwell")
    OTHER = "other", _("something else")


REFUSED = (
    What.UNDER_AGE, What.NO_PROOF, What.NOT_THEIRS, What.DRUNK, What.FOR_ANOTHER, What.CONDUCT,
    What.HOURS,
)  # fmt: skip
"""Sales that were refused. The rest are incidents."""


class RefusalQuerySet(SealedQuerySet["Refusal"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def noted_by(self, member: Membership) -> Self:
        return self.filter(by=member)

    def about(self, what: str) -> Self:
        return self.filter(what=what)

    def since(self, at: dt.datetime) -> Self:
        return self.filter(happened_at__gte=at)

    def newest_first(self) -> Self:
        return self.select_related("by__person").order_by("-happened_at", "-pk")

    def with_code(self, code: str) -> Refusal | None:
        return self.filter(code=code).first()


class Refusal(SealedModel):
    """A sale refused or an incident, noted by whoever was there.

    `happened_at` is what they said, to the minute; `at` is when they said it. `text_code` names
    the erasable words about it; the row itself holds none.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="refusals")
    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    by = models.ForeignKey(Membership, models.PROTECT, related_name="refusals_noted")
    what = models.CharField(max_length=12, choices=What)
    happened_at = models.DateTimeField()
    text_code = models.CharField(max_length=20, blank=True)
    at = models.DateTimeField()

    objects = RefusalQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    def __str__(self) -> str:
        return f"{self.what} {self.happened_at:%Y-%m-%d %H:%M}"

    @property
    def is_refusal(self) -> bool:
        return self.what in REFUSED
