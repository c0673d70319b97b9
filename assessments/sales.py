"""What the house sells: the shares that weigh its drinks, and what an hour brings."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from django.db.models import Sum

from assessments.measures.sales_mix import ShiftKind, kind_of, smoothed
from assessments.models.sales import DRINKS_SOLD, OrdersByHour, Place, SalesMix
from assessments.sales_in_force import InForce, in_force
from assessments.sales_orders import orders_of, waiting_by_hour
from assessments.sales_receipts import Orders
from barcourse.people.models import Venue
from recipes.kept import Kept, Stamp, stamp_of
from recipes.menu import Menu, MenuDrink, menu_at


def shares(
    venue: Venue, shift_kind: ShiftKind | None = None, *, at: dt.datetime
) -> dict[str, float]:
    """What part of all drinks sold each drink on the menu is, by slug, summing to 1."""
    menu = as_sold(menu_at(venue, at), shift_kind)
    return {item.drink.slug: item.drink.share for item in menu.items}


def as_sold_now(menu: Menu) -> Menu:
    """`as_sold` of the menu of this moment, kept while neither house nor menu changes."""
    if not (stamp := stamp_of(menu.venue)):
        return as_sold(menu)
    kept = _SOLD.get((stamp, id(menu.items)), lambda: (menu.items, as_sold(menu).items))
    return replace(menu, items=kept[1])


_SOLD = Kept[tuple[Stamp, int], tuple[tuple[MenuDrink, ...], tuple[MenuDrink, ...]]](most=50)
"""With the menu's own items beside what came of them: while they are kept no other items can have
their id."""


def as_sold(menu: Menu, shift_kind: ShiftKind | None = None) -> Menu:
    """The menu with its shares as the till says, in two queries; as the house book says where
    nothing was imported yet. Done twice it is as done once."""
    if not menu.items:
        return menu
    sold = _sold(in_force(menu.venue, menu.at))
    if not sold:
        return menu
    thought = {i.drink.slug: max(0.0, i.recipe.share) for i in menu.items}
    found = smoothed(_by_slug(sold, menu, None), thought)
    if shift_kind is not None:
        found = smoothed(_by_slug(sold, menu, shift_kind), found)
    return replace(menu, items=tuple(_weighed(i, found[i.drink.slug]) for i in menu.items))


def _weighed(item: MenuDrink, share: float) -> MenuDrink:
    return replace(item, drink=replace(item.drink, share=share))


Sold = Mapping[tuple[int, str], float]


def _sold(force: InForce) -> Sold:
    """Drinks sold, by recipe and kind of shift."""
    if not force:
        return {}
    rows = force.lines().filter(place=Place.MAPPED)
    sums = rows.values_list("recipe_id", "shift_kind").annotate(n=Sum(DRINKS_SOLD))
    return {(recipe, kind): float(n) for recipe, kind, n in sums if recipe is not None}


def _by_slug(sold: Sold, menu: Menu, shift_kind: ShiftKind | None) -> dict[str, float]:
    slugs = {item.recipe.pk: item.drink.slug for item in menu.items}
    found: dict[str, float] = defaultdict(float)
    for (recipe, kind), count in sold.items():
        if recipe in slugs and shift_kind in (None, kind):
            found[slugs[recipe]] += count
    return dict(found)


@dataclass(frozen=True)
class Called:
    """What one name on the till sold, as it was rung up; one of them is `each` drinks."""

    said: str
    quantity: Decimal
    recipe: str = ""
    each: int = 1


@dataclass(frozen=True)
class Summary:
    """What became of exports, as it was rung up: `quantity` is `mapped` and everything that is set
    aside. `drinks` are those mapped, each glass of a pack. `orders` None: no export tells them."""

    mixes: tuple[SalesMix, ...]
    quantity: Decimal
    mapped: Decimal
    places: dict[Place, tuple[Called, ...]]
    never_sold: tuple[MenuDrink, ...]
    unreadable: int
    totals: int
    orders: Orders | None

    @property
    def drinks(self) -> Decimal:
        return sum((c.quantity * c.each for c in self.places[Place.MAPPED]), Decimal(0))

    @property
    def aside(self) -> Decimal:
        return sum((self.sum_of(p) for p in Place if p is not Place.MAPPED), Decimal(0))

    def sum_of(self, place: Place) -> Decimal:
        return sum((c.quantity for c in self.places[place]), Decimal(0))

    @property
    def drinks_an_order(self) -> float | None:
        return self.orders.drinks_an_order if self.orders else None


def summary(menu: Menu, force: InForce) -> Summary:
    """What these exports say on this menu. A drink that has left it is taught no more, and what it
    sold is set aside; its recipe stays beside the name."""
    places: dict[Place, list[Called]] = {place: [] for place in Place}
    rows = force.lines().values_list("said", "place", "recipe__slug", "each")
    for said, place, slug, each, n in rows.annotate(n=Sum("quantity")).order_by("-n", "said"):
        gone = place == Place.MAPPED and slug not in menu.by_slug
        where = Place.UNTAUGHT if gone else Place(place)
        places[where].append(Called(said, n, slug or "", each))
    sold = {called.recipe for called in places[Place.MAPPED] if called.quantity > 0}
    mapped = sum((c.quantity for c in places[Place.MAPPED]), Decimal(0))
    return Summary(
        mixes=tuple(force.mixes),
        quantity=force.quantity(),
        mapped=mapped,
        places={place: tuple(found) for place, found in places.items()},
        never_sold=tuple(i for i in menu.items if i.drink.slug not in sold),
        unreadable=sum(mix.unreadable for mix in force.mixes),
        totals=sum(mix.totals for mix in force.mixes),
        orders=orders_of(force),
    )


@dataclass(frozen=True)
class Hour:
    """An hour of the clock on an average shift: orders, or None where no export tells them
    apart; drinks of the house; over how many days; and what was sold under names that wait to be
    told, which may be drinks as well, and the orders of nothing else."""

    hour: int
    orders: float | None
    drinks: float
    days: int
    waiting: float = 0.0
    orders_waiting: float = 0.0


def hours(venue: Venue, force: InForce, shift: ShiftKind) -> list[Hour]:
    """What each hour of such a shift brings, in the order of the night; days on which nothing was
    sold in that hour count as such where something was sold that shift."""
    rows = [
        row for row in force.hours() if kind_of(row.day, row.hour, venue.business_hour) is shift
    ]
    days = len({row.day for row in rows})
    by_hour: dict[int, list[OrdersByHour]] = defaultdict(list)
    for row in rows:
        by_hour[row.hour].append(row)
    begins, open_ones = venue.business_hour, waiting_by_hour(force)
    return [
        _hour(hour, by_hour[hour], days, open_ones)
        for hour in sorted(by_hour, key=lambda h: (h - begins) % 24)
    ]


def _hour(
    hour: int, rows: Sequence[OrdersByHour], days: int, open_ones: Mapping[object, int]
) -> Hour:
    told = [row.orders for row in rows if row.orders is not None]
    orders = sum(told) / days if len(told) == len(rows) else None
    waiting = sum(float(n) for row in rows for n in row.waiting.values())
    of_waiting = sum(open_ones.get((row.mix_id, row.day, row.hour), 0) for row in rows)
    return Hour(
        hour, orders, float(sum(row.drinks for row in rows)) / days, days, waiting / days,
        of_waiting / days,
    )  # fmt: skip
