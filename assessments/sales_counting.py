"""The rows of an export added up, by business day, name, kind of shift and what became of them."""

from __future__ import annotations

import datetime as dt
import hashlib
from collections import Counter, defaultdict
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from assessments.measures.sales_days import Export, Hours, Part
from assessments.measures.sales_mix import business_day, kind_of
from assessments.models.sales import (
    DRINKS,
    Kept,
    OrdersByHour,
    Place,
    SalesDay,
    SalesLine,
    SalesMix,
    SalesReceipts,
)
from assessments.sales_reading import Heard, heard, name_of
from assessments.sales_receipts import (
    ON_RECEIPTS,
    Alike,
    Began,
    Hour,
    Means,
    Orders,
    Receipts,
    judged_all,
)
from assessments.sales_told import Meanings
from recipes.grammar.till_found import TillSheet
from recipes.grammar.till_kinds import Kind, TillLine
from recipes.menu import Menu
from recipes.models import Recipe

_CENTS = Decimal("0.001")
BY_BUSINESS_DAY = "business"
"""A column of days that is called so counts the hours past midnight to the evening before; so does
a day that stands above all rows."""

MOST_SOLD = 1_000_000
"""Of one name in one export (our own number, no source)."""
MOST_IN_ALL = 100_000_000
"""A code stands where quantities should (our own number, no source)."""


