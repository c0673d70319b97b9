"""The night, as a page."""

import datetime as dt

import pytest
import time_machine

from assessments import record_sales
from tests.assessments.pages import address, text
from tests.assessments.sold import tell
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.policies import let
from tests.factories.tills import NIGHTS, take_in


def test_the_night_sets_people_beside_orders(visit, marek, nils):
    path = address(marek, "the_night")
    said = "?orders=180&pace=70&round=1&wait=120&share=90&others=3"
    shown = text(visit(marek).get(path + said))

    assert "180 orders an hour" in shown
    assert (
        "from ten in the evening on People needed 4 Hold the station 3 of them ready hires 0"
        in shown
    )
    assert "3 people get through it, but only" in shown


def test_whoever_is_let_stand_for_that_shift_holds_the_station(visit, marek, nils):
    make.take_quiz(nils, make.GATE)
    let(marek, nils, late=True, reason="Two are ill.")
    path = address(marek, "the_night")
    with time_machine.travel(LATER, tick=False):  # the afternoon before
        late, early = (
            visit(marek).get(f"{path}?orders=60&others=1&shift={shift}")
            for shift in ("weekend-late", "weekend-early")
        )

    assert late.context["people"].once == ("Nils",)
    assert late.context["people"].holding == 2
    assert "let stand for this shift Nils 1" in text(late)
    assert (early.context["people"].once, early.context["people"].holding) == ((), 1)


def test_whoever_is_let_stand_for_the_night_after_does_not_hold_this_one(visit, marek, nils):
    make.take_quiz(nils, make.GATE)
    let(marek, nils, days=7, late=True, reason="Two are ill.")
    with time_machine.travel(NOW + dt.timedelta(days=5), tick=False):
        page = visit(marek).get(f"{address(marek, 'the_night')}?shift=weekend-late")

    assert page.context["people"].once == ()


def test_the_night_of_a_day(visit, marek, nils):
    make.take_quiz(nils, make.GATE)
    let(marek, nils, days=7, late=True, reason="Two are ill.")
    with time_machine.travel(NOW, tick=False):
        path, browser = f"{address(marek, 'the_night')}?shift=weekend-late", visit(marek)
        next_one = browser.get(path)
        that = browser.get(f"{path}&day=2026-03-14")
        far, odd = browser.get(f"{path}&day=2026-05-14"), browser.get(f"{path}&day=x")

    assert "Saturday, March 7, 2026, from ten in the evening on" in text(next_one)
    assert "Saturday, March 14, 2026, from ten in the evening on" in text(that)
    assert (next_one.context["people"].once, that.context["people"].once) == ((), ("Nils",))
    assert "That is too far ahead: a shift in the next 31 days, please." in text(far)
    assert (odd.status_code, "people" in odd.context) == (200, False)


def test_an_hour_without_orders_needs_nobody(visit, marek, nils):
    said = text(visit(marek).get(f"{address(marek, 'the_night')}?orders=0"))

    assert "People needed 0" in said
    assert "No orders come in: nobody is needed." in said
    assert "more than any bar has" not in said


def test_the_night_says_overload(visit, marek):
    path = address(marek, "the_night")
    shown = text(visit(marek).get(f"{path}?orders=180&pace=70&round=1&others=2"))

    assert "2 people can't make it: of 180 that come in each hour they make 140" in shown


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ("orders=26", "Nobody holds it: 26 orders come in an hour, and nobody makes them."),
        ("orders=1", "Nobody holds it: one order comes in an hour, and nobody makes it."),
        (
            "orders=70&others=1",
            "One person has nothing to spare: just as many orders come in as they make",
        ),
    ],
)
def test_the_night_says_who_is_too_few(visit, marek, said, sentence):
    shown = text(visit(marek).get(f"{address(marek, 'the_night')}?pace=70&round=1&{said}"))

    assert sentence in shown
    assert "1 orders" not in shown


def test_the_night_tells_its_hours_by_the_till(visit, marek):
    take_in(marek, NIGHTS.decode("cp1252"))
    shown = text(visit(marek).get(address(marek, "the_night")))

    assert "Friday and Saturday, from ten on An average shift" in shown
    assert "22:00" in shown
    assert shown.index("22:00") < shown.index("01:00")


