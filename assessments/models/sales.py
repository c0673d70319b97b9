"""What the till sold: each export, its lines as drinks, its hours, and names that stick."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Self

from django.db import models
from django.db.models import F, Q, TextChoices
from django.utils.translation import gettext_lazy as _

from assessments.measures.sales_mix import ShiftKind
from barcourse.people.codes import new_code
from barcourse.people.models import Membership, Venue
from recipes.models import Recipe

LONGEST_NAME = 120
_DAY_KNOWN = Q(day__isnull=False)


class Place(TextChoices):
    """Where a line of the till went. Everything but the first is set aside."""

    MAPPED = "mapped", _("a drink of the house")
    WAITING = "waiting", _("waits to be told")
    UNTAUGHT = "untaught", _("a drink that is not in the book")
    NOT_OURS = "not_ours", _("nothing that is taught")
    VOID = "void", _("rung up and never sold")
    NAMELESS = "nameless", _("without a name")
    AHEAD = "ahead", _("dated after the day it came")


NEVER_TOLD = (Place.VOID, Place.AHEAD, Place.NAMELESS)
"""Where a line stays whatever its name is told to mean."""
DRINKS = (Place.MAPPED, Place.UNTAUGHT)
"""What a bartender made, whether or not the house teaches it."""


@dataclass(frozen=True)
class Kept:
    """Where sales of a name stand, and how many drinks one of them is."""

    place: Place
    each: int = 1

    @property
    def drinks(self) -> int:
        """So many of them a bartender made for each that was rung up."""
        return self.each if self.place in DRINKS else 0


class SalesMixQuerySet(models.QuerySet["SalesMix"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def standing(self) -> Self:
        return self.filter(withdrawn_at__isnull=True)

    def newest_first(self) -> Self:
        return self.order_by("-at", "-pk")


class SalesMix(models.Model):
    """One export. `quantity` is all that its lines sold or voided; `orders` None where the export
    doesn't tell orders apart; without dates the days are None. `days_kept` is False for those that
    came before lines had days; `instead` takes the place of what came before without days; `rows`
    is how many the file had, None where that was not kept."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="sales_mixes")
    code = models.SlugField(unique=True, default=new_code, editable=False)
    by = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    at = models.DateTimeField()
    first_day = models.DateField(null=True)
    last_day = models.DateField(null=True)
    quantity = models.DecimalField(max_digits=14, decimal_places=3)
    orders = models.PositiveIntegerField(null=True)
    rows = models.PositiveIntegerField(null=True)
    unreadable = models.PositiveIntegerField(default=0)
    totals = models.PositiveIntegerField(default=0)
    print_of_file = models.CharField(max_length=64)
    days_kept = models.BooleanField(default=True)
    instead = models.BooleanField(default=False)
    withdrawn_by = models.ForeignKey(Membership, models.PROTECT, null=True, related_name="+")
    withdrawn_at = models.DateTimeField(null=True)

    objects = SalesMixQuerySet.as_manager()

    class Meta:
        constraints = (
            models.CheckConstraint(
                name="sales_mix_days_in_order",
                condition=Q(first_day__isnull=True, last_day__isnull=True)
                | Q(first_day__lte=F("last_day")),
            ),
            models.UniqueConstraint(
                name="a_sales_file_counts_once",
                fields=("venue", "print_of_file"),
                condition=Q(withdrawn_at__isnull=True),
            ),
        )

    def __str__(self) -> str:
        return f"sales {self.first_day} to {self.last_day}"


class SalesDay(models.Model):
    """What an export tells of one business day, or of none: its rows without a day. Its hours are
    counted from the beginning of the business day; None where a row has none."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    mix = models.ForeignKey(SalesMix, models.PROTECT, related_name="days")
    day = models.DateField(null=True)
    quantity = models.DecimalField(max_digits=14, decimal_places=3)
    orders = models.PositiveIntegerField(null=True)
    first_hour = models.PositiveSmallIntegerField(null=True)
    last_hour = models.PositiveSmallIntegerField(null=True)

    class Meta:
        constraints = (
            models.UniqueConstraint(
                name="one_part_a_day_of_sales", fields=("mix", "day"), condition=_DAY_KNOWN
            ),
            models.UniqueConstraint(
                name="one_part_without_day_of_sales", fields=("mix",), condition=~_DAY_KNOWN
            ),
            models.CheckConstraint(
                name="sales_hours_in_order",
                condition=Q(first_hour__isnull=True, last_hour__isnull=True)
                | Q(first_hour__lte=F("last_hour"), last_hour__lte=23),
            ),
        )

    def __str__(self) -> str:
        return f"{self.quantity} on {self.day}"


DRINKS_SOLD = F("quantity") * F("each")
"""Of a line of sales: glasses, where packs were rung up."""


class SalesLineQuerySet(models.QuerySet["SalesLine"]):
    def of(self, mixes: Sequence[SalesMix]) -> Self:
        return self.filter(mix__in=mixes)

    def called(self, venue: Venue, said: str) -> Self:
        """Sales of that name in any export of the house; what no name decides is left alone."""
        return self.filter(venue=venue, said=said).exclude(place__in=NEVER_TOLD)


class SalesLine(models.Model):
    """All that an export sold under one name in one kind of shift of one business day; without a
    day where it tells none, or one that can't be read. `quantity` is as it was rung up; one of them
    is `each` drinks, more than 1 where somebody told that its name sells several at once."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    mix = models.ForeignKey(SalesMix, models.PROTECT, related_name="lines")
    day = models.DateField(null=True)
    said = models.CharField(max_length=LONGEST_NAME)
    shift_kind = models.CharField(max_length=20, blank=True, choices=[(k, k) for k in ShiftKind])
    place = models.CharField(max_length=10, choices=Place.choices)
    recipe = models.ForeignKey(Recipe, models.PROTECT, null=True, related_name="+")
    quantity = models.DecimalField(max_digits=14, decimal_places=3)
    each = models.PositiveSmallIntegerField(default=1)

    objects = SalesLineQuerySet.as_manager()

    class Meta:
        constraints = (
            models.UniqueConstraint(
                name="one_sales_line_a_name_shift_and_day",
                fields=("mix", "said", "shift_kind", "place", "day"),
                condition=_DAY_KNOWN,
            ),
            models.UniqueConstraint(
                name="one_sales_line_a_name_and_shift_without_day",
                fields=("mix", "said", "shift_kind", "place"),
                condition=~_DAY_KNOWN,
            ),
            models.CheckConstraint(
                name="a_mapped_sales_line_has_its_drink",
                condition=Q(place=Place.MAPPED, recipe__isnull=False)
                | (~Q(place=Place.MAPPED) & Q(recipe__isnull=True)),
            ),
            models.CheckConstraint(name="a_sale_is_a_drink_or_several", condition=Q(each__gte=1)),
        )

    def __str__(self) -> str:
        return f"{self.quantity} {self.said}"


