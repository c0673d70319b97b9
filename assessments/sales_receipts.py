"""Which receipts of an export are orders, and in which hour each began."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from dataclasses import dataclass, field

Hour = tuple[dt.date, int]
"""A business day and an hour of the clock."""
Receipt = tuple[dt.date | None, str]
"""A business day, None where the export tells none, and an order's number on it."""

_ALMOST = 1e-6


@dataclass
class Receipts:
    """What each receipt sold and took back, by drink. One on which nothing is left, as all of it
    was taken back or it only takes back, is no order."""

    left: dict[Receipt, dict[str, float]] = field(default_factory=dict)
    firsts: dict[Receipt, Hour | None] = field(default_factory=dict)

    def add(
        self, day: dt.date | None, order: str, drink: str, quantity: float, hour: Hour | None
    ) -> None:
        sold = self.left.setdefault((day, order), defaultdict(float))
        sold[drink] += quantity
        if quantity > 0:
            self.firsts.setdefault((day, order), hour)

    def orders(self) -> dict[dt.date | None, set[str]]:
        found: dict[dt.date | None, set[str]] = {}
        for (day, order), sold in self.left.items():
            if any(n > _ALMOST for n in sold.values()):
                found.setdefault(day, set()).add(order)
        return found

    def begun(self) -> dict[Hour, set[str]]:
        """An order belongs to the hour in which its first sale stands."""
        orders, found = self.orders(), defaultdict[Hour, set[str]](set)
        for (day, order), hour in self.firsts.items():
            if hour and order in orders.get(day, ()):
                found[hour].add(order)
        return dict(found)
