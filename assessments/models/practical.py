"""What hands have shown beside whole builds: marks in service, pours, pace, rounds. All sealed."""

from __future__ import annotations

import datetime as dt
from typing import Self, TypeVar

from django.db import models
from django.utils.translation import gettext_lazy as _

from assessments.models.watch import MadeWith, WatchedBuild
from barcourse.people.codes import new_code
from barcourse.people.models import Membership, Station, Venue
from barcourse.people.sealed import SealedModel, SealedQuerySet
from recipes.models import Ingredient, Recipe, Revision, RulesVersion

_Row_co = TypeVar("_Row_co", bound="AboutHire", covariant=True)


class AboutHireQuerySet(SealedQuerySet[_Row_co]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def of(self, *hires: Membership) -> Self:
        return self.filter(hire__in=hires)

    def until(self, at: dt.datetime) -> Self:
        return self.filter(at__lte=at)

    def standing(self, at: dt.datetime) -> Self:
        """Those of by then that nobody had taken back by then."""
        return self.until(at).exclude(void__at__lte=at)

    def not_void(self) -> Self:
        return self.filter(void__isnull=True)

    def with_void(self) -> Self:
        return self.select_related("void__by__person")

    def newest_first(self) -> Self:
        return self.order_by("-at", "-pk")

    def oldest_first(self) -> Self:
        return self.order_by("at", "pk")

    def with_people(self) -> Self:
        return self.select_related("hire__person", "trainer__person")


class AboutHire(SealedModel):
    """A sealed row about a hire, by a trainer who is somebody else."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="%(class)ss")
    trainer = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        abstract = True
        constraints = (
            models.CheckConstraint(
                name="%(class)s_of_somebody_else", condition=~models.Q(hire=models.F("trainer"))
            ),
        )

    def __str__(self) -> str:
        return self.code

    @property
    def is_void(self) -> bool:
        """Whether it was taken back since."""
        return hasattr(self, "void")


class Came(models.TextChoices):
    """How a drink went out in service."""

    RIGHT = "right", _("right")
    MENDED = "mended", _("mended")
    WRONG = "wrong", _("wrong")


class SpotMarkQuerySet(AboutHireQuerySet["SpotMark"]):
    pass


class SpotMark(AboutHire):
    """One drink in service. Mended: it was wrong and was put right before it went out, or after it
    came back. `sent_back`: a guest had sent it back."""

    recipe = models.ForeignKey(Recipe, models.PROTECT, related_name="+")
    revision = models.ForeignKey(Revision, models.PROTECT, related_name="+")
    rules_version = models.ForeignKey(RulesVersion, models.PROTECT, related_name="+")
    fingerprints = models.JSONField()
    came = models.CharField(max_length=6, choices=Came)
    sent_back = models.BooleanField(default=False)

    objects = SpotMarkQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    class Meta(AboutHire.Meta):
        indexes = (models.Index(fields=("hire", "at")),)


class PourCheckQuerySet(AboutHireQuerySet["PourCheck"]):
    def judged(self) -> Self:
        """Those that came to a verdict."""
        return self.filter(passed__isnull=False)

    def with_stock_since(self, at: dt.datetime) -> Self:
        made = self.filter(made_with=MadeWith.STOCK, at__gte=at)
        return made.select_related("ingredient")


class PourCheck(AboutHire):
    """Several pours against a target, in millilitres. `weighed` with the `density` (g/ml) that
    turned grams into millilitres. `ingredient` is whose bottle's price it is held against."""

    ingredient = models.ForeignKey(
        Ingredient, models.PROTECT, null=True, blank=True, related_name="+"
    )
    made_with = models.CharField(max_length=5, choices=MadeWith, default=MadeWith.STOCK)
    measured_by = models.CharField(max_length=10)  # a grammar.rules.MeasuredBy
    target_ml = models.FloatField()
    tolerance_ml = models.FloatField()
    pours_ml = models.JSONField()
    weighed = models.BooleanField(default=False)
    density = models.FloatField(null=True, blank=True)
    pours_a_week = models.PositiveIntegerField(null=True, blank=True)
    passed = models.BooleanField(null=True)

    objects = PourCheckQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    class Meta(AboutHire.Meta):
        constraints = (  # type: ignore[assignment]  # longer than the base's
            *AboutHire.Meta.constraints,
            models.CheckConstraint(
                name="pour_check_has_a_target",
                condition=models.Q(target_ml__gt=0, tolerance_ml__gte=0),
            ),
        )


class PaceCheckQuerySet(AboutHireQuerySet["PaceCheck"]):
    pass


class PaceCheck(AboutHire):
    """A ticket of orders against the clock. `ticket` lists each order as [slug, how many] pairs,
    so that it can be read when the menu has changed; `seed` draws it again from the same mix."""

    station = models.ForeignKey(Station, models.PROTECT, related_name="+")
    rules_version = models.ForeignKey(RulesVersion, models.PROTECT, related_name="+")
    seed = models.PositiveIntegerField()
    ticket = models.JSONField()
    rung_up = models.BooleanField()
    seconds = models.PositiveIntegerField()
    errors = models.JSONField()

    objects = PaceCheckQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    class Meta(AboutHire.Meta):
        constraints = (  # type: ignore[assignment]  # longer than the base's
            *AboutHire.Meta.constraints,
            models.CheckConstraint(name="pace_takes_time", condition=models.Q(seconds__gt=0)),
        )


class WatchedRoundQuerySet(AboutHireQuerySet["WatchedRound"]):
    pass


class WatchedRound(AboutHire):
    """Several builds of one hire, made at once. `best` and `done` list the steps' keys, in the
    order that was computed and in the one in which they were done; `builds` the codes of the
    watched builds."""

    builds = models.JSONField()
    steps = models.JSONField()
    done = models.JSONField()
    picked_up_again = models.PositiveSmallIntegerField(default=0)
    seconds = models.PositiveIntegerField(null=True, blank=True)

    objects = WatchedRoundQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    class Meta(AboutHire.Meta):
        pass


class MeasuredPours(SealedModel):
    """What was measured in a watched build: {step: [wanted, poured]}, in millilitres."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    watched = models.OneToOneField(WatchedBuild, models.PROTECT, related_name="measured")
    pours = models.JSONField()

    def __str__(self) -> str:
        return f"pours of {self.watched_id}"