@dataclass
class Counted:
    """`ahead` are the rows dated after today, `nameless` those that don't say what they sold.
    `hours` holds None for a row without an hour; `written` how the file writes each name first;
    `gone` are names of drinks that have left the menu: kept as theirs, set aside while they are
    off it."""

    lines: dict[tuple[str, str, Place, dt.date | None], Decimal] = field(default_factory=dict)
    recipes: dict[str, Recipe | None] = field(default_factory=dict)
    receipts: dict[Began, list[Alike]] = field(default_factory=dict)
    hours: dict[dt.date | None, set[int | None]] = field(default_factory=dict)
    drinks: dict[Hour, Decimal] = field(default_factory=dict)
    waiting: dict[Hour, dict[str, Decimal]] = field(default_factory=dict)
    told: dict[Hour, dict[str, Decimal]] = field(default_factory=dict)
    orders: dict[Began, Orders] = field(default_factory=dict)
    ahead: list[TillLine] = field(default_factory=list)
    nameless: list[TillLine] = field(default_factory=list)
    each: dict[str, int] = field(default_factory=dict)
    written: dict[str, str] = field(default_factory=dict)
    kept: dict[str, Kept] = field(default_factory=dict)
    gone: set[str] = field(default_factory=set)
    has_orders: bool = False
    print_of_file: str = ""
    meant: Meanings = field(default_factory=dict)
    today: dt.date | None = None

    @property
    def quantity(self) -> Decimal:
        return sum(self.lines.values(), Decimal(0))

    @property
    def counts(self) -> dict[str, tuple[int, Decimal]]:
        """Names that tell of more than one drink, with how many they tell of and how often sold:
        nobody knows whether so many were poured each time."""
        sold = self.names(Place.WAITING)
        return {said: (each, sold[said]) for said, each in self.each.items() if said in sold}

    def _each(self, said: str, place: Place) -> int:
        return self.kept[said].each if place is Place.MAPPED else 1

    @property
    def drinks_mapped(self) -> Decimal:
        """Drinks of the house, each glass of a pack."""
        sold = self.names(Place.MAPPED)
        return sum((n * self.kept[said].each for said, n in sold.items()), Decimal(0))

    def _shown(self, said: str, place: Place) -> Place:
        return Place.UNTAUGHT if place is Place.MAPPED and said in self.gone else place

    @property
    def days(self) -> list[dt.date]:
        return sorted(day for day in self.hours if day)

    @property
    def order_count(self) -> int | None:
        return self.all_orders.orders if self.has_orders else None

    @property
    def all_orders(self) -> Orders:
        return sum(self.orders.values(), Orders())

    def means(self) -> dict[str, Means]:
        return {said: Means(r.slug if r else said, self.kept[said])
                for said, r in self.recipes.items()}  # fmt: skip

    def sums(self) -> dict[Place, Decimal]:
        """By what is said of them, as `sales.summary` says it of what is in."""
        found: dict[Place, Decimal] = defaultdict(Decimal)
        for (said, _kind, place, _day), quantity in self.lines.items():
            found[self._shown(said, place)] += quantity
        return found

    def on(self, days: Collection[dt.date | None]) -> Decimal:
        """How much was rung up on these days."""
        return sum((n for (*_rest, day), n in self.lines.items() if day in days), Decimal(0))

    def names(self, place: Place) -> dict[str, Decimal]:
        found: dict[str, Decimal] = defaultdict(Decimal)
        for (said, _kind, where, _day), quantity in self.lines.items():
            if self._shown(said, where) is place:
                found[said] += quantity
        return dict(sorted(found.items(), key=lambda pair: (-pair[1], pair[0])))

    def below_zero(self) -> dict[str, Decimal]:
        """Drinks, and names that are none, of which more was taken off than sold."""
        found: dict[str, Decimal] = defaultdict(Decimal)
        for (said, _kind, place, _day), quantity in self.lines.items():
            if place not in (Place.VOID, Place.AHEAD):
                recipe = self.recipes[said] if place is Place.MAPPED else None
                found[recipe.name if recipe else said] += quantity
        return dict(sorted((name, n) for name, n in found.items() if n < 0))

    def beyond(self) -> dict[str, Decimal]:
        """Names that no bar sells so often: a price or a code in the wrong column."""
        found: dict[str, Decimal] = defaultdict(Decimal)
        for (said, _kind, _place, _day), quantity in self.lines.items():
            found[said] += abs(quantity)
        return {said: n for said, n in sorted(found.items()) if n > MOST_SOLD}

    @property
    def is_nonsense(self) -> bool:
        """Of all names together more than a house pours in a lifetime, sold or taken off."""
        return sum(map(abs, self.lines.values()), Decimal(0)) > MOST_IN_ALL

    def as_export(self, begins: int, *, instead: bool) -> Export:
        told: Mapping[dt.date | None, int] = Counter(day for day, _hour in self.drinks)
        parts = (Part(d, self._span(d, begins), told.get(d)) for d in self.hours)
        return Export(tuple(parts), instead=instead)

    def _span(self, day: dt.date | None, begins: int) -> Hours | None:
        hours = self.hours[day]
        known = [(h - begins) % 24 for h in hours if h is not None]
        return None if day is None or None in hours else (min(known), max(known))

    def line_rows(self, mix: SalesMix) -> list[SalesLine]:
        return [
            SalesLine(
                venue=mix.venue, mix=mix, said=said, shift_kind=kind, place=place, day=day,
                quantity=quantity, each=self._each(said, place),
                recipe=self.recipes[said] if place is Place.MAPPED else None,
            )
            for (said, kind, place, day), quantity in self.lines.items()
        ]  # fmt: skip

    def day_rows(self, mix: SalesMix, begins: int) -> list[SalesDay]:
        sums: dict[dt.date | None, Decimal] = defaultdict(Decimal)
        for (_said, _kind, _place, day), quantity in self.lines.items():
            sums[day] += quantity
        orders = Counter[dt.date | None]()
        for (day, _hour), one in self.orders.items():
            orders[day] += one.orders
        spans = {day: self._span(day, begins) or (None, None) for day in sums}
        return [
            SalesDay(
                venue=mix.venue, mix=mix, day=day, quantity=quantity,
                orders=orders[day] if self.has_orders else None,
                first_hour=spans[day][0], last_hour=spans[day][1],
            )
            for day, quantity in sums.items()
        ]  # fmt: skip

    def hour_rows(self, mix: SalesMix) -> list[OrdersByHour]:
        return [
            OrdersByHour(
                venue=mix.venue, mix=mix, day=at[0], hour=at[1], drinks=drinks,
                orders=self.orders.get(at, Orders()).orders if self.has_orders else None,
                waiting=_as_kept(self.waiting.get(at, {})),
                told=_as_kept(self.told.get(at, {})),
            )
            for at, drinks in sorted(self.drinks.items())
        ]  # fmt: skip

    def receipt_rows(self, mix: SalesMix) -> list[SalesReceipts]:
        return [
            SalesReceipts(
                venue=mix.venue, mix=mix, day=day, hour=hour, orders=one.orders, told=one.told,
                drinks=one.drinks, waiting=one.waiting,
                names=[[n, _as_kept(dict(names))] for n, names in self.receipts[day, hour]],
            )
            for (day, hour), one in self.orders.items()
        ]  # fmt: skip


