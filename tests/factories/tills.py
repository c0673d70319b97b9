"""Exports of three invented tills, of different shapes, and houses that took one in."""

from __future__ import annotations

import datetime as dt
import io

import openpyxl

from assessments import record_sales
from assessments.models import SalesMix
from barcourse.people.models import Membership
from recipes.grammar.till_found import TillSheet
from recipes.grammar.till_sheet import read_till
from recipes.menu import menu_at
from tests.factories.assessments import NOW

REPORT = """\ufeffProduct mix,,,
From 2 March to 8 March,,,
,,,
PLU,Menu Item,Qty Sold,Net Sales
101,101 - Gin Tonic,"1,204","9,632.00"
102,GIN TONIC DBL,96,"1,152.00"
205,Margarita (HH),310,"2,790.00"
206,Marg Lge,(10),-120.00
310,Beer,450,"2,700.00"
400,Burger,88,"1,056.00"
511,Tequila & Soda,64,512.00
,Mojto,40,400.00
,Total,"2,242","18,122.00"
"""
"""One row an article, thousands with commas, a title above and a total below; no days."""

NIGHTS = (
    "Artikel;Größe;Menge;Datum;Stunde\r\n"
    "Draught Lager;0,5 l;120,0;06.03.2026;22\r\n"
    "Draught Lager;0,3 l;30,0;07.03.2026;1\r\n"
    "Draught Lager;0,5 l;-2,0;07.03.2026;1\r\n"
    "Negroni;;1,0;27.02.2026;21\r\n"
    "Negroni;;24,0;06.03.2026;19\r\n"
    "Crème Brûlée;;7,0;06.03.2026;19\r\n"
    "Summe;;180,0;;\r\n"
).encode("cp1252")
"""By hour, with semicolons, decimal commas and the letters of older programs; a return."""


def _at(day: int, hour: int, minute: int) -> dt.datetime:
    """On the till's own clock, which knows no time zone."""
    return dt.datetime.combine(dt.date(2026, 3, day), dt.time(hour, minute))


_CHECKS = (
    ("Check #", "Opened", "Item", "Qty", "Status"),
    (7001, _at(6, 23, 5), "Gin Tonic", 2, "Paid"),
    (7001, _at(6, 23, 5), "Cape codder", 1, "Paid"),
    (7002, _at(6, 23, 40), "Madras", 1, "Voided"),
    (7002, _at(6, 23, 41), "Madras", 3, "Paid"),
    (7003, _at(7, 0, 20), "Lager", 2, "Paid"),
    (7004, _at(7, 0, 30), "Negroni", 1, "Refund"),
    (7005, _at(7, 0, 30), "Negroni", 2, "Paid"),
)


def checks() -> bytes:
    """A workbook with a row a line of a check, as it was opened; voids and a refund."""
    book, out = openpyxl.Workbook(), io.BytesIO()
    for row in _CHECKS:
        book.active.append(row)
    book.save(out)
    return out.getvalue()


def sheet(text: str = REPORT) -> TillSheet:
    return read_till(text)


def take_in(
    by: Membership, text: str = REPORT, *, at: dt.datetime = NOW, instead: bool = False
) -> SalesMix:
    menu, till = menu_at(by.venue, at), sheet(text)
    return record_sales.import_sales(
        by=by, sheet=till, menu=menu, at=at, instead=instead, beside=not instead
    )


def rows(*lines: str) -> str:
    """A plain export: "Gin Tonic,3"."""
    return "\n".join(("item,quantity", *lines))
