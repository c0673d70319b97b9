"""Watched builds, sign-offs and voids. All sealed: a correction is a row of its own."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from typing import Self

from django.db import models
from django.utils.translation import gettext_lazy as _

from barcourse.people.codes import new_code
from barcourse.people.models import Membership, Venue
from barcourse.people.sealed import SealedModel, SealedQuerySet
from recipes.models import Recipe, Revision, RulesVersion


class Help(models.TextChoices):
    """How much help the hire had."""

    SHOWN = "shown", _("shown")
    PROMPTED = "prompted", _("prompted")
    UNPROMPTED = "unprompted", _("unprompted")


class MadeWith(models.TextChoices):
    STOCK = "stock", _("stock")
    WATER = "water", _("water")


class WatchedBuildQuerySet(SealedQuerySet["WatchedBuild"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def of(self, *hires: Membership) -> Self:
        return self.filter(hire__in=hires)

    def standing(self, at: dt.datetime) -> Self:
        """Those watched by then that nobody had voided by then."""
        return self.filter(at__lte=at).exclude(void__at__lte=at)

    def with_stock_since(self, at: dt.datetime) -> Self:
        made = self.filter(made_with=MadeWith.STOCK, at__gte=at)
        return made.select_related("recipe__module", "revision", "rules_version")

    def open(self) -> Self:
        """Passed, and neither signed off nor the hire's drink on another build since: what stands
        of a sign-off counts."""
        later = SignOff.objects.not_void().filter(
            hire=models.OuterRef("hire"),
            recipe=models.OuterRef("recipe"),
            at__gte=models.OuterRef("at"),
        )
        return self.filter(~models.Exists(later), passed=True, sign_off__isnull=True)

    def unsigned(self, at: dt.datetime) -> Self:
        """Passed unprompted, and not signed off itself by then: all that may be `waiting`."""
        passed = self.filter(passed=True, help_level=Help.UNPROMPTED, at__lte=at)
        return passed.filter(models.Q(sign_off__isnull=True) | models.Q(sign_off__at__gt=at))

    def keyed(self, keys: Sequence[int]) -> Self:
        return self.filter(pk__in=keys)

    def waiting(self, at: dt.datetime) -> Self:
        """As it was at that moment: passed unprompted, not signed off, and neither that drink
        signed off nor another build of it failed since."""
        same = {"hire": models.OuterRef("hire"), "recipe": models.OuterRef("recipe")}
        signed = SignOff.objects.standing(at).filter(**same, at__gte=models.OuterRef("at"))
        builds = WatchedBuild.objects.standing(at)
        failed = builds.filter(**same, passed=False, at__gt=models.OuterRef("at"))
        passed = self.standing(at).filter(passed=True, help_level=Help.UNPROMPTED)
        return passed.filter(~models.Exists(signed), ~models.Exists(failed))

    def coded(self, codes: list[str]) -> Self:
        return self.filter(code__in=codes)

    def newest_first(self) -> Self:
        return self.order_by("-at", "-pk")

    def with_all(self) -> Self:
        return self.select_related(
            "hire__person", "trainer__person", "recipe", "revision", "rules_version",
            "sign_off", "void__by__person",
        )  # fmt: skip


class WatchedBuild(SealedModel):
    """One build, watched. `off` are the keys of the steps that went wrong; the rest was done.

    `fingerprints` are those of the five aspects as they stood; a part of it is out of date where
    today's differ. `note_code` names the erasable words about it.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="watched_builds")
    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="builds")
    trainer = models.ForeignKey(Membership, models.PROTECT, related_name="builds_watched")
    recipe = models.ForeignKey(Recipe, models.PROTECT, related_name="+")
    revision = models.ForeignKey(Revision, models.PROTECT, related_name="+")
    rules_version = models.ForeignKey(RulesVersion, models.PROTECT, related_name="+")
    fingerprints = models.JSONField()
    steps = models.JSONField()
    off = models.JSONField(default=list)
    help_level = models.CharField(_("help"), max_length=10, choices=Help)
    made_with = models.CharField(max_length=5, choices=MadeWith, default=MadeWith.STOCK)
    seconds = models.PositiveIntegerField(_("seconds"), null=True, blank=True)
    passed = models.BooleanField()
    note_code = models.CharField(max_length=20, blank=True)
    at = models.DateTimeField()

    objects = WatchedBuildQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    class Meta:
        indexes = (models.Index(fields=("hire", "at")),)
        constraints = (
            models.CheckConstraint(
                name="nobody_watches_themselves",
                condition=~models.Q(hire=models.F("trainer")),
            ),
        )

    def __str__(self) -> str:
        return self.code

    def is_signed_since(self) -> bool:
        """Whether it, or the hire's drink on another build since, was signed off and stands."""
        found = SignOff.objects.not_void().of(self.hire).filter(recipe=self.recipe)
        return found.filter(at__gte=self.at).exists()


