"""Orders and drinks by hour, and how they follow what names mean."""

import datetime as dt
from decimal import Decimal

import pytest

from assessments import record_sales, sales
from assessments.measures.sales_mix import ShiftKind
from assessments.models import OrdersByHour, SalesDay, SalesMix, SalesReceipts
from assessments.models.sales import Place
from assessments.sales_in_force import only
from assessments.sales_orders import orders_of
from assessments.sales_receipts import Orders
from recipes.grammar.till_sheet import read_till, till_of
from recipes.importing import received
from tests.assessments.sold import names, summary, tell
from tests.factories.assessments import LATER, NOW, menu_of
from tests.factories.tills import NIGHTS, checks, rows, take_in


def test_hours_past_midnight_belong_to_the_evening_before(marek):
    take_in(marek, NIGHTS.decode("cp1252"))
    mix = SalesMix.objects.get()
    late = sales.hours(marek.venue, only(mix), ShiftKind.WEEKEND_LATE)

    assert (mix.first_day, mix.last_day) == (dt.date(2026, 2, 27), dt.date(2026, 3, 6))
    assert [(h.hour, h.orders, h.drinks) for h in late] == [(22, None, 120.0), (1, None, 28.0)]


def test_orders_are_told_apart_by_their_checks(marek):
    sheet = till_of(received(checks()).rows)
    mix = record_sales.import_sales(by=marek, sheet=sheet, menu=menu_of(marek), at=NOW)
    found = summary(marek)

    assert mix.orders == 4  # the refund is none
    assert names(found, Place.VOID) == {"madras": 1}
    assert found.drinks_an_order == pytest.approx((3 + 3 + 2) / 3)  # the lager waits
    hours = sales.hours(marek.venue, only(mix), ShiftKind.WEEKEND_LATE)
    assert [(h.hour, h.orders, h.drinks) for h in hours] == [(23, 2.0, 6.0), (0, 2.0, 1.0)]


WAITS = (
    "item,qty,date,hour,check\n"
    "Madras,3,2026-03-06,22,1\nZwetschge,1,2026-03-06,23,2\nZwetschge,2,2026-03-06,23,3\n"
    "Madras,1,2026-03-06,23,3\nBurger,1,2026-03-06,23,4\n"
)


def seen(marek):
    """Orders of the whole export, its one day and both hours; those told, their drinks, those of
    nothing but what waits."""
    mix, orders = SalesMix.objects.get(), summary(marek).orders
    [day] = mix.days.values_list("orders", flat=True)
    hours = [row.orders for row in OrdersByHour.objects.order_by("hour")]
    shown = sales.hours(marek.venue, only(mix), ShiftKind.WEEKEND_LATE)
    assert [hour.orders for hour in shown] == hours
    assert (mix.orders, day, orders.orders) == (sum(hours), sum(hours), sum(hours))
    return hours, (orders.told, orders.drinks, orders.waiting)


def test_orders_follow_what_is_told(marek):
    take_in(marek, WAITS)
    assert seen(marek) == ([1, 3], (1, 3, 2))
    tell(marek, burger=None)  # salted nuts and burgers are no orders of drinks
    assert seen(marek) == ([1, 2], (1, 3, 1))
    tell(marek, zwetschge="negroni")
    assert seen(marek) == ([1, 2], (3, 7, 0))
    tell(marek, zwetschge=None)
    assert seen(marek) == ([1, 1], (2, 4, 0))
    tell(marek, madras=None)
    assert seen(marek) == ([0, 0], (0, 0, 0))
    for name in ("madras", "zwetschge", "burger"):
        tell(marek, **{name: record_sales.FORGET})
    assert seen(marek) == ([1, 3], (1, 3, 2))


@pytest.mark.parametrize("head", ["item,qty,date,check", "item,qty,check"])
def test_orders_without_hours_or_days_follow_too(marek, head):
    day = ",2026-03-06" if "date" in head else ""
    take_in(marek, f"{head}\nMadras,3{day},1\nZwetschge,1{day},2\n")
    was = summary(marek).orders
    tell(marek, zwetschge=None)
    now = summary(marek).orders

    assert ((was.orders, was.waiting), (now.orders, now.waiting)) == ((2, 1), (1, 0))
    assert SalesMix.objects.get().orders == SalesDay.objects.get().orders == 1


def test_what_is_told_before_and_after_counts_alike(marek):
    take_in(marek, WAITS)
    tell(marek, burger=None, zwetschge="negroni")
    after = seen(marek)
    record_sales.withdraw_sales(by=marek, mix=SalesMix.objects.get(), at=LATER)
    before = record_sales.import_sales(
        by=marek, sheet=read_till(WAITS), menu=menu_of(marek), at=LATER
    )

    rows = before.hours.order_by("hour").values_list("orders", flat=True)
    assert ([*rows], orders_of(only(before)).told) == (after[0], after[1][0])


