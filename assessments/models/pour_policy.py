"""By which rule a pour check is passed in a house, as it was set and set anew."""

from __future__ import annotations

from typing import Self

from django.db import models

from assessments.measures.pours import LEAST_POURS, LEAST_WITHIN, PourPolicy
from barcourse.people.models import Membership, Venue
from barcourse.people.sealed import SealedModel, SealedQuerySet


class HousePourPolicyQuerySet(SealedQuerySet["HousePourPolicy"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue).order_by("number")

    def with_people(self) -> Self:
        return self.select_related("by__person")


class HousePourPolicy(SealedModel):
    """A version of the rule; it counts from `at` until the next one. `least_within` is in percent;
    `most_bias_ml` None where the average isn't judged by itself. What a pour may be off by stands
    in the house rules, since builds go by it too."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="pour_policies")
    number = models.PositiveIntegerField()
    least_pours = models.PositiveSmallIntegerField()
    least_within = models.PositiveSmallIntegerField()
    most_bias_ml = models.FloatField(null=True, blank=True)
    by = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    objects = HousePourPolicyQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    class Meta:
        constraints = (
            models.UniqueConstraint(name="one_pour_policy_a_number", fields=("venue", "number")),
            models.CheckConstraint(
                name="pour_policy_within_reason",
                condition=models.Q(
                    least_pours__range=LEAST_POURS,
                    least_within__range=tuple(round(100 * share) for share in LEAST_WITHIN),
                ),
            ),
        )

    def __str__(self) -> str:
        return f"pour policy {self.number} of {self.venue_id}"

    @property
    def policy(self) -> PourPolicy:
        return PourPolicy(self.least_pours, self.least_within / 100, self.most_bias_ml)
