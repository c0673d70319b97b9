"""What the till sold, taken in: what becomes of each line, what names mean, what it weighs."""

import datetime as dt
from decimal import Decimal

import pytest

from assessments import board, sales
from assessments.measures.sales_mix import ShiftKind
from assessments.models import CallMapping, SalesLine
from assessments.models.sales import Place
from assessments.sales_reading import heard, name_of
from assessments.sales_words import amount
from recipes.menu import menu_at
from recipes.models import Recipe
from recipes.publish_recipes import bring_back, retire
from tests.assessments.sold import names, summary, tell
from tests.factories.assessments import LATER, menu_of
from tests.factories.tills import NIGHTS, rows, take_in

DAY = dt.timedelta(days=1)


def test_what_comes_in_is_what_is_mapped_and_what_is_set_aside(marek):
    take_in(marek)
    found = summary(marek)

    assert found.quantity == found.mapped + found.aside == 1204 + 96 + 310 - 10 + 450 + 88 + 64 + 40
    assert found.totals == 1
    assert names(found, Place.WAITING) == {"beer": 450, "burger": 88}
    assert names(found, Place.UNTAUGHT) == {"tequila & soda": 64}


def test_what_sold_and_has_left_the_menu_since_is_sold_and_not_taught(marek):
    take_in(marek)
    before = summary(marek)
    drink = Recipe.objects.get(slug="gin-tonic")
    retire(by=marek, recipe=drink, at=LATER)
    found = summary(marek)

    gone = {c.said: (c.recipe, c.quantity) for c in found.places[Place.UNTAUGHT]}
    assert gone == {
        "gin tonic": ("gin-tonic", 1204),
        "gin tonic double": ("gin-tonic", 96),
        "tequila & soda": ("", 64),
    }
    assert found.quantity == found.mapped + found.aside == before.quantity
    assert found.mapped == before.mapped - 1300
    bring_back(by=marek, recipe=drink, at=LATER)
    assert summary(marek) == before


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
    guess, asked = heard("special cooler sunrise", menu), heard("lager", menu)

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


def test_a_drink_that_is_not_on_the_menu_is_no_meaning(marek):
    with pytest.raises(KeyError):
        tell(marek, beer="no-such-drink")
    assert SalesLine.objects.count() == CallMapping.objects.count() == 0
