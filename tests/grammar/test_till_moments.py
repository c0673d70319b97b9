"""Columns of a till's export that say when something was ordered or paid."""

import datetime as dt

import pytest

from recipes.grammar.till_moments import is_moment
from recipes.grammar.till_sheet import read_till

D20, D21 = dt.date(2026, 11, 20), dt.date(2026, 11, 21)
BEFORE, AFTER = "2026-11-20 23:55", "2026-11-21 00:20"


def read(head, *cells, **said):
    row = ",".join(("Madras", "2", *cells))
    found = read_till(f"item,qty,{head}\n{row}\n{row}\n", **said)
    return found, (found.lines[0].day, found.lines[0].hour)


@pytest.mark.parametrize(
    "name",
    ["Closed at", "Opened at", "Paid at", "Order time", "CLOSED_AT", "Created", "Check opened",
     "Time closed", "Payment time", "Ordered on", "Bezahlt um"],
)  # fmt: skip
def test_headings_of_that_kind(name):
    assert is_moment(name.replace("_", " "))
    assert not is_moment(f"{name.replace('_', ' ')} by")


@pytest.mark.parametrize(
    "name", ["Closed at", "Opened at", "Paid at", "Order time", "Closed", "Opened"]
)
@pytest.mark.parametrize(
    ("cell", "when"),
    [
        (AFTER, (D21, 0)),
        ("21.11.2026 0:20", (D21, 0)),
        ("23:55", (None, 23)),
        ("11:55 PM", (None, 23)),
        ("9 pm", (None, 21)),
    ],
)
def test_the_only_one_tells_the_hour_and_the_day_if_it_has_one(name, cell, when):
    found, moment = read(name, cell)

    assert moment == when
    assert found.lines[0].unread == found.other_moments == found.ignored == ()


@pytest.mark.parametrize("cell", ["9.50", "12.00", "yes", "17", "", "8,50"])
def test_paid_that_is_money_or_a_mark_is_no_moment(cell):
    found, moment = read("Paid", cell)

    assert (moment, "hour" in found.columns) == ((None, None), False)


TWO = [
    # headings, cells, when it was sold, the columns taken, those left
    ("Closed at,Opened at", (AFTER, BEFORE), (D20, 23), {"Opened at"}, ("Closed at",)),
    ("Paid at,Order time", (AFTER, BEFORE), (D20, 23), {"Order time"}, ("Paid at",)),
    ("Opened,Order time", (BEFORE, AFTER), (D21, 0), {"Order time"}, ("Opened",)),
    ("Opened,Closed at", (BEFORE, AFTER), (D20, 23), {"Opened"}, ("Closed at",)),
    ("Closed at,Opened at", (AFTER, "23:55"), (D21, 0), {"Closed at"}, ("Opened at",)),
    ("Date,Closed at,Opened at", ("2026-11-20", "0:20", "23:55"), (D20, 23),
     {"Date", "Opened at"}, ("Closed at",)),
    ("Date,Closed at", ("2026-11-20", AFTER), (D21, 0), {"Closed at"}, ()),
    ("Date,Closed at", (BEFORE, AFTER), (D20, 23), {"Date"}, ()),
    ("Date,Hour,Closed at", ("2026-11-20", "23", "0:20"), (D20, 23), {"Date", "Hour"}, ()),
    ("Business date,Closed at", ("2026-11-20", AFTER), (D20, 0),
     {"Business date", "Closed at"}, ()),
    ("Opened at,Closed at", ("30/12/1899 23:55", AFTER), (D21, 0), {"Closed at"}, ()),
    ("Opened at,Paid", (BEFORE, "9.50"), (D20, 23), {"Opened at"}, ()),
]  # fmt: skip


@pytest.mark.parametrize(("head", "cells", "when", "taken", "left"), TWO)
def test_ordering_beats_paying_and_a_day_with_its_hour_one_without(head, cells, when, taken, left):
    found, moment = read(head, *cells)

    assert moment == when
    assert {found.columns[what] for what in ("date", "hour") if what in found.columns} == taken
    assert found.other_moments == left


def test_what_somebody_chose_is_taken():
    found, moment = read("Closed at,Opened at", AFTER, BEFORE, chosen={"date": "Closed at"})

    assert (moment, found.other_moments) == ((D21, 0), ("Opened at",))


@pytest.mark.parametrize(
    ("cells", "hours"),
    [
        (["0.9375"], [22]),
        (["0,9375", ""], [22, None]),
        (["0.75", "0.25"], [18, 6]),  # no clock has 75 minutes
        (["0.5", "0", ".999"], [12, 0, 23]),
        (["0.25", "0.50"], [0, 0]),  # a quarter and a half past midnight
        (["22.5", "0.5"], [22, 0]),  # an hour of the clock beside it
        (["1", "0"], [1, 0]),
    ],
)
def test_shares_of_a_day_are_hours(cells, hours):
    rows = "".join(f'Madras,3,"{cell}"\n' for cell in cells)

    assert [line.hour for line in read_till(f"item,qty,hour\n{rows}").lines] == hours
