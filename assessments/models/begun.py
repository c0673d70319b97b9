"""What a hire begins and finishes: the vocabulary that quizzes and runs of calls share."""

from __future__ import annotations

from typing import Self, TypeVar

from django.db import models

from barcourse.people.models import Membership, Venue

_Row_co = TypeVar("_Row_co", bound=models.Model, covariant=True)


class BegunQuerySet(models.QuerySet[_Row_co]):
    """Of a model with `venue`, `hire`, `started_at` and `finished_at`."""

    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def of(self, hire: Membership) -> Self:
        return self.filter(hire=hire)

    def open(self) -> Self:
        return self.filter(finished_at__isnull=True)

    def newest_first(self) -> Self:
        return self.order_by("-started_at", "-pk")
