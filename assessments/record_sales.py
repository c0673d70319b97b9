"""What the till sold, written: an export taken in or taken back, a name told once and for all."""

from __future__ import annotations

import datetime as dt
import hashlib
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from django.db import transaction

from assessments import record_steps as steps
from assessments.measures.sales_mix import ShiftKind, business_day, kind_of
from assessments.models.sales import CallMapping, OrdersByHour, Place, SalesLine, SalesMix
from assessments.sales_reading import Heard, heard, name_of
from barcourse.people import log
from barcourse.people.models import Membership, Venue
from barcourse.people.reasons import refuse
from recipes.grammar.till_sheet import Kind, TillLine, TillSheet
from recipes.menu import Menu
from recipes.models import Recipe

_CENTS = Decimal("0.001")
BY_BUSINESS_DAY = "business"
"""A column of days that is called so counts the hours past midnight to the evening before."""


@transaction.atomic
def import_sales(*, by: Membership, sheet: TillSheet, menu: Menu, at: dt.datetime) -> SalesMix:
    """Takes an export in: every line that is certain as its drink, everything else set aside.

    Refuses one without a single sale, and the same one twice."""
    venue = Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)
    counted = _count(sheet, menu, meanings(venue))
    print_ = _print_of(sheet)
    if not counted.lines:
        raise refuse("no_sales_in_it", "file")
    if SalesMix.objects.in_house(venue).standing().filter(print_of_file=print_).exists():
        raise refuse("sales_in_already", "file")
    mix = SalesMix.objects.create(
        venue=venue, by=by, at=at, print_of_file=print_,
        first_day=min(counted.days, default=None), last_day=max(counted.days, default=None),
        quantity=sum(counted.lines.values(), Decimal(0)),
        orders=len(counted.orders) if "order" in sheet.columns else None,
        unreadable=len(sheet.of(Kind.UNREADABLE)), totals=len(sheet.of(Kind.TOTAL)),
    )  # fmt: skip
    SalesLine.objects.bulk_create(counted.line_rows(mix), batch_size=500)
    OrdersByHour.objects.bulk_create(counted.hour_rows(mix), batch_size=500)
    facts = {"sales": mix.code, "lines": len(sheet.lines)}
    log.append(venue=venue, by=by, kind="sales_imported", facts=facts, at=at)
    return mix


@transaction.atomic
def tell_names(
    *, by: Membership, told: Mapping[str, str | None], menu: Menu, at: dt.datetime
) -> int:
    """What names on the till mean from now on, and in all that was taken in before: a drink by its
    slug, None for nothing that is taught. Gives how many names. Raises KeyError for a slug that is
    not on the menu."""
    venue = Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)
    for said, slug in told.items():
        recipe = menu.by_slug[slug].recipe if slug is not None else None
        CallMapping.objects.update_or_create(
            venue=venue, said=said, defaults={"recipe": recipe, "by": by, "at": at}
        )
        place = Place.MAPPED if recipe else Place.NOT_OURS
        _merge(SalesLine.objects.called(venue, said), place, recipe)
    _tell_hours(venue, told)
    if told:
        facts = {"names": len(told)}
        log.append(venue=venue, by=by, kind="till_names_told", facts=facts, at=at)
    return len(told)


@transaction.atomic
def withdraw_sales(*, by: Membership, mix: SalesMix, at: dt.datetime) -> None:
    """An export that was the wrong one counts no longer. Its lines stay."""
    steps.refuse_other_house(by, mix)
    row = SalesMix.objects.select_for_update(no_key=True).get(pk=mix.pk)
    if row.withdrawn_at is not None:
        raise refuse("sales_out_already")
    row.withdrawn_by, row.withdrawn_at = by, at
    row.save(update_fields=["withdrawn_by", "withdrawn_at"])
    log.append(venue=by.venue, by=by, kind="sales_withdrawn", facts={"sales": row.code}, at=at)


Meanings = Mapping[str, Recipe | None]


def meanings(venue: Venue) -> Meanings:
    """What names were told to mean."""
    rows = CallMapping.objects.filter(venue=venue).select_related("recipe")
    return {row.said: row.recipe for row in rows}


