"""The names on a house's till: those asked about, and those told, by whom."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from django.db.models import Sum

from assessments.models import CallMapping, SalesLine
from assessments.models.sales import NEVER_TOLD, Place
from assessments.sales import Summary
from assessments.sales_in_force import InForce
from assessments.sales_reading import NOTHING_TOLD, heard
from assessments.sales_told import Meanings
from recipes.menu import Menu


@dataclass(frozen=True)
class Asked:
    """A name on the till, the drinks that it may mean, and whether the first has a tick to it.
    `picked` is what stands in the list, `ticked` whether the tick does; `was` what the name meant
    as `record_sales.tell_names` takes it; `gone` where what was picked is sold no longer; `each`
    how many drinks its name tells of."""

    said: str
    quantity: Decimal
    proposed: list[tuple[str, str]]
    likely: bool
    picked: str = ""
    ticked: bool = False
    was: str | None = ""
    gone: bool = False
    each: int = 1

    @property
    def picks_proposed(self) -> bool:
        return self.picked in [slug for slug, _name in self.proposed]


@dataclass(frozen=True)
class Told:
    """What a name means; `drink` is None for nothing that is taught."""

    said: str
    drink: str | None
    by: str
    mapping: CallMapping


def asked(said: str, quantity: Decimal, menu: Menu, told: Meanings = NOTHING_TOLD) -> Asked:
    one = heard(said, menu, told)
    proposed = [slug for slug in one.proposed if slug in menu.by_slug]
    named = [(slug, menu.by_slug[slug].drink.name) for slug in proposed]
    return Asked(said, quantity, named, one.likely and bool(named), each=one.each)


def otherwise(said: str, menu: Menu, force: InForce) -> Asked | None:
    """A name that was told or read, to be told otherwise, with what it means picked."""
    mapping = CallMapping.objects.filter(venue=menu.venue, said=said).first()
    if mapping is None and not are_known(menu, [said]):
        return None
    one = replace(asked(said, sold(said, force), menu), likely=False)
    recipe = mapping.recipe if mapping else heard(said, menu).recipe
    told = (recipe.slug if recipe else None) if mapping else ""
    slug = recipe.slug if recipe else ""
    if slug not in menu.by_slug:
        return replace(one, was=told)
    first = (slug, menu.by_slug[slug].drink.name)
    rest = [pair for pair in one.proposed if pair != first]
    return replace(one, proposed=[first, *rest], picked=slug, was=told)


@dataclass(frozen=True)
class ReadName:
    """A name that the program read by itself, and the drink it was counted as."""

    said: str
    drink: str
    quantity: Decimal


def read_names(menu: Menu, found: Summary | None) -> list[ReadName]:
    """Those that nobody told, what sold most first."""
    if found is None:
        return []
    told_names = set(CallMapping.objects.filter(venue=menu.venue).values_list("said", flat=True))
    names = {slug: item.drink.name for slug, item in menu.by_slug.items()}
    return [
        ReadName(one.said, names.get(one.recipe, one.recipe), one.quantity)
        for one in found.places[Place.MAPPED]
        if one.said not in told_names
    ]


def sold(said: str, force: InForce) -> Decimal:
    rows = force.lines().filter(said=said).exclude(place__in=NEVER_TOLD)
    return rows.aggregate(n=Sum("quantity"))["n"] or Decimal(0)


def told(menu: Menu) -> list[Told]:
    rows = CallMapping.objects.filter(venue=menu.venue).order_by("said")
    return [
        Told(row.said, _drink(row, menu), row.by.name, row)
        for row in rows.select_related("recipe", "by__person")
    ]


def _drink(row: CallMapping, menu: Menu) -> str | None:
    if row.recipe is None:
        return None
    slug = row.recipe.slug
    return menu.by_slug[slug].drink.name if slug in menu.by_slug else slug


def are_known(menu: Menu, names: Iterable[str]) -> bool:
    """Whether each of these was sold, or was told."""
    lines = SalesLine.objects.filter(venue=menu.venue, said__in=names)
    lines = lines.exclude(place__in=NEVER_TOLD)
    found = set(lines.values_list("said", flat=True))
    rows = CallMapping.objects.filter(venue=menu.venue, said__in=names)
    return set(names) <= found | set(rows.values_list("said", flat=True))