class OrdersByHour(models.Model):
    """An hour of the clock on a business day: orders where the export tells them apart, drinks of
    the house, each glass of a pack, and by name how often what waits to be told and what was told
    or read was rung up. Exports of before read
    names were kept by hour have only those that were told."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    mix = models.ForeignKey(SalesMix, models.PROTECT, related_name="hours")
    day = models.DateField()
    hour = models.PositiveSmallIntegerField()
    orders = models.PositiveIntegerField(null=True)
    drinks = models.DecimalField(max_digits=12, decimal_places=3)
    waiting = models.JSONField(default=dict)
    told = models.JSONField(default=dict)

    class Meta:
        constraints = (
            models.UniqueConstraint(
                name="one_hour_of_a_day_an_export", fields=("mix", "day", "hour")
            ),
            models.CheckConstraint(name="an_hour_of_the_clock", condition=Q(hour__lte=23)),
        )

    def __str__(self) -> str:
        return f"{self.day} {self.hour}"

    def tell(self, said: str, was: Kept, now: Kept) -> bool:
        """What stands under this name goes to another place, or is so many drinks; whether anything
        does."""
        if said in self.waiting:
            was, count = Kept(Place.WAITING), self.waiting.pop(said)
        elif said in self.told:
            count = self.told.pop(said)
        else:
            return False
        (self.waiting if now.place is Place.WAITING else self.told)[said] = count
        self.drinks += Decimal(count) * (now.drinks - was.drinks)
        return True


class SalesReceipts(models.Model):
    """The receipts of an export whose first sale stands in one hour of a business day: `orders`,
    those `told`, their `drinks` and those of nothing but what is `waiting`, as `sales_receipts`
    tells them apart. `names` are all of them, those that are alike once: how many, and what each
    name sold there; they follow what is told of a name. Exports of before have none."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    mix = models.ForeignKey(SalesMix, models.PROTECT, related_name="receipts")
    day = models.DateField(null=True)
    hour = models.PositiveSmallIntegerField(null=True)
    orders = models.PositiveIntegerField()
    told = models.PositiveIntegerField()
    drinks = models.DecimalField(max_digits=14, decimal_places=3)
    waiting = models.PositiveIntegerField()
    names = models.JSONField(default=list)

    class Meta:
        constraints = (
            models.UniqueConstraint(
                name="receipts_of_an_hour_once",
                fields=("mix", "day", "hour"),
                condition=_DAY_KNOWN & Q(hour__isnull=False),
            ),
            models.UniqueConstraint(
                name="receipts_without_hour_once",
                fields=("mix", "day"),
                condition=_DAY_KNOWN & Q(hour__isnull=True),
            ),
            models.UniqueConstraint(
                name="receipts_without_day_once", fields=("mix",), condition=~_DAY_KNOWN
            ),
            models.CheckConstraint(
                name="receipts_in_an_hour_of_the_clock",
                condition=Q(hour__isnull=True) | Q(hour__lte=23, day__isnull=False),
            ),
            models.CheckConstraint(
                name="orders_told_or_waiting_are_orders",
                condition=Q(orders__gte=F("told") + F("waiting")),
            ),
        )

    def __str__(self) -> str:
        return f"{self.orders} orders on {self.day} {self.hour}"


class CallMapping(models.Model):
    """What a name on the till is, said once by somebody; no recipe: nothing that is taught. One
    sale of it is `each` drinks."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="call_mappings")
    said = models.CharField(max_length=LONGEST_NAME)
    recipe = models.ForeignKey(Recipe, models.PROTECT, null=True, related_name="+")
    each = models.PositiveSmallIntegerField(default=1)
    by = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        constraints = (
            models.UniqueConstraint(name="one_meaning_a_till_name", fields=("venue", "said")),
            models.CheckConstraint(
                name="a_till_name_is_a_drink_or_several", condition=Q(each__gte=1)
            ),
        )

    def __str__(self) -> str:
        return self.said