def test_the_night_begins_with_the_busiest_hour_that_the_till_told(visit, marek):
    path, browser = address(marek, "the_night"), visit(marek)
    untold = text(browser.get(path))
    rows = "Madras,40,2026-03-06,22", "Madras,90,2026-03-06,23"
    take_in(marek, "item,qty,date,hour\n" + "\n".join(rows) + "\n")
    told, other = browser.get(f"{path}?round=2"), browser.get(f"{path}?orders=7&round=2")

    assert "So many are an example: say below how many come." in untold
    assert told.context["one"].whole == max(h.whole for h, *_ in told.context["hours"]) > 0
    assert "in the busiest hour of such a shift, as the till tells it." in text(told)
    assert "an example" not in text(told)
    assert other.context["one"].whole == 7


@pytest.mark.parametrize("said", ["orders=-1", "share=100", "pace=0", "round=x", "shift=brunch"])
def test_an_hour_out_of_reason_is_said_beside_its_field(visit, marek, said):
    answer = visit(marek).get(f"{address(marek, 'the_night')}?{said}")

    assert answer.status_code == 200
    assert "People needed" not in text(answer)
    assert "aria-invalid" in answer.content.decode()


def test_the_night_counts_what_waits_for_its_name(visit, marek):
    """Twenty a shift under a name that nobody told are drinks that somebody makes."""
    rows = "Beer,40,2026-03-06,22", "Madras,20,2026-03-06,22"
    take_in(marek, "item,qty,date,hour\n" + "\n".join(rows) + "\n")
    browser, path = visit(marek), address(marek, "the_night")

    def orders():
        page = browser.get(path, {"station": "well", "shift": "weekend-late", "round": "2"})
        return text(page), [hour.whole for hour, *_ in page.context["hours"]]

    said, before = orders()
    assert before == [30]
    assert "40 sold in such a shift wait for their names to be told" in said
    browser.send(address(marek, "sales_names"), {"said": ["beer"], "drink": ["draught-lager"]})
    said, after = orders()
    assert (after, "wait for their names" in said) == ([30], False)
    browser.send(address(marek, "sales_names"), {"said": ["beer"], "drink": ["-"]})
    assert orders()[1] == [10]


@pytest.mark.parametrize("typed", ["1.6", "1,6"])
def test_drinks_an_order_are_read_with_a_point_or_a_comma(visit, marek, typed):
    path = address(marek, "the_night")
    page = visit(marek).get(path, {"orders": "100", "pace": "80", "round": typed, "others": "1"})

    assert page.context["one"].with_these.values["made"] == 50


def test_where_nothing_is_saved_nothing_is_said_of_saving(visit, marek):
    said = text(visit(marek).get(f"{address(marek, 'the_night')}?orders=many"))

    assert "Something below needs another look." in said
    assert "saved" not in said


CHECKS = (
    "item,qty,date,hour,check\nMadras,3,2026-03-06,22,1\nZwetschge,1,2026-03-06,22,2\n"
    "Madras,2,2026-03-06,23,3\n"
)


def test_it_is_said_on_what_orders_it_stands(visit, marek):
    """What waits may be no drink: until it is told it counts as an order and not in its drinks."""
    path, browser = address(marek, "the_night"), visit(marek)
    assert "Our own guess to begin with: no till has told how many drinks" in text(
        browser.get(path)
    )
    take_in(marek, CHECKS)
    waits = text(browser.get(path))
    tell(marek, zwetschge=None)
    told = text(browser.get(path))

    assert "1 order in such a shift has nothing but names that wait to be told" in waits
    assert "2.5 on 2 orders of the till of which every name is told." in waits
    assert "22:00 2 " in waits
    assert "wait to be told" not in told
    assert "22:00 1 " in told


def test_the_sales_mix_says_on_what_orders_it_stands(visit, marek):
    path, browser = address(marek, "sales_mix"), visit(marek)
    take_in(marek, CHECKS)
    waits = text(browser.get(path))
    tell(marek, zwetschge=None)
    told = text(browser.get(path))
    tell(marek, zwetschge=record_sales.FORGET, madras=None)

    assert (
        "Orders of drinks 1 of them has nothing but names that wait to be told: counted until "
        "then 3 Drinks an order"
    ) in waits
    assert (
        "on those of which every name is told: 2; on others a name waits to be told: 1 2.5" in waits
    )
    assert (
        "Drinks an order on those of which every name is told: 2; on others a name waits to be "
        "told: 1 2.5" in waits
    )
    assert "Orders of drinks 2 Drinks an order 2.5" in told
    assert "Drinks an order on others a name waits to be told: 1 not known yet" in text(
        browser.get(path)
    )