def _as_kept(names: Mapping[str, Decimal]) -> dict[str, str]:
    return {said: str(quantity) for said, quantity in names.items()}


def count(sheet: TillSheet, menu: Menu, told: Meanings, today: dt.date) -> Counted:
    """What is dated after `today` is set aside; it has no day of its own."""
    found, read = Counted(meant=told, today=today), dict[str, Heard]()
    found.has_orders, found.print_of_file = "order" in sheet.columns, _print_of(sheet)
    begins = menu.venue.business_hour
    as_business = sheet.columns.get("date", "").casefold().startswith(BY_BUSINESS_DAY)
    as_business = as_business or sheet.has_title_day
    receipts = Receipts()
    for line in sheet.lines:
        if line.kind not in (Kind.SALE, Kind.VOID):
            continue
        said = name_of(line.item, line.size) if line.item else ""
        if said not in found.recipes:
            read[said] = heard(said, menu, told)
            found.recipes[said] = read[said].recipe
            found.kept[said] = read[said].kept
            if read[said].recipe and read[said].slug not in menu.by_slug:
                found.gone.add(said)
            found.written[said] = ", ".join(filter(None, (line.item.strip(), line.size.strip())))
            if read[said].each > 1 and read[said].place is Place.WAITING:
                found.each[said] = read[said].each
        day = business_day(line.day, line.hour, 0 if as_business else begins) if line.day else None
        if day and day > today:
            found.ahead.append(line)
            place, day = Place.AHEAD, None
        else:
            place = _place(line, read[said])
        if place is Place.NAMELESS:
            found.nameless.append(line)
        _add(found, line, said, place, day, begins)
        hour = (day, line.hour) if day and line.hour is not None else None
        if line.order and place in ON_RECEIPTS:
            receipts.add(day, line.order, said, quantity_of(line), hour)
        _hourly(found, line, said, place, hour)
    means, found.receipts = found.means(), receipts.begun()
    found.orders = {at: judged_all(alike, means) for at, alike in found.receipts.items()}
    return found


def _place(line: TillLine, read: Heard) -> Place:
    if line.kind is Kind.VOID:
        return Place.VOID
    return read.place if line.item else Place.NAMELESS


def _add(
    found: Counted, line: TillLine, said: str, place: Place, day: dt.date | None, begins: int
) -> None:
    kind = str(kind_of(day, line.hour, begins)) if day and line.hour is not None else ""
    key = (said, kind, place, day)
    found.lines[key] = found.lines.get(key, Decimal(0)) + quantity_of(line)
    found.hours.setdefault(day, set()).add(line.hour)


def _hourly(found: Counted, line: TillLine, said: str, place: Place, hour: Hour | None) -> None:
    """Names are kept beside the sums, so that an hour follows what is said of them later."""
    if hour is None or place not in ON_RECEIPTS:
        return
    found.drinks.setdefault(hour, Decimal(0))
    if place in DRINKS:
        found.drinks[hour] += quantity_of(line) * found.kept[said].each
    names = found.waiting if place is Place.WAITING else found.told
    names.setdefault(hour, defaultdict(Decimal))[said] += quantity_of(line)


def quantity_of(line: TillLine) -> Decimal:
    return Decimal(str(line.quantity)).quantize(_CENTS)


def _print_of(sheet: TillSheet) -> str:
    """Of what the rows say, whatever the file looked like."""
    rows = [(x.item, x.size, x.quantity, x.kind, str(x.day), x.hour, x.order) for x in sheet.lines]
    return hashlib.sha256(repr(rows).encode()).hexdigest()
