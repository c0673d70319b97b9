from __future__ import annotations

from typing import Self

from django.db import models
from django.db.models import F, Q

from barcourse.people.models import Membership, Venue
from recipes.models.ingredient import Ingredient
from recipes.models.recipe import Recipe


class OffTonightQuerySet(models.QuerySet["OffTonight"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def standing(self) -> Self:
        """What nobody has lifted yet."""
        return self.filter(lifted_at__isnull=True)

    def bottle(self, slug: str) -> Self:
        return self.filter(ingredient__slug=slug)

    def drink(self, slug: str) -> Self:
        return self.filter(recipe__slug=slug)

    def newest_first(self) -> Self:
        return self.order_by("-said_at", "-pk")

    def with_all(self) -> Self:
        return self.select_related("ingredient", "recipe", "substitute", "said_by__person")


class OffTonight(models.Model):
    """A bottle or a drink that is out, from now until somebody lifts it.

    Exactly one of `ingredient` and `recipe`. A bottle may have a substitute; without one the
    drinks that need it are off too.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="off_tonight")
    ingredient = models.ForeignKey(
        Ingredient, models.PROTECT, null=True, blank=True, related_name="off"
    )
    recipe = models.ForeignKey(Recipe, models.PROTECT, null=True, blank=True, related_name="off")
    substitute = models.ForeignKey(
        Ingredient, models.PROTECT, null=True, blank=True, related_name="stands_in"
    )
    said_by = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    said_at = models.DateTimeField()
    lifted_by = models.ForeignKey(
        Membership, models.PROTECT, null=True, blank=True, related_name="+"
    )
    lifted_at = models.DateTimeField(null=True, blank=True)

    objects = OffTonightQuerySet.as_manager()

    class Meta:
        ordering = ("said_at", "pk")
        constraints = (
            models.CheckConstraint(
                name="off_tonight_is_a_bottle_or_a_drink",
                condition=Q(ingredient__isnull=False, recipe__isnull=True)
                | Q(ingredient__isnull=True, recipe__isnull=False, substitute__isnull=True),
            ),
            models.CheckConstraint(
                name="off_tonight_substitute_is_another",
                condition=Q(substitute__isnull=True) | ~Q(substitute=F("ingredient")),
            ),
            models.CheckConstraint(
                name="off_tonight_lifted_says_who_and_when",
                condition=Q(lifted_by__isnull=True, lifted_at__isnull=True)
                | Q(lifted_by__isnull=False, lifted_at__isnull=False),
            ),
            models.UniqueConstraint(
                name="one_off_tonight_a_bottle",
                fields=("ingredient",),
                condition=Q(lifted_at__isnull=True),
            ),
            models.UniqueConstraint(
                name="one_off_tonight_a_drink",
                fields=("recipe",),
                condition=Q(lifted_at__isnull=True),
            ),
        )

    def __str__(self) -> str:
        return f"off: {self.ingredient or self.recipe}"