def test_orders_of_before_receipts_were_kept(marek):
    """They tell drinks an order where nothing waits, and are said to stay as they were."""
    mix = take_in(marek, WAITS)
    SalesReceipts.objects.all().delete()
    assert (summary(marek).orders, summary(marek).drinks_an_order) == (Orders(4, unknown=4), None)

    assert tell(marek, zwetschge="negroni").hours_left == ()  # it made orders before
    assert tell(marek, burger=None).hours_left == (mix,)
    assert summary(marek).orders == Orders(4, 4, Decimal(7))


def test_a_receipt_that_only_takes_back_is_no_order(marek):
    take_in(
        marek,
        "item,qty,date,hour,check\nMadras,3,2026-03-06,23,1\nMadras,-1,2026-03-06,23,2\n"
        "Negroni,-1,2026-03-06,21,3\nNegroni,2,2026-03-06,22,3\n",
    )
    mix = SalesMix.objects.get()
    late = sales.hours(marek.venue, only(mix), ShiftKind.WEEKEND_LATE)

    assert mix.orders == 2
    assert [(h.hour, h.orders, h.drinks) for h in late] == [(22, 1.0, 2.0), (23, 1.0, 2.0)]


@pytest.mark.parametrize(
    ("lines", "orders"),
    [
        ("Madras,1,{d},23,1|Madras,-1,{d},23,1", []),  # all of it voided
        ("Madras,-1,{d},23,1|Madras,1,{d},23,1", []),  # whichever stands first
        ("Madras,2,{d},23,1|Madras,-1,{d},23,1", [(23, 1.0)]),
        ("Madras,1,{d},23,1|Madras,-1,{d},23,1|Negroni,1,{d},22,1", [(22, 0.0), (23, 1.0)]),
        ("Madras,1,{d},23,1|Negroni,-1,{d},23,1", [(23, 1.0)]),
        ("Madras DBL,1,{d},23,1|Madras,-1,{d},23,1", []),  # one drink under two names
        ("Beer,1,{d},23,1|Beer,-1,{d},23,1", []),  # what waits to be told
        ("Madras,1,{d},23,1|Madras,-1,{d},22,1|Madras,1,{d},22,2", [(22, 1.0), (23, 0.0)]),
        ("Madras,0.1,{d},23,1|Madras,0.2,{d},23,1|Madras,-0.3,{d},23,1", []),
    ],
)
def test_an_order_is_a_receipt_on_which_something_is_left(marek, lines, orders):
    body = lines.replace("{d}", "2026-03-06").replace("|", "\n")
    take_in(marek, f"item,qty,date,hour,check\n{body}\nNegroni,1,2026-03-05,20,9\n")
    mix = SalesMix.objects.get()
    late = sales.hours(marek.venue, only(mix), ShiftKind.WEEKEND_LATE)

    assert mix.orders == 1 + sum(n for _hour, n in orders)
    assert [(h.hour, h.orders) for h in late] == (orders or [(23, 0.0)])


def test_what_waits_counts_in_its_hour_once_it_is_told(marek):
    sheet = till_of(received(checks()).rows)
    record_sales.import_sales(by=marek, sheet=sheet, menu=menu_of(marek), at=NOW)
    tell(marek, lager="draught-lager")

    row = OrdersByHour.objects.get(hour=0)
    assert (row.drinks, row.waiting) == (Decimal(3), {})


def test_hours_follow_what_a_name_is_told_to_mean(marek):
    take_in(marek, "item,qty,date,hour\nBeer,3,2026-03-06,20\nMadras,1,2026-03-06,20\n")

    def drinks():
        return OrdersByHour.objects.get().drinks

    seen = [drinks()]
    for meant in ("draught-lager", None, "bottled-lager", record_sales.FORGET, "draught-lager"):
        tell(marek, beer=meant)
        seen.append(drinks())
    assert seen == [1, 4, 1, 4, 1, 4]


HOURLY = "item,qty,date,hour\nMadras,3,2026-03-06,20\nNegroni,1,2026-03-06,20\n"


def test_hours_follow_a_name_that_was_read_and_is_told(marek):
    take_in(marek, HOURLY)
    seen = []
    for meant in (None, "negroni", record_sales.FORGET, None):
        assert tell(marek, madras=meant).hours_left == ()
        seen.append(OrdersByHour.objects.get().drinks)

    assert seen == [1, 4, 4, 1]


def test_hours_of_before_names_were_kept_by_hour_are_said_to_stay(marek):
    mix = take_in(marek, HOURLY)
    take_in(marek, rows("Madras,5"), at=LATER)
    OrdersByHour.objects.update(told={})

    assert tell(marek, madras="negroni").hours_left == ()  # a drink as before
    assert tell(marek, madras=None).hours_left == (mix,)
    assert OrdersByHour.objects.get().drinks == 4
