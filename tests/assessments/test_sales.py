"""What the till sold, taken in: what becomes of each line, what names mean, what it weighs."""

import datetime as dt
from decimal import Decimal

import pytest

from assessments import board, record_sales, sales
from assessments.measures.sales_mix import ShiftKind
from assessments.models import CallMapping, OrdersByHour, SalesDay, SalesLine, SalesMix
from assessments.models.sales import Place
from assessments.sales_in_force import in_force, only
from assessments.sales_reading import heard, name_of
from assessments.sales_words import amount
from barcourse.people import log
from barcourse.people.reasons import Refused
from recipes.grammar.till_sheet import till_of
from recipes.importing import received
from recipes.menu import menu_at
from tests.factories.assessments import LATER, NOW, menu_of
from tests.factories.tills import NIGHTS, checks, rows, take_in

DAY = dt.timedelta(days=1)


def summary(member, at=LATER):
    menu = menu_at(member.venue, at)
    return sales.summary(menu, in_force(member.venue, at))


def names(found, place):
    return {c.said: c.quantity for c in found.places[place]}


def tell(by, **told):
    return record_sales.tell_names(by=by, told=told, menu=menu_of(by), at=LATER)


def test_what_comes_in_is_what_is_mapped_and_what_is_set_aside(marek):
    take_in(marek)
    found = summary(marek)

    assert found.quantity == found.mapped + found.aside == 1204 + 96 + 310 - 10 + 450 + 88 + 64 + 40
    assert found.totals == 1
    assert names(found, Place.WAITING) == {"beer": 450, "burger": 88}
    assert names(found, Place.UNTAUGHT) == {"tequila & soda": 64}


def test_sizes_of_one_drink_are_one_drink_and_a_return_takes_off(marek):
    take_in(marek)
    sold = {c.said: (c.recipe, c.quantity) for c in summary(marek).places[Place.MAPPED]}

    assert sold["gin tonic"] == ("gin-tonic", 1204)
    assert sold["gin tonic double"] == ("gin-tonic", 96)
    assert sold["marg"] == ("margarita", -10)


def test_a_question_of_identity_blocks_and_one_of_service_does_not(marek):
    menu = menu_of(marek)
    beer, double = heard("beer", menu), heard("gin tonic double", menu)

    assert (beer.place, beer.slug) == (Place.WAITING, None)
    assert beer.proposed[0] == "draught-lager"
    assert (double.place, double.slug) == (Place.MAPPED, "gin-tonic")
    assert heard("mojto", menu).read_as == (("mojto", "mojito"),)
    assert heard("burger", menu).proposed == ()


def test_what_is_only_guessed_is_offered_and_not_picked(marek):
    menu = menu_of(marek)
    guess, asked = heard("sunrise special cooler", menu), heard("lager", menu)

    assert (guess.proposed[0], guess.likely) == ("tequila-sunrise", False)
    assert asked.likely


@pytest.mark.parametrize("item", ["1/2 pt Lager", "½ pint lager", "Draught Lager 1/2"])
def test_half_a_pint_is_a_size_of_its_beer(marek, item):
    one = heard(name_of(item), menu_of(marek))

    assert (one.slug or one.proposed[0]) == "draught-lager"


def test_what_shares_words_is_offered_first_then_what_sells(marek):
    proposed = heard("vodka crambleberry", menu_of(marek)).proposed
    assert set(proposed[:2]) == {"vodka-tonic", "vodka-soda"}
    assert "cape-codder" in proposed[2:]  # poured from vodka, and sold most of those


@pytest.mark.parametrize(
    ("n", "said"),
    [("1217.000", "1217"), ("1217.04", "1217.04"), ("2.5", "2.5"), ("0.000", "0"), ("-3", "-3"),
     ("100", "100")],
)  # fmt: skip
def test_counts_are_said_alike(n, said):
    assert amount(Decimal(n)) == said


