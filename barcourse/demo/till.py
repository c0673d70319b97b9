"""What the till of the demo house sold in the fortnight before today, taken in and told."""

from __future__ import annotations

import csv
import datetime as dt
import io
from collections.abc import Iterator
from random import Random

from assessments import record_sales
from assessments.measures.sales_mix import WEEKEND
from barcourse.demo.house import moment
from barcourse.people.models import Membership
from recipes.grammar.till_sheet import read_till
from recipes.menu import Menu, menu_at

DAYS = 14
HOURS = (18, 19, 20, 21, 22, 23, 0, 1)
WEEK, FULL = (4, 6, 7, 7, 6, 5, 4, 2), (8, 11, 14, 16, 18, 19, 16, 10)
"""Orders an hour, on an evening from Sunday to Thursday and on a Friday or Saturday."""
ROUNDS = (1, 1, 1, 1, 2, 2, 3)
BESIDE = (("Salted Almonds", 0.03), ("Gin Pineapple", 0.015), ("Marg Jug", 0.012))
"""Rung up beside the drinks of the house, with the chance that an order has it."""
NOT_TAUGHT = "salted almonds"
NEVER_ASKED_FOR = 4
"""So many drinks of the menu, those that sell least, nobody ordered."""


def take_in_a_fortnight(manager: Membership, now: dt.datetime, at: dt.datetime) -> None:
    """One name is told, one is left for whoever looks at the page."""
    menu = menu_at(manager.venue, at)
    sheet = read_till(_export(menu, manager, now))
    record_sales.import_sales(by=manager, sheet=sheet, menu=menu, at=at)
    told = {NOT_TAUGHT: None}
    record_sales.tell_names(by=manager, told=told, menu=menu, at=at + dt.timedelta(minutes=5))


def _export(menu: Menu, manager: Membership, now: dt.datetime) -> str:
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(["Check", "Date", "Hour", "Item", "Qty"])
    writer.writerows(_rows(menu, manager, now))
    return out.getvalue()


Line = tuple[int, str, int, str, int]


def _rows(menu: Menu, manager: Membership, now: dt.datetime) -> Iterator[Line]:
    random = Random("till")  # noqa: S311 - invented, to be the same each time
    sold = sorted(menu.drinks, key=lambda d: (-d.share, d.slug))[:-NEVER_ASKED_FOR]
    names, shares = [d.name for d in sold], [d.share for d in sold]
    check = 4000
    for ago in range(DAYS, 0, -1):
        day = manager.venue.business_day(moment(now, ago))
        for hour, orders in zip(HOURS, FULL if day.weekday() in WEEKEND else WEEK, strict=True):
            date = (day + dt.timedelta(days=hour < HOURS[0])).isoformat()
            for _ in range(orders):
                check += 1
                drinks = random.choices(names, shares, k=random.choice(ROUNDS))
                beside = [name for name, chance in BESIDE if random.random() < chance]
                yield from ((check, date, hour, name, 1) for name in (*drinks, *beside))