@dataclass
class Counted:
    """The lines of an export added up, by name, shift and place."""

    lines: dict[tuple[str, str, Place], Decimal] = field(default_factory=dict)
    recipes: dict[str, Recipe | None] = field(default_factory=dict)
    days: set[dt.date] = field(default_factory=set)
    orders: set[tuple[dt.date | None, str]] = field(default_factory=set)
    drinks: dict[tuple[dt.date, int], Decimal] = field(default_factory=dict)
    waiting: dict[tuple[dt.date, int], dict[str, Decimal]] = field(default_factory=dict)
    begun: dict[tuple[dt.date, int], set[str]] = field(default_factory=dict)

    def line_rows(self, mix: SalesMix) -> list[SalesLine]:
        return [
            SalesLine(
                venue=mix.venue, mix=mix, said=said, shift_kind=kind, place=place,
                quantity=quantity,
                recipe=self.recipes[said] if place is Place.MAPPED else None,
            )
            for (said, kind, place), quantity in self.lines.items()
        ]  # fmt: skip

    def hour_rows(self, mix: SalesMix) -> list[OrdersByHour]:
        return [
            OrdersByHour(
                venue=mix.venue, mix=mix, day=day, hour=hour, drinks=drinks,
                orders=None if mix.orders is None else len(self.begun.get((day, hour), ())),
                waiting={s: str(q) for s, q in self.waiting.get((day, hour), {}).items()},
            )
            for (day, hour), drinks in sorted(self.drinks.items())
        ]  # fmt: skip


def _count(sheet: TillSheet, menu: Menu, told: Meanings) -> Counted:
    found, read = Counted(), dict[str, Heard]()
    begins = menu.venue.business_hour
    as_business = sheet.columns.get("date", "").casefold().startswith(BY_BUSINESS_DAY)
    seen: dict[tuple[dt.date | None, str], tuple[dt.date, int] | None] = {}
    for line in sheet.lines:
        if line.kind not in (Kind.SALE, Kind.VOID):
            continue
        said = name_of(line.item, line.size)
        if said not in found.recipes:
            read[said], found.recipes[said] = _read(said, menu, told)
        place = Place.VOID if line.kind is Kind.VOID else read[said].place
        _add(found, line, said, place, 0 if as_business else begins, begins, seen)
    return found


def _read(said: str, menu: Menu, told: Meanings) -> tuple[Heard, Recipe | None]:
    """What was told wins over what is read."""
    if said in told:
        recipe = told[said]
        return Heard(Place.MAPPED if recipe else Place.NOT_OURS), recipe
    one = heard(said, menu)
    return one, menu.by_slug[one.recipe].recipe if one.recipe else None


def _add(
    found: Counted, line: TillLine, said: str, place: Place, shifted: int, begins: int,
    seen: dict[tuple[dt.date | None, str], tuple[dt.date, int] | None],
) -> None:  # fmt: skip
    """One line into the sums; an order belongs to the hour in which its first line stands."""
    quantity = Decimal(str(line.quantity)).quantize(_CENTS)
    day = business_day(line.day, line.hour, shifted) if line.day else None
    hour = (day, line.hour) if day and line.hour is not None else None
    kind: ShiftKind | str = kind_of(*hour, begins) if hour else ""
    key = (said, str(kind), place)
    found.lines[key] = found.lines.get(key, Decimal(0)) + quantity
    if day:
        found.days.add(day)
    if place not in (Place.MAPPED, Place.WAITING, Place.UNTAUGHT):
        return
    if line.order:
        order = (day, line.order)
        found.orders.add(order)
        begun = seen.setdefault(order, hour)
        if begun:
            found.begun.setdefault(begun, set()).add(line.order)
    if hour:
        found.drinks.setdefault(hour, Decimal(0))
        if place is Place.WAITING:
            names = found.waiting.setdefault(hour, defaultdict(Decimal))
            names[said] += quantity
        else:
            found.drinks[hour] += quantity


def _print_of(sheet: TillSheet) -> str:
    """Of what the rows say, whatever the file looked like."""
    rows = [(x.item, x.size, x.quantity, x.kind, str(x.day), x.hour, x.order) for x in sheet.lines]
    return hashlib.sha256(repr(rows).encode()).hexdigest()


def _merge(rows: Iterable[SalesLine], place: Place, recipe: Recipe | None) -> None:
    """Lines of one name go to another place; two that meet there become one."""
    kept: dict[tuple[int, str], SalesLine] = {}
    for row in rows:
        first = kept.setdefault((row.mix_id, row.shift_kind), row)
        if first is not row:
            first.quantity += row.quantity
            row.delete()
    for row in kept.values():
        row.place, row.recipe = place, recipe
        row.save(update_fields=["place", "recipe", "quantity"])


def _tell_hours(venue: Venue, told: Mapping[str, str | None]) -> None:
    rows = OrdersByHour.objects.filter(venue=venue).exclude(waiting={})
    changed = [row for row in rows if row.tell(told)]
    OrdersByHour.objects.bulk_update(changed, ["drinks", "waiting"], batch_size=500)
