"""What an export came to, as values: for whoever reads on with a program."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from assessments import record_sales
from assessments.models.sales import Place
from assessments.sales import Summary
from assessments.sales_alike import as_asked
from assessments.sales_counting import Counted
from assessments.sales_preview import MOST_ROWS
from assessments.sales_reading import heard
from assessments.sales_replacing import Beside, Replaced, Replacing
from recipes.grammar.till_found import TillSheet
from recipes.grammar.till_kinds import Kind, TillLine
from recipes.menu import Menu

DIGITS = 6


def values(found: Summary, weighed: Menu) -> dict[str, Any]:
    [mix] = found.mixes
    told = record_sales.meanings(weighed.venue)
    return {
        "quantity": float(found.quantity),
        "mapped": float(found.mapped),
        "set_aside": float(found.aside),
        "drinks_mapped": float(found.drinks),
        "drinks": _drinks(found, weighed),
        "ask": [
            {
                "item": c.said,
                "quantity": float(c.quantity),
                "written": {name: float(n) for name, n in c.written},
                "did_you_mean": list(one.proposed),
                "tells_of": one.each or None,
            }
            for c in as_asked(
                [(w.said, w.quantity) for w in found.places[Place.WAITING]], weighed, told
            )
            for one in [heard(c.said, weighed, told)]
        ],
        "read": [
            {"item": c.said, "drink": c.recipe, "quantity": float(c.quantity), "each": c.each}
            for c in found.places[Place.MAPPED]
        ],
        "sold_not_taught": _names(found, Place.UNTAUGHT),
        "taught_not_sold": [item.drink.slug for item in found.never_sold],
        "not_ours": _names(found, Place.NOT_OURS),
        "voided": _names(found, Place.VOID),
        "without_a_name": float(found.sum_of(Place.NAMELESS)),
        "ahead": _names(found, Place.AHEAD),
        "rows_unreadable": found.unreadable,
        "rows_of_totals": found.totals,
        "first_day": mix.first_day.isoformat() if mix.first_day else None,
        "last_day": mix.last_day.isoformat() if mix.last_day else None,
        "orders": found.orders.orders if found.orders else None,
        "orders_told": found.orders.told if found.orders else None,
        "orders_of_waiting_names": found.orders.waiting if found.orders else None,
        "drinks_per_order": _rounded(found.drinks_an_order),
    }


def _drinks(found: Summary, weighed: Menu) -> list[dict[str, Any]]:
    sold: dict[str, Decimal] = {}
    for called in found.places[Place.MAPPED]:
        sold[called.recipe] = sold.get(called.recipe, Decimal(0)) + called.quantity * called.each
    shares = {item.drink.slug: item.drink.share for item in weighed.items}
    return [
        {"drink": slug, "quantity": float(n), "share": _rounded(shares.get(slug, 0.0))}
        for slug, n in sorted(sold.items(), key=lambda pair: (-pair[1], pair[0]))
    ]


def _names(found: Summary, place: Place) -> list[dict[str, Any]]:
    return [{"item": c.said, "quantity": float(c.quantity)} for c in found.places[place]]


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, DIGITS)


def read_values(sheet: TillSheet, counted: Counted, replaces: Replacing) -> dict[str, Any]:
    """How the file was read, and what it replaces."""
    return {
        "below_zero": {name: float(n) for name, n in counted.below_zero().items()},
        "beyond": {name: float(n) for name, n in counted.beyond().items()},
        "replaced": [_replaced(one) for one in replaces.replaced],
        "may_count_twice": [_beside(one) for one in replaces.beside],
        "not_counting": float(replaces.outdone),
        "columns": dict(sheet.columns),
        "columns_taken_off_too": list(sheet.also_off),
        "columns_unused": list(sheet.ignored),
        "unreadable": [_unreadable(row) for row in sheet.of(Kind.UNREADABLE)[:MOST_ROWS]],
        "not_adding_up": [
            {"row": x.line, "item": x.item, "columns": x.parts, "total": x.whole}
            for x in sheet.unequal
        ],
    }


def _unreadable(row: TillLine) -> dict[str, Any]:
    return {"row": row.line, "item": row.item, "quantity": row.figure}


def _replaced(one: Replaced) -> dict[str, Any]:
    return {
        "export": one.mix.code,
        "taken_in": one.mix.at.isoformat(),
        "days": [day.isoformat() for day in one.days],
        "quantity": float(one.quantity),
        "all_of_it": one.all_of_it,
    }


def _beside(one: Beside) -> dict[str, Any]:
    return {
        "export": one.mix.code,
        "taken_in": one.mix.at.isoformat(),
        "names": one.names,
        "quantity": float(one.sold),
    }
