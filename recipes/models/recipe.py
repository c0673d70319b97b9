from __future__ import annotations

import datetime as dt
from typing import Self

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from barcourse.people.models import Membership, Venue
from barcourse.people.sealed import SealedModel, SealedQuerySet
from recipes.grammar.spec import BuildSpec
from recipes.models.module import Module


class RecipeQuerySet(models.QuerySet["Recipe"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def on_menu(self, at: dt.datetime) -> Self:
        """Poured, and not retired by this moment."""
        return self.filter(Q(retires_at__isnull=True) | Q(retires_at__gt=at), is_poured=True)


class Recipe(models.Model):
    """A drink by name. How it is built stands in its revisions.

    `share` is what it sells, relative to the other drinks; a till export will replace the
    course's starting guess. `listed` says how an international list has it and how we differ.
    From `retires_at` on it is off the menu by itself; what was shown of it stays on record.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="recipes")
    module = models.ForeignKey(Module, models.PROTECT, related_name="recipes")
    slug = models.SlugField(max_length=60)
    name = models.CharField(_("name"), max_length=80)
    aliases = models.JSONField(default=list, blank=True)
    position = models.PositiveSmallIntegerField(default=0)
    is_poured = models.BooleanField(_("on the menu"), default=True)
    must_know = models.BooleanField(_("must-know"), default=False)
    share = models.FloatField(default=1)
    listed = models.JSONField(null=True, blank=True)
    price = models.DecimalField(
        _("price on the menu"), max_digits=9, decimal_places=2, null=True, blank=True
    )
    retires_at = models.DateTimeField(_("comes off the menu at"), null=True, blank=True)

    objects = RecipeQuerySet.as_manager()

    class Meta:
        ordering = ("module__position", "position", "slug")
        constraints = (
            models.UniqueConstraint(name="one_recipe_a_slug", fields=("venue", "slug")),
            models.CheckConstraint(
                name="must_know_is_poured",
                condition=models.Q(must_know=False) | models.Q(is_poured=True),
            ),
            models.CheckConstraint(name="share_not_negative", condition=models.Q(share__gte=0)),
            models.CheckConstraint(
                name="price_not_negative",
                condition=models.Q(price__isnull=True) | models.Q(price__gte=0),
            ),
        )

    def __str__(self) -> str:
        return self.name

    def is_retired(self, at: dt.datetime) -> bool:
        return self.retires_at is not None and self.retires_at <= at

    def is_on_menu(self, at: dt.datetime) -> bool:
        return self.is_poured and not self.is_retired(at)


class RevisionQuerySet(SealedQuerySet["Revision"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def of_recipe(self, recipe: Recipe) -> Self:
        return self.filter(recipe=recipe)

    def in_effect(self, at: dt.datetime) -> Self:
        return self.filter(takes_effect_at__lte=at)

    def newest_first(self) -> Self:
        return self.order_by("-takes_effect_at", "-number")

    def with_publisher(self) -> Self:
        return self.select_related("published_by__person")


class Revision(SealedModel):
    """How a recipe is built from a moment on. Immutable; numbered from 1 for each recipe."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="revisions")
    recipe = models.ForeignKey(Recipe, models.PROTECT, related_name="revisions")
    number = models.PositiveIntegerField()
    spec = models.JSONField()
    takes_effect_at = models.DateTimeField()
    published_at = models.DateTimeField()
    published_by = models.ForeignKey(Membership, models.PROTECT, related_name="+")

    objects = RevisionQuerySet.as_manager()  # type: ignore[misc]  # the base has one, of its own

    class Meta:
        constraints = (
            models.UniqueConstraint(name="one_revision_a_number", fields=("recipe", "number")),
            models.CheckConstraint(
                name="revision_takes_effect_when_or_after_published",
                condition=models.Q(takes_effect_at__gte=models.F("published_at")),
            ),
        )

    def __str__(self) -> str:
        return f"{self.recipe_id} revision {self.number}"

    @property
    def build(self) -> BuildSpec:
        return BuildSpec.model_validate(self.spec)
