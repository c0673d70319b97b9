from __future__ import annotations

from collections.abc import Iterable
from typing import Self

from django.db import models
from django.utils.translation import gettext_lazy as _

from barcourse.people.models import Membership, Venue
from recipes.grammar import ingredients as grammar


class IngredientQuerySet(models.QuerySet["Ingredient"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def by_name(self) -> Self:
        return self.order_by("name", "slug")

    def named(self, slugs: Iterable[str]) -> Self:
        return self.filter(slug__in=list(slugs))

    def bottles_of(self, slug: str) -> Self:
        return self.filter(bottle_of=slug)

    def priced(self) -> Self:
        """Those of which it is known what a bottle holds and costs."""
        return self.filter(bottle_ml__isnull=False, bottle_price__isnull=False)

    def with_checker(self) -> Self:
        return self.select_related("checked_by__person")


class Ingredient(models.Model):
    """One thing the house stocks.

    `allergens` null means that nobody has read the label: unknown, never "free from". Where a
    house has read it, who and when stand beside it, both or neither. From `bottle_changed_at` on
    it is another bottle that is poured: a label read before then was that of the older one.
    `bottle_of` is the slug of the ingredient that recipes speak of where this bottle may go in.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="ingredients")
    slug = models.SlugField(max_length=60)
    name = models.CharField(_("name"), max_length=80)
    kind = models.CharField(_("kind"), max_length=20)  # a grammar.Kind
    abv = models.FloatField(_("percent alcohol by volume"), default=0)
    allergens = models.JSONField(_("allergens"), null=True, blank=True)
    checked_by = models.ForeignKey(
        Membership, models.PROTECT, null=True, blank=True, related_name="labels_read"
    )
    checked_at = models.DateTimeField(null=True, blank=True)
    bottle_changed_at = models.DateTimeField(null=True, blank=True)
    colour = models.CharField(max_length=7, default="#f4f1e6")
    density = models.FloatField(null=True, blank=True)
    aliases = models.JSONField(default=list, blank=True)
    step = models.CharField(_("step"), max_length=10, default="house")  # a grammar.Step
    bottle_of = models.SlugField(_("a bottle of"), max_length=60, blank=True, default="")
    bottle_ml = models.FloatField(_("what its bottle holds, in millilitres"), null=True, blank=True)
    bottle_price = models.DecimalField(
        _("what its bottle costs the house"), max_digits=9, decimal_places=2, null=True, blank=True
    )

    objects = IngredientQuerySet.as_manager()

    class Meta:
        constraints = (
            models.UniqueConstraint(name="one_ingredient_a_slug", fields=("venue", "slug")),
            models.CheckConstraint(
                name="label_read_says_who_and_when",
                condition=models.Q(checked_by__isnull=True, checked_at__isnull=True)
                | models.Q(checked_by__isnull=False, checked_at__isnull=False),
            ),
            models.CheckConstraint(
                name="bottle_holds_something",
                condition=models.Q(bottle_ml__isnull=True) | models.Q(bottle_ml__gt=0),
            ),
            models.CheckConstraint(
                name="bottle_price_not_negative",
                condition=models.Q(bottle_price__isnull=True) | models.Q(bottle_price__gte=0),
            ),
            models.CheckConstraint(
                name="abv_is_a_percentage", condition=models.Q(abv__gte=0, abv__lte=100)
            ),
        )

    def __str__(self) -> str:
        return self.name

    @property
    def label_is_older(self) -> bool:
        """Whether what is known of its allergens was read from the bottle before this one."""
        if self.allergens is None or self.bottle_changed_at is None:
            return False
        return self.checked_at is None or self.checked_at < self.bottle_changed_at

    @property
    def label_is_unread(self) -> bool:
        """Whether nobody of the house has read the label of this bottle, whatever a course or a
        sheet brought along: its allergens are unknown."""
        return self.checked_by_id is None or self.allergens is None or self.label_is_older

    def facts(self) -> grammar.Ingredient:
        return grammar.Ingredient(
            slug=self.slug,
            name=self.name,
            kind=grammar.Kind(self.kind),
            abv=self.abv,
            allergens=None if self.allergens is None else tuple(self.allergens),
            colour=self.colour,
            density=self.density,
            aliases=tuple(self.aliases),
            step=grammar.Step(self.step),
            bottle_of=self.bottle_of,
        )