class SignOffQuerySet(SealedQuerySet["SignOff"]):
    def of(self, *hires: Membership) -> Self:
        return self.filter(hire__in=hires)

    def unprompted(self) -> Self:
        """What was shown or prompted proves nothing about building it unaided."""
        return self.filter(help_level=Help.UNPROMPTED)

    def standing(self, at: dt.datetime) -> Self:
        """Those signed by then whose build nobody had voided by then."""
        return self.filter(at__lte=at).exclude(watched__void__at__lte=at)

    def not_void(self) -> Self:
        return self.filter(watched__void__isnull=True)

    def newest_first(self) -> Self:
        return self.order_by("-at", "-pk")


class SignOff(SealedModel):
    """This person, this drink, this spec under these rules, this day, this trainer, with this much
    help in this time. Only whoever watched the build signs it off, and nobody signs their own.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="sign_offs")
    watched = models.OneToOneField(WatchedBuild, models.PROTECT, related_name="sign_off")
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="sign_offs")
    trainer = models.ForeignKey(Membership, models.PROTECT, related_name="signed_off")
    recipe = models.ForeignKey(Recipe, models.PROTECT, related_name="sign_offs")
    revision = models.ForeignKey(Revision, models.PROTECT, related_name="+")
    rules_version = models.ForeignKey(RulesVersion, models.PROTECT, related_name="+")
    fingerprints = models.JSONField()
    help_level = models.CharField(max_length=10, choices=Help)
    seconds = models.PositiveIntegerField(null=True, blank=True)
    at = models.DateTimeField()

    objects = SignOffQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    class Meta:
        constraints = (
            models.CheckConstraint(
                name="nobody_signs_for_themselves", condition=~models.Q(hire=models.F("trainer"))
            ),
        )

    def __str__(self) -> str:
        return f"{self.hire_id} signed off {self.recipe_id}"


class Void(SealedModel):
    """A watched build, and the sign-off that rests on it, no longer counts. The reason is kept in
    words that can be erased; `reason_code` names them. `hire` is whose record it is about."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="voids")
    watched = models.OneToOneField(WatchedBuild, models.PROTECT, related_name="void")
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="voided_builds")
    by = models.ForeignKey(Membership, models.PROTECT, related_name="voids")
    reason_code = models.CharField(max_length=20)
    at = models.DateTimeField()

    class Meta:
        constraints = (
            models.CheckConstraint(
                name="nobody_voids_their_own", condition=~models.Q(hire=models.F("by"))
            ),
        )

    def __str__(self) -> str:
        return f"void of {self.watched_id}"


class MadeInsteadQuerySet(SealedQuerySet["MadeInstead"]):
    def of(self, *hires: Membership) -> Self:
        return self.filter(hire__in=hires)


class MadeInstead(SealedModel):
    """Which drink was made where a watched build was of another one than was called."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    watched = models.OneToOneField(WatchedBuild, models.PROTECT, related_name="made_instead")
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    made = models.ForeignKey(Recipe, models.PROTECT, related_name="+")
    by = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    objects = MadeInsteadQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    class Meta:
        constraints = (
            models.CheckConstraint(
                name="nobody_says_what_they_made", condition=~models.Q(hire=models.F("by"))
            ),
        )

    def __str__(self) -> str:
        return f"{self.watched_id}: {self.made_id}"