def test_a_name_told_once_sticks(marek):
    take_in(marek)
    tell(marek, beer="draught-lager", burger=None)
    found = summary(marek)

    assert names(found, Place.WAITING) == {}
    assert names(found, Place.NOT_OURS) == {"burger": 88}
    assert found.quantity == found.mapped + found.aside

    take_in(marek, rows("Beer,9", "Burger,2", "Madras,1"), at=LATER, instead=True)
    assert summary(marek, LATER + DAY).mapped == 10
    assert CallMapping.objects.count() == 2


def test_a_name_told_otherwise_moves_what_was_taken_in(marek):
    take_in(marek)
    tell(marek, beer="draught-lager")
    tell(marek, beer="bottled-lager")

    sold = {c.said: c.recipe for c in summary(marek).places[Place.MAPPED]}
    assert sold["beer"] == "bottled-lager"


def test_taught_and_never_sold_is_listed(marek):
    take_in(marek)
    slugs = {item.drink.slug for item in summary(marek).never_sold}

    assert {"negroni", "daiquiri"} <= slugs
    assert not {"gin-tonic", "margarita", "mojito"} & slugs


def test_shares_follow_the_till_and_nothing_is_worth_nothing(marek):
    before = sales.shares(marek.venue, at=LATER)
    take_in(marek)
    after = sales.shares(marek.venue, at=LATER)

    assert sum(after.values()) == pytest.approx(1)
    assert after["gin-tonic"] > 10 * before["gin-tonic"]
    assert 0 < after["negroni"] < before["negroni"]
    # by hand: 1300 of 1640 mapped and 200 by the book, whose gin and tonic is 2 of 33 parts
    assert after["gin-tonic"] == pytest.approx((1300 + 200 * before["gin-tonic"]) / 1840)


def test_a_certificate_is_judged_by_what_sells_as_the_board_is(marek, tamsin, nils):
    station = marek.venue.stations.get(slug="well")
    before = board.verdict_for(nils, station, LATER)
    take_in(marek, rows("Negroni,100000"))
    menu = sales.as_sold(menu_at(marek.venue, LATER))
    after = board.verdict_for(nils, station, LATER)

    assert after == board.board(station, menu, [nils])[0].verdict
    assert after.ask != before.ask


def test_weighed_twice_is_weighed_once(marek):
    take_in(marek)
    once = sales.as_sold(menu_at(marek.venue, LATER))

    assert sales.as_sold(once) == once


def test_a_mix_per_kind_of_shift(marek):
    take_in(marek, NIGHTS.decode("cp1252"))
    late = sales.shares(marek.venue, ShiftKind.WEEKEND_LATE, at=LATER)
    early = sales.shares(marek.venue, ShiftKind.WEEKEND_EARLY, at=LATER)

    assert late["draught-lager"] > 2 * late["negroni"]
    assert early["negroni"] > late["negroni"]


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

    assert mix.orders == 5
    assert names(found, Place.VOID) == {"madras": 1}
    assert found.drinks_an_order == pytest.approx((3 + 3 + 2 - 1 + 2) / 5)
    hours = sales.hours(marek.venue, only(mix), ShiftKind.WEEKEND_LATE)
    assert [(h.hour, h.orders, h.drinks) for h in hours] == [(23, 2.0, 6.0), (0, 3.0, 1.0)]


def test_what_waits_counts_in_its_hour_once_it_is_told(marek):
    sheet = till_of(received(checks()).rows)
    record_sales.import_sales(by=marek, sheet=sheet, menu=menu_of(marek), at=NOW)
    tell(marek, lager="draught-lager")

    row = OrdersByHour.objects.get(hour=0)
    assert (row.drinks, row.waiting) == (Decimal(3), {})


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
    assert (found.mapped, found.orders) == (7, 2)

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


def test_another_house_sees_nothing_of_it(marek, ravna):
    take_in(marek)

    assert not in_force(ravna.venue, LATER)
    with pytest.raises(Refused, match="other_house"):
        record_sales.withdraw_sales(by=ravna, mix=SalesMix.objects.get(), at=LATER)


def test_a_drink_that_is_not_on_the_menu_is_no_meaning(marek):
    with pytest.raises(KeyError):
        tell(marek, beer="no-such-drink")
    assert SalesLine.objects.count() == CallMapping.objects.count() == 0
