"""A day in the title of a till's export, as the page proposes it."""

import datetime as dt

import pytest

from assessments.models import OrdersByHour, SalesMix
from tests.assessments.pages import address, fields, text
from tests.assessments.till_pages import send_file, take_as_shown

DATA = "Product mix\nSales of,3/6/2026\nItem,Qty\nMadras,3\n"


@pytest.fixture
def take(odalys):
    return address(odalys, "sales_take")


def test_it_is_said_from_which_row_and_taken_in_so(visit, marek, take):
    shown, _taken = take_as_shown(visit(marek), take, DATA)

    said = text(shown)
    assert (
        "No row tells its day. Row 2 does for all of them, “Sales of | 3/6/2026”: they count as "
        "sold on March 6, 2026. If that isn't so, pick “none” for the day" in said
    )
    assert "“3/6/2026” is read as March 6, 2026, as your country writes it." in said
    assert SalesMix.objects.get().first_day == dt.date(2026, 3, 6)


def test_whoever_picks_none_has_no_day_and_may_pick_it_again(visit, marek, take):
    browser = visit(marek)
    shown = send_file(browser, take, DATA)
    none = {**fields(shown, take), "column-date": ""}
    look = browser.send(take, {k: v for k, v in none.items() if k != "take"})

    assert "It tells no days." in text(look)
    assert "No row tells its day" not in text(look)
    assert "Sales of | 3/6/2026" in look.content.decode()
    browser.send(take, {**fields(look, take), "take": "1"})
    assert SalesMix.objects.get().first_day is None


def test_hours_past_midnight_are_of_that_evening(visit, marek, take):
    data = "Sales of 6 March 2026\nItem,Qty,Hour\nMadras,3,23\nMadras,1,1\n"
    take_as_shown(visit(marek), take, data)

    assert {row.day for row in OrdersByHour.objects.all()} == {dt.date(2026, 3, 6)}
