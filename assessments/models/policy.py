"""What ready takes, by version, and who stands for one shift on somebody's word. All sealed."""

from __future__ import annotations

import datetime as dt
from typing import Self

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from assessments.measures.ready_facts import Proof as ProofAsked
from assessments.measures.ready_facts import ReadyPolicy
from barcourse.people.codes import new_code
from barcourse.people.models import Membership, Station, Venue
from barcourse.people.sealed import SealedModel, SealedQuerySet

_OF_A_HUNDRED = (MinValueValidator(0), MaxValueValidator(100))
_DAYS = (MinValueValidator(1), MaxValueValidator(366))


class Proof(models.TextChoices):
    """`measures.ready_facts.Proof` in words."""

    MUST_KNOWS = ProofAsked.MUST_KNOWS.value, _("every must-know signed off")
    FAMILIES = (
        ProofAsked.FAMILIES.value,
        _("builds signed off that together show every rule and kind of work"),
    )


class PolicyVersionQuerySet(SealedQuerySet["PolicyVersion"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def as_they_begin(self) -> Self:
        """Oldest first: of those of one scope that count the last one does."""
        return self.order_by("begins_at", "number")

    def after(self, number: int) -> Self:
        return self.filter(number__gt=number)

    def yet_to_begin(self, at: dt.datetime) -> Self:
        """Soonest first."""
        found = self.filter(begins_at__gt=at).select_related("station", "by__person")
        return found.order_by("begins_at", "number")

    def newest_first(self) -> Self:
        return self.select_related("station", "by__person").order_by("-number")


class PolicyVersion(SealedModel):
    """What ready takes from `begins_at` on, in orders of a hundred: at one station or, without
    one, at all that have none of their own; on one kind of shift or, where it is empty, on all.
    `follows`: from then on this scope has none of its own; the figures say what it had."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    number = models.PositiveIntegerField()
    station = models.ForeignKey(Station, models.PROTECT, null=True, related_name="+")
    shift_kind = models.CharField(max_length=20, blank=True)
    begins_at = models.DateTimeField()
    by = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    at = models.DateTimeField()
    follows = models.BooleanField(default=False)
    least_right = models.PositiveSmallIntegerField(validators=_OF_A_HUNDRED)
    most_wrong = models.PositiveSmallIntegerField(validators=_OF_A_HUNDRED)
    second_right = models.PositiveSmallIntegerField(validators=_OF_A_HUNDRED)
    proof = models.CharField(max_length=12, choices=Proof)
    permits = models.JSONField(default=list)
    pour_days = models.PositiveSmallIntegerField(null=True, validators=_DAYS)
    least_pace = models.PositiveSmallIntegerField(null=True)
    pace_days = models.PositiveSmallIntegerField(null=True, validators=_DAYS)
    task_days = models.PositiveSmallIntegerField(validators=_DAYS)

    objects = PolicyVersionQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    class Meta:
        constraints = (
            models.UniqueConstraint(name="one_policy_a_number", fields=("venue", "number")),
            models.CheckConstraint(
                name="policy_numbers_of_a_hundred",
                condition=Q(least_right__lte=100, most_wrong__lte=100),
            ),
            models.CheckConstraint(
                name="policy_second_asks_no_more_than_ready",
                condition=Q(second_right__lte=F("least_right")),
            ),
            models.CheckConstraint(
                name="policy_pace_has_its_days",
                condition=Q(least_pace__isnull=True, pace_days__isnull=True)
                | Q(least_pace__isnull=False, pace_days__isnull=False),
            ),
        )

    def __str__(self) -> str:
        return f"policy {self.number}"

    @property
    def scope(self) -> tuple[int | None, str]:
        return self.station_id, self.shift_kind

    def counts(self, at: dt.datetime) -> bool:
        """Written and in effect by then."""
        return max(self.begins_at, self.at) <= at

    @property
    def policy(self) -> ReadyPolicy:
        return ReadyPolicy(
            least_right=self.least_right / 100,
            most_wrong=self.most_wrong / 100,
            second_right=self.second_right / 100,
            proof=ProofAsked(self.proof),
            permits=tuple(self.permits),
            pour_days=self.pour_days,
            least_pace=self.least_pace,
            pace_days=self.pace_days,
            task_days=self.task_days,
        )


class OverrideQuerySet(SealedQuerySet["Override"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def standing(self) -> Self:
        """Those that nobody took back."""
        return self.filter(end__isnull=True)

    def from_day(self, day: dt.date) -> Self:
        return self.filter(day__gte=day)

    def for_shift(self, hire: Membership, station: Station, day: dt.date, kind: str) -> Self:
        return self.filter(hire=hire, station=station, day=day, shift_kind=kind)

    def with_people(self) -> Self:
        return self.select_related("hire__person", "by__person", "station", "venue")

    def of(self, hire: Membership) -> Self:
        """The newest shift first."""
        return self.filter(hire=hire).with_people().order_by("-day", "-shift_kind", "-pk")

    def soonest_first(self) -> Self:
        return self.with_people().order_by("day", "shift_kind", "pk")


class Override(SealedModel):
    """Somebody stands at a station for one shift of a business day though the board doesn't call
    them ready. Why is kept where it can be erased. It is over with the shift."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="overrides")
    station = models.ForeignKey(Station, models.PROTECT, related_name="+")
    day = models.DateField()
    shift_kind = models.CharField(max_length=20)
    by = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    at = models.DateTimeField()
    reason_code = models.CharField(max_length=20)

    objects = OverrideQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    class Meta:
        constraints = (
            models.CheckConstraint(name="override_of_somebody_else", condition=~Q(hire=F("by"))),
        )

    def __str__(self) -> str:
        return self.code


class OverrideEnd(SealedModel):
    """Taken back before its shift was over."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    override = models.OneToOneField(Override, models.PROTECT, related_name="end")
    by = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    def __str__(self) -> str:
        return f"end of {self.override_id}"
