"""What helps somebody to remember a drink, in their own words."""

from __future__ import annotations

from typing import Self

from django.db import models
from django.db.models import Q

from barcourse.people.models import Membership, Venue
from recipes.models import Recipe


class HookQuerySet(models.QuerySet["Hook"]):
    def of(self, member: Membership) -> Self:
        return self.filter(by=member)

    def on(self, recipe: Recipe) -> Self:
        return self.filter(recipe=recipe)

    def seen_by(self, member: Membership) -> Self:
        """Their own, and what those who train share with the house; their own first."""
        mine = Q(by=member)
        return self.filter(mine | Q(is_shared=True)).order_by(
            models.Case(models.When(mine, then=0), default=1), "pk"
        )


class Hook(models.Model):
    """One a person and drink. The words are personal and erasable: `text_code` names them."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    by = models.ForeignKey(Membership, models.PROTECT, related_name="hooks")
    recipe = models.ForeignKey(Recipe, models.PROTECT, related_name="+")
    text_code = models.CharField(max_length=20)
    is_shared = models.BooleanField(default=False)
    at = models.DateTimeField()

    objects = HookQuerySet.as_manager()

    class Meta:
        constraints = (models.UniqueConstraint(name="one_hook_a_drink", fields=("by", "recipe")),)

    def __str__(self) -> str:
        return f"{self.by_id} on {self.recipe_id}"
