"""Exports: which count, which replace which, which are taken back."""

import datetime as dt

import pytest

from assessments import record_sales
from assessments.models import SalesDay, SalesLine, SalesMix
from assessments.models.sales import Place
from assessments.sales_in_force import in_force
from assessments.sales_words import export_name
from barcourse.people import log
from barcourse.people.reasons import Refused
from barcourse.people.templatetags.house import house_moment
from tests.assessments.sold import names, summary, tell
from tests.factories.assessments import LATER, NOW, menu_of
from tests.factories.tills import rows, take_in


def test_the_same_sales_count_once_however_the_file_looks(marek):
    take_in(marek, rows("Madras,3"))
    with pytest.raises(Refused, match="sales_in_already"):
        take_in(marek, "item;quantity\nMadras;3,0\n")


def test_without_a_sale_nothing_is_taken_in(marek):
    with pytest.raises(Refused, match="no_sales_in_it"):
        take_in(marek, rows("Total,3"))

    assert SalesMix.objects.count() == 0


def test_a_newer_export_of_the_same_days_takes_the_place_of_the_older(marek):
    week = "item,qty,date\nMadras,{},2026-03-0{}\n"
    take_in(marek, week.format(5, 2))
    take_in(marek, week.format(7, 3), at=NOW + dt.timedelta(minutes=1))
    take_in(marek, week.format(9, 2), at=NOW + dt.timedelta(minutes=2))

    assert summary(marek).mapped == 16


def test_an_older_export_keeps_its_other_days(marek):
    week = "item,qty,date\nMadras,{},2026-03-0{}\nMadras,{},2026-03-0{}\n"
    take_in(marek, week.format(5, 2, 7, 3))
    newer = take_in(marek, week.format(9, 3, 1, 4), at=NOW + dt.timedelta(minutes=1))
    assert summary(marek).quantity == summary(marek).mapped == 5 + 9 + 1

    record_sales.withdraw_sales(by=marek, mix=newer, at=LATER)
    assert summary(marek).mapped == 12


def test_two_halves_of_an_evening_add_up(marek):
    half = "item,qty,date,hour,check\nMadras,{},2026-03-0{},{},{}\n"
    take_in(marek, half.format(5, 6, 23, 1))
    take_in(marek, half.format(2, 7, 0, 2), at=NOW + dt.timedelta(minutes=1))
    found = summary(marek)
    assert (found.mapped, found.orders.orders) == (7, 2)

    take_in(marek, half.format(3, 6, 23, 9), at=NOW + dt.timedelta(minutes=2))
    assert summary(marek).mapped == 5


def test_an_export_of_before_days_were_kept_counts_as_a_whole(marek):
    week = "item,qty,date\nMadras,{},2026-03-0{}\nMadras,{},2026-03-0{}\n"
    old = take_in(marek, week.format(5, 1, 7, 4))
    SalesDay.objects.filter(mix=old).exclude(day="2026-03-01").delete()
    SalesDay.objects.filter(mix=old).update(day=None, quantity=12)
    SalesLine.objects.filter(mix=old).exclude(day="2026-03-01").update(day=None)
    SalesMix.objects.filter(pk=old.pk).update(days_kept=False)
    assert summary(marek).mapped == 12

    take_in(marek, week.format(1, 2, 1, 3), at=LATER)
    assert summary(marek).mapped == 2


def test_rows_of_days_to_come_are_set_aside(marek):
    take_in(marek, "item,qty,date\nMadras,3,2026-03-06\nBeer,2,2026-03-08\n")
    found = summary(marek)

    assert (found.quantity, found.mapped, names(found, Place.AHEAD)) == (5, 3, {"beer": 2})
    tell_nothing = record_sales.tell_names(by=marek, told={}, menu=menu_of(marek), at=LATER)
    assert tell_nothing.names == 0
    with pytest.raises(Refused, match="sales_ahead"):
        take_in(marek, "item,qty,date\nBeer,2,2026-03-08\n")


def test_an_export_taken_back_counts_no_longer_and_may_come_again(marek):
    mix = take_in(marek)
    record_sales.withdraw_sales(by=marek, mix=mix, at=LATER)

    assert not in_force(marek.venue, LATER)
    with pytest.raises(Refused, match="sales_out_already"):
        record_sales.withdraw_sales(by=marek, mix=mix, at=LATER)
    assert take_in(marek, at=LATER).pk != mix.pk


def test_it_stands_in_the_log(marek):
    mix = take_in(marek)
    tell(marek, beer="draught-lager")
    record_sales.withdraw_sales(by=marek, mix=mix, at=LATER)

    kinds = [e.kind for e in marek.venue.log_entries.order_by("number")][-3:]
    assert kinds == ["sales_imported", "till_names_told", "sales_withdrawn"]
    assert log.check(marek.venue) == []


HOURS, BARE = "item,qty,date,hour\n", "item,qty,date\n"


@pytest.mark.parametrize(
    ("older", "newer", "queries"),
    [
        (f"{BARE}Madras,5,2026-03-02\n", f"{BARE}Madras,6,2026-03-02\n", 2),
        (f"{HOURS}Madras,5,2026-03-02,20\n", f"{HOURS}Madras,6,2026-03-03,20\n", 2),
        (f"{BARE}Madras,5,2026-03-02\n", f"{HOURS}Madras,6,2026-03-02,20\n", 2),
        (f"{HOURS}Madras,5,2026-03-02,20\n", f"{HOURS}Madras,6,2026-03-02,20\n", 3),
    ],
)
def test_hours_are_asked_only_where_they_decide(
    marek, django_assert_num_queries, older, newer, queries
):
    take_in(marek, older)
    take_in(marek, newer, at=NOW + dt.timedelta(minutes=1))

    with django_assert_num_queries(queries):
        in_force(marek.venue, LATER)


def test_many_exports_of_one_day_are_as_many_queries_and_a_row_each(
    marek, django_assert_num_queries
):
    for n in range(4):
        body = "".join(f"Madras,{n + 1},2026-03-02,{hour}\n" for hour in range(12, 20 + n))
        take_in(marek, HOURS + body, at=NOW + dt.timedelta(minutes=n))

    with django_assert_num_queries(3) as asked:
        found = in_force(marek.venue, LATER)
    assert found.quantity() == 4 * 11
    assert "GROUP BY" in asked.captured_queries[2]["sql"]


def test_another_house_sees_nothing_of_it(marek, ravna):
    take_in(marek)

    assert not in_force(ravna.venue, LATER)
    with pytest.raises(Refused, match="other_house"):
        record_sales.withdraw_sales(by=ravna, mix=SalesMix.objects.get(), at=LATER)


def test_after_midnight_it_came_on_the_evening_before_in_every_sentence(marek):
    """As the list of exports tells it."""
    night = dt.datetime(2026, 3, 7, 1, 30, tzinfo=dt.UTC)  # Lisbon's clock shows the same
    mix = take_in(marek, rows("Madras,3"), at=night)

    with pytest.raises(Refused) as met:
        take_in(marek, rows("Madras,3"), at=night)

    assert met.value.reason.param("day") == "March 6, 2026"
    assert export_name(mix) == "taken in on March 6, 2026"
    assert house_moment(mix.at, mix.venue).startswith("March 6, 2026, 1:30 a.m. after midnight")
