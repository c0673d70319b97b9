"""What a hire does alone: reading and marking their own cards. It moves the schedule only."""

from __future__ import annotations

import datetime as dt
from typing import Self

from django.db import models

from assessments.measures.memory import TopicMemory
from barcourse.people.models import Membership, Venue
from barcourse.people.sealed import AppendOnlyModel, SealedQuerySet
from recipes.models import Module, Recipe, Revision, RulesVersion


class ReadingQuerySet(models.QuerySet["Reading"]):
    def of(self, hire: Membership) -> Self:
        return self.filter(hire=hire)


class Reading(models.Model):
    """A hire says that they have read a module's notes."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="readings")
    module = models.ForeignKey(Module, models.PROTECT, related_name="readings")
    at = models.DateTimeField()

    objects = ReadingQuerySet.as_manager()

    class Meta:
        constraints = (models.UniqueConstraint(name="read_once", fields=("hire", "module")),)

    def __str__(self) -> str:
        return f"{self.hire_id} read {self.module_id}"


class ReadingTimeQuerySet(SealedQuerySet["ReadingTime"]):
    def of(self, *hires: Membership) -> Self:
        return self.filter(hire__in=hires)

    def between(self, since: dt.datetime, until: dt.datetime) -> Self:
        return self.filter(at__gte=since, at__lte=until)


class ReadingTime(AppendOnlyModel):
    """Seconds that somebody had a text before them and was at it, until `at`; `text` says which of
    the module's: the slug of a lesson, empty for its notes. Minutes studied, and nothing else."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="reading_times")
    module = models.ForeignKey(Module, models.PROTECT, related_name="+")
    text = models.CharField(max_length=80, blank=True)
    seconds = models.PositiveIntegerField()
    at = models.DateTimeField()

    objects = ReadingTimeQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    class Meta:
        indexes = (models.Index(fields=("hire", "at")),)

    def __str__(self) -> str:
        return f"{self.hire_id} read for {self.seconds} s"


class CardMarkQuerySet(SealedQuerySet["CardMark"]):
    def of(self, hire: Membership) -> Self:
        return self.filter(hire=hire)

    def missed_since(self, at: dt.datetime) -> Self:
        return self.filter(at__gte=at).exclude(missed=[])


class CardMark(AppendOnlyModel):
    """One turn of a card: the aspects that the hire says they did not have.

    `build` is the print of the build on its back (see `prints`), `milliseconds` how long the front
    was looked at, as the phone says; null where it can't say.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="card_marks")
    recipe = models.ForeignKey(Recipe, models.PROTECT, related_name="+")
    revision = models.ForeignKey(Revision, models.PROTECT, related_name="+")
    rules_version = models.ForeignKey(RulesVersion, models.PROTECT, related_name="+")
    build = models.CharField(max_length=32)
    missed = models.JSONField()
    milliseconds = models.PositiveIntegerField(null=True, blank=True)
    at = models.DateTimeField()

    objects = CardMarkQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    class Meta:
        indexes = (models.Index(fields=("hire", "at")),)

    def __str__(self) -> str:
        return f"{self.hire_id} card {self.recipe_id}"


class MemoryQuerySet(models.QuerySet["Memory"]):
    def of(self, hire: Membership) -> Self:
        return self.filter(hire=hire)

    def on(self, topics: list[str]) -> Self:
        return self.filter(topic__in=topics)


class Memory(models.Model):
    """What is left of one topic in one head: one row a hire and topic (its fingerprint).

    `stability` is in days, `difficulty` from 1 to 10: see `measures.memory`.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="memories")
    topic = models.CharField(max_length=32)
    stability = models.FloatField()
    difficulty = models.FloatField()
    due = models.DateTimeField()
    last = models.DateTimeField()
    reviews = models.PositiveIntegerField()
    lapses = models.PositiveIntegerField()

    objects = MemoryQuerySet.as_manager()

    class Meta:
        constraints = (
            models.UniqueConstraint(name="one_memory_a_topic", fields=("hire", "topic")),
        )

    def __str__(self) -> str:
        return f"{self.hire_id} {self.topic}"

    def facts(self) -> TopicMemory:
        return TopicMemory(
            fingerprint=self.topic,
            stability=self.stability,
            difficulty=self.difficulty,
            due=self.due,
            last=self.last,
            reviews=self.reviews,
            lapses=self.lapses,
        )
