"""Which receipts of an export are orders of drinks, in which hour each began, and how that follows
what the names on them are told to mean."""

from __future__ import annotations

import datetime as dt
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from assessments.models.sales import DRINKS, Kept, Place

Hour = tuple[dt.date, int]
"""A business day and an hour of the clock."""
Began = tuple[dt.date | None, int | None]
"""The business day and the hour of the first sale on a receipt, each None where it isn't told."""
Receipt = tuple[dt.date | None, str]
"""A business day, None where the export tells none, and an order's number on it."""
Names = tuple[tuple[str, Decimal], ...]
"""What is left of each name on a receipt, in the order of the names."""
Alike = tuple[int, Names]
"""So many receipts with just these names on them."""

IN_ORDERS = (*DRINKS, Place.WAITING)
"""What makes an order."""
ON_RECEIPTS = (*IN_ORDERS, Place.NOT_OURS)
"""Where a name stands that may be told to be a drink, or to be none."""


@dataclass(frozen=True)
class Means:
    """What a name on a receipt stands for; names of one `drink` take one another off."""

    drink: str
    kept: Kept


@dataclass(frozen=True)
class Orders:
    """Of some receipts: how many are `orders`, as a drink is left on them or a name that waits to
    be told; of `told` ones every name is told, with so many `drinks`; on `waiting` ones nothing is
    left but what waits. Of `unknown` ones nobody knows it any more: names of their export wait, and
    it came before receipts were kept."""

    orders: int = 0
    told: int = 0
    drinks: Decimal = Decimal(0)
    waiting: int = 0
    unknown: int = 0

    def __add__(self, other: Orders) -> Orders:
        return Orders(
            self.orders + other.orders,
            self.told + other.told,
            self.drinks + other.drinks,
            self.waiting + other.waiting,
            self.unknown + other.unknown,
        )

    @property
    def drinks_an_order(self) -> float | None:
        """On those of which every name is told: what waits may be no drink at all."""
        return float(self.drinks) / self.told if self.told else None

    @property
    def partly(self) -> int:
        """Those on which some name waits to be told."""
        return self.orders - self.told - self.unknown

    def times(self, n: int) -> Orders:
        return Orders(n * self.orders, n * self.told, n * self.drinks, n * self.waiting)


def judged(receipt: Names, means: Mapping[str, Means]) -> Orders:
    """One on which nothing is left, as all of it was taken back or it only takes back, is no order;
    neither is one of what is nothing that is taught."""
    made, waiting = defaultdict[str, Decimal](Decimal), False
    open_ones = False
    for said, quantity in receipt:
        meant = means[said]
        if meant.kept.place is Place.WAITING:
            waiting |= quantity != 0
            open_ones |= quantity > 0
        else:
            made[meant.drink] += quantity * meant.kept.drinks
    drinks = sum((n for n in made.values() if n > 0), Decimal(0))
    if not (drinks or open_ones):
        return Orders()
    if waiting:
        return Orders(1, waiting=0 if drinks else 1)
    return Orders(1, 1, drinks)


def judged_all(receipts: Iterable[Alike], means: Mapping[str, Means]) -> Orders:
    return sum((judged(names, means).times(n) for n, names in receipts), Orders())


@dataclass
class Receipts:
    """What each receipt sold and took back, by name."""

    left: dict[Receipt, dict[str, Decimal]] = field(default_factory=dict)
    firsts: dict[Receipt, Hour | None] = field(default_factory=dict)

    def add(
        self, day: dt.date | None, order: str, said: str, quantity: Decimal, hour: Hour | None
    ) -> None:
        sold = self.left.setdefault((day, order), defaultdict(Decimal))
        sold[said] += quantity
        if quantity > 0:
            self.firsts.setdefault((day, order), hour)

    def begun(self) -> dict[Began, list[Alike]]:
        """All receipts by the hour in which their first sale stands, whatever it was: so an order
        stays in its hour when a name is told."""
        found = defaultdict[Began, Counter[Names]](Counter)
        for (day, order), sold in self.left.items():
            first = self.firsts.get((day, order))
            found[day, first[1] if first else None][tuple(sorted(sold.items()))] += 1
        return {at: [(n, names) for names, n in alike.items()] for at, alike in found.items()}
