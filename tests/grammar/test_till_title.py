"""A day that stands in a row above the heading, where no row tells its own."""

import datetime as dt

import pytest

from recipes.grammar.till_kinds import Kind
from recipes.grammar.till_sheet import read_till

BODY = "\nItem,Qty\nMadras,3\nTotal,3\n"
DAY = dt.date(2026, 11, 25)


def day_of(title, **said):
    [sale] = read_till(title + BODY, **said).of(Kind.SALE)
    return sale.day


@pytest.mark.parametrize(
    "title",
    [
        '"Sales of, 11/25/2026"',
        "Sales of,11/25/2026",
        "Period: 25 Nov 2026 - 25 Nov 2026",
        "From 25.11.2026 to 25.11.2026",
        "2026-11-25",
        "Business date,2026-11-25 00:00:00",
        '"Product mix, Nov 25, 2026"',
        '"Wednesday, November 25th, 2026"',
        "Bar report\n\nDate:,25-Nov-2026,,Printed:,26-Nov-2026 01:10",
        "Date: 25 Nov 2026\nPrinted 26 Nov 2026 01:10",
        "Bar 2,25/11/2026 17:00",
    ],
)
def test_one_day_above_the_rows_is_theirs(title):
    assert day_of(title) == DAY


@pytest.mark.parametrize(
    "title",
    [
        "Period: 24 Nov 2026 - 25 Nov 2026",
        "From 2 March to 8 March 2026",
        "1-7 Nov 2026",
        '"Nov 1-7, 2026"',
        '"Nov 1 - Nov 7, 2026"',
        "7 & 8 Nov 2026",
        "24/11 to 25/11/2026",
        "Week ending 25 Nov 2026",
        "Since 25 Nov 2026",
        "25 Nov 2026 \u2013",
        "25 Nov 2026 to now",
        "Month to 25 Nov 2026",
        "Printed 25 Nov 2026 01:10",
        "Generated on 2026-11-25",
        "25 Nov 2026\n26 Nov 2026",
        "31 Feb 2026",
        "November 2026",
        "25 Nov",
        "Till 3",
        "",
    ],
)
def test_a_period_or_no_day_is_not_guessed(title):
    found = read_till(title + BODY)

    assert found.title is None
    assert {line.day for line in found.lines} == {None}


def test_which_row_and_how_it_was_read_is_told():
    found = read_till("Product mix\nSales of,03/04/2026\nItem,Qty\nMadras,3\n", month_first=True)

    assert (found.title.row, found.title.said) == (2, "Sales of | 03/04/2026")
    assert found.title.day == dt.date(2026, 3, 4)
    assert found.columns["date"] == found.title.said
    [doubt] = found.doubts
    assert (doubt.said, doubt.by_house) == ("03/04/2026", True)
    assert day_of("Sales of,03/04/2026") == dt.date(2026, 4, 3)


def test_days_of_the_rows_win():
    found = read_till("Printed for 25 Nov 2026\nItem,Qty,Date\nMadras,3,2026-11-24\n")

    assert [line.day for line in found.lines] == [dt.date(2026, 11, 24)]
    assert found.title is None


def test_somebody_may_choose_that_there_is_none():
    text = "Sales of 25 Nov 2026" + BODY
    found = read_till(text, chosen={"date": ""})

    assert {line.day for line in found.lines} == {None}
    assert (found.title.day, found.has_title_day) == (DAY, False)
    again = read_till(text, chosen={"date": found.title.said})
    assert (again.has_title_day, {line.day for line in again.lines}) == (True, {DAY})


def test_sizes_side_by_side_have_it_too():
    found = read_till("Sales of 25 Nov 2026\nItem,Single,Double\nMadras,3,1\n")

    assert {(line.size, line.day) for line in found.lines} == {("Single", DAY), ("Double", DAY)}
