from __future__ import annotations

import datetime as dt
from typing import Self

from django.db import models

from barcourse.people.models import Membership, Venue
from barcourse.people.sealed import SealedModel, SealedQuerySet
from recipes.grammar.rules import HouseRules


class RulesVersionQuerySet(SealedQuerySet["RulesVersion"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def in_effect(self, at: dt.datetime) -> Self:
        return self.filter(takes_effect_at__lte=at)

    def newest_first(self) -> Self:
        return self.order_by("-takes_effect_at", "-number")

    def with_publisher(self) -> Self:
        return self.select_related("published_by__person")


class RulesVersion(SealedModel):
    """The house rules from a moment on. Immutable; numbered from 1 for each house."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="rules_versions")
    number = models.PositiveIntegerField()
    rules = models.JSONField()
    takes_effect_at = models.DateTimeField()
    published_at = models.DateTimeField()
    published_by = models.ForeignKey(Membership, models.PROTECT, related_name="+")

    objects = RulesVersionQuerySet.as_manager()  # type: ignore[misc]  # the base has one, of its own

    class Meta:
        constraints = (
            models.UniqueConstraint(name="one_rules_a_number", fields=("venue", "number")),
            models.CheckConstraint(
                name="rules_take_effect_when_or_after_published",
                condition=models.Q(takes_effect_at__gte=models.F("published_at")),
            ),
        )

    def __str__(self) -> str:
        return f"house rules {self.number}"

    @property
    def house_rules(self) -> HouseRules:
        return HouseRules.model_validate(self.rules)
