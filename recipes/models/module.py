from __future__ import annotations

from typing import Self

from django.db import models
from django.utils.translation import gettext_lazy as _

from barcourse.people.models import Station, Venue


class ModuleQuerySet(models.QuerySet["Module"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def gates(self) -> Self:
        """Modules without which nobody is ready, whatever else they know."""
        return self.filter(is_gate=True)

    def at_station(self, station: Station) -> Self:
        return self.filter(at_stations__station=station)

    def with_drinks(self) -> Self:
        return self.filter(recipes__isnull=False).distinct()


class Module(models.Model):
    """A part of the course. `alcohol`: its drinks have some unless a recipe says otherwise."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="modules")
    slug = models.SlugField(max_length=60)
    name = models.CharField(_("name"), max_length=80)
    position = models.PositiveSmallIntegerField(default=0)
    alcohol = models.BooleanField(default=True)
    is_gate = models.BooleanField(default=False)
    notes = models.TextField(_("notes, in Markdown"), blank=True)

    objects = ModuleQuerySet.as_manager()

    class Meta:
        ordering = ("position", "slug")
        constraints = (models.UniqueConstraint(name="one_module_a_slug", fields=("venue", "slug")),)

    def __str__(self) -> str:
        return self.name


class ModuleAtStation(models.Model):
    """The drinks of this module are ordered at this station."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    module = models.ForeignKey(Module, models.CASCADE, related_name="at_stations")
    station = models.ForeignKey(Station, models.CASCADE, related_name="pours_modules")

    class Meta:
        constraints = (
            models.UniqueConstraint(name="module_once_a_station", fields=("module", "station")),
        )

    def __str__(self) -> str:
        return f"{self.module_id} at {self.station_id}"


class LessonQuerySet(models.QuerySet["Lesson"]):
    def in_module(self, module: Module) -> Self:
        return self.filter(module=module)


class Lesson(models.Model):
    """One page to read, in Markdown."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="lessons")
    module = models.ForeignKey(Module, models.PROTECT, related_name="lessons")
    slug = models.SlugField(max_length=60)
    name = models.CharField(_("name"), max_length=120)
    position = models.PositiveSmallIntegerField(default=0)
    body = models.TextField(_("text, in Markdown"))

    objects = LessonQuerySet.as_manager()

    class Meta:
        ordering = ("position", "slug")
        constraints = (
            models.UniqueConstraint(name="one_lesson_a_slug", fields=("module", "slug")),
        )

    def __str__(self) -> str:
        return self.name


class ScenarioQuerySet(models.QuerySet["Scenario"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def of_module(self, module: Module) -> Self:
        return self.filter(lesson__module=module)


class Scenario(models.Model):
    """A situation at the bar and what to do in it. `right` counts the choices from 0."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="scenarios")
    lesson = models.ForeignKey(Lesson, models.PROTECT, related_name="scenarios")
    slug = models.SlugField(max_length=60)
    question = models.TextField()
    choices = models.JSONField()
    right = models.PositiveSmallIntegerField()
    critical = models.BooleanField(default=False)
    why = models.TextField()

    objects = ScenarioQuerySet.as_manager()

    class Meta:
        ordering = ("lesson__position", "slug")
        constraints = (
            models.UniqueConstraint(name="one_scenario_a_slug", fields=("lesson", "slug")),
        )

    def __str__(self) -> str:
        return self.slug
