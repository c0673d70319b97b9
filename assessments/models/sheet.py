"""What a trainer sets: quiz sheets, drills on one mix-up, and try-outs of experienced hires."""

from __future__ import annotations

import datetime as dt
from enum import StrEnum
from typing import Self

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from barcourse.people.codes import new_code
from barcourse.people.models import Membership, Venue
from recipes.models import Module, Recipe

NAME_LENGTH = 80
MOST_ITEMS = 60
MOST_MINUTES = 120


class QuizSheetQuerySet(models.QuerySet["QuizSheet"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def in_use(self) -> Self:
        return self.filter(retired_at__isnull=True)


class QuizSheet(models.Model):
    """A quiz as a trainer plans it. A change applies to quizzes begun afterwards: each quiz keeps
    the plan that it was drawn up by.

    `mix` are lines of `measures.quiz.lines`; `critical` are slugs of drinks that must be right;
    `minutes` is the time limit, `retake_hours` how long to wait before another try.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="quiz_sheets")
    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    name = models.CharField(_("name"), max_length=NAME_LENGTH)
    modules = models.ManyToManyField(Module, through="SheetModule", related_name="sheets")
    length = models.PositiveSmallIntegerField(
        _("questions"), default=12, validators=[MinValueValidator(1), MaxValueValidator(MOST_ITEMS)]
    )
    scenarios = models.PositiveSmallIntegerField(
        _("of them situations"), default=0, validators=[MaxValueValidator(MOST_ITEMS)]
    )
    cards = models.PositiveSmallIntegerField(
        _("of them identity cards"), default=0, validators=[MaxValueValidator(10)]
    )
    mix = models.JSONField(default=list)
    critical = models.JSONField(default=list)
    pass_mark = models.PositiveSmallIntegerField(
        _("pass mark, in percent"),
        default=80,
        validators=[MinValueValidator(1), MaxValueValidator(100)],
    )
    minutes = models.PositiveSmallIntegerField(
        _("time limit in minutes"),
        null=True,
        blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(MOST_MINUTES)],
    )
    retake_hours = models.PositiveSmallIntegerField(
        _("hours before another try"), default=0, validators=[MaxValueValidator(720)]
    )
    retired_at = models.DateTimeField(null=True, blank=True)

    objects = QuizSheetQuerySet.as_manager()

    class Meta:
        ordering = ("name", "pk")

    def __str__(self) -> str:
        return self.name


class SheetModule(models.Model):
    """A module that a sheet asks about."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    sheet = models.ForeignKey(QuizSheet, models.CASCADE, related_name="+")
    module = models.ForeignKey(Module, models.CASCADE, related_name="+")

    class Meta:
        constraints = (
            models.UniqueConstraint(name="module_once_a_sheet", fields=("sheet", "module")),
        )

    def __str__(self) -> str:
        return f"{self.module_id} on {self.sheet_id}"


class Drill(models.Model):
    """A short quiz on two drinks that are mixed up, for the people who mix them up."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="drills")
    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    one = models.ForeignKey(Recipe, models.PROTECT, related_name="+")
    other = models.ForeignKey(Recipe, models.PROTECT, related_name="+")
    by = models.ForeignKey(Membership, models.PROTECT, related_name="drills_set")
    at = models.DateTimeField()

    def __str__(self) -> str:
        return self.code


class DrillForQuerySet(models.QuerySet["DrillFor"]):
    def of(self, hire: Membership) -> Self:
        return self.filter(hire=hire)

    def to_do(self) -> Self:
        return self.filter(done_at__isnull=True)

    def on(self, one: Recipe, other: Recipe) -> Self:
        """On these two, whichever was named first."""
        return self.filter(
            Q(drill__one=one, drill__other=other) | Q(drill__one=other, drill__other=one)
        )


class DrillFor(models.Model):
    """Somebody whom a drill is set for; `done_at` when they had both drinks right."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    drill = models.ForeignKey(Drill, models.PROTECT, related_name="people")
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="drills")
    done_at = models.DateTimeField(null=True, blank=True)

    objects = DrillForQuerySet.as_manager()

    class Meta:
        constraints = (models.UniqueConstraint(name="drill_once_a_hire", fields=("drill", "hire")),)

    def __str__(self) -> str:
        return f"{self.drill_id} for {self.hire_id}"


class TryOutQuerySet(models.QuerySet["TryOut"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def with_all(self) -> Self:
        """For lists of them, and to say where each stands."""
        return self.select_related("hire__person", "by__person", "quiz__result")

    def of(self, hire: Membership) -> Self:
        return self.filter(hire=hire)

    def over_since(self, at: dt.datetime) -> Self:
        return self.filter(finished_at__gte=at)

    def to_do(self) -> Self:
        return self.filter(finished_at__isnull=True)

    def newest_first(self) -> Self:
        return self.order_by("-offered_at", "-pk")


class Stands(StrEnum):
    """Where a try-out stands: not begun; under way; its time up and not closed; over."""

    OFFERED = "offered"
    RUNS = "runs"
    RAN_OUT = "ran_out"
    OVER = "over"


class TryOut(models.Model):
    """A trainer lets somebody with experience show what need not be taught. The questions are
    those of `quiz`, chosen one after the other by what was answered before."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="try_outs")
    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="try_outs")
    by = models.ForeignKey(Membership, models.PROTECT, related_name="try_outs_offered")
    quiz = models.OneToOneField(
        "assessments.Quiz", models.PROTECT, null=True, blank=True, related_name="try_out"
    )
    offered_at = models.DateTimeField()
    finished_at = models.DateTimeField(null=True, blank=True)

    objects = TryOutQuerySet.as_manager()

    class Meta:
        constraints = (
            models.UniqueConstraint(
                name="one_open_try_out_a_hire",
                fields=("hire",),
                condition=models.Q(finished_at__isnull=True),
            ),
            models.CheckConstraint(
                name="nobody_offers_their_own_try_out",
                condition=~models.Q(hire=models.F("by")),
            ),
        )

    def __str__(self) -> str:
        return self.code

    def stands(self, at: dt.datetime) -> Stands:
        if self.finished_at:
            return Stands.OVER
        if self.quiz is None:
            return Stands.OFFERED
        return Stands.RAN_OUT if self.quiz.is_over(at) else Stands.RUNS
