"""The sales mix and the night, as pages."""

import io
import uuid

import pytest
import time_machine

from assessments.models import CallMapping, SalesMix
from tests.assessments.pages import address, fields, text, written
from tests.factories import assessments as make
from tests.factories.assessments import LATER
from tests.factories.policies import let
from tests.factories.tills import NIGHTS, REPORT, checks, rows, take_in


@pytest.fixture
def page(odalys):
    return address(odalys, "sales_mix")


def send_file(browser, path, data, name="till.csv"):
    file = io.BytesIO(data if isinstance(data, bytes) else data.encode())
    file.name = name
    return browser.post(path, {"form_key": str(uuid.uuid4()), "file": file}, follow=True)


@pytest.mark.parametrize(
    ("data", "sums"),
    [
        (REPORT, "Rung up 2242 Drinks of the house 1640 Set aside 602"),
        (NIGHTS, "Rung up 180 Drinks of the house 173 Set aside 7"),
        (checks(), "Rung up 10 Drinks of the house 7 Set aside 3"),
    ],
    ids=["report", "nights", "checks"],
)
def test_three_tills_of_different_shapes_go_in(visit, marek, page, data, sums):
    shown = text(send_file(visit(marek), page, data))

    assert sums in shown
    assert "Taught, never sold" in shown


def test_what_is_not_taught_is_listed(visit, marek, page):
    shown = text(send_file(visit(marek), page, REPORT))

    assert "Sold, not taught tequila & soda 64" in shown


def test_a_name_is_asked_about_once(visit, marek, page):
    take_in(marek)
    browser = visit(marek)
    asked = browser.get(page)
    sent = fields(asked, address(marek, "sales_names"))

    assert sent["said"] == ["beer", "burger"]
    assert sent["drink"] == ["draught-lager", ""]
    browser.send(address(marek, "sales_names"), {**sent, "drink": ["draught-lager", "-"]})
    shown = text(browser.get(page))
    assert "Which drink is it?" not in shown
    assert "of that nothing that is taught 88" in shown
    assert CallMapping.objects.count() == 2


def test_what_is_left_open_stays_so(visit, marek, page):
    take_in(marek)
    browser = visit(marek)
    browser.send(address(marek, "sales_names"), {"said": ["beer"], "drink": [""]})

    assert "beer, 450 sold" in text(browser.get(page))
    assert CallMapping.objects.count() == 0


def test_a_drink_of_no_menu_is_not_found(visit, marek):
    path = address(marek, "sales_names")

    assert visit(marek).send(path, {"said": ["x"], "drink": ["nope"]}).status_code == 404


@pytest.mark.parametrize(
    ("data", "says"),
    [
        ("", "There is nothing in this file."),
        ("name,price\nMadras,3\n", "Call them item and quantity."),
        (rows("Total,3"), "No row of it is a sale."),
        (b"\x00\x01", "This file can't be read."),
    ],
)
def test_what_is_no_export_is_said_and_changes_nothing(visit, marek, page, data, says):
    before = written()
    shown = text(send_file(visit(marek), page, data))

    assert says in shown
    assert written() == before


def test_a_second_time_is_refused(visit, marek, page):
    take_in(marek)

    assert "They count once." in text(send_file(visit(marek), page, REPORT))


def test_the_wrong_file_is_taken_back(visit, marek, page):
    mix = take_in(marek)
    browser = visit(marek)
    path = address(marek, "sales_withdraw", code=mix.code)

    assert "it counts no longer" in browser.send(path, follow=True).content.decode()
    assert "taken back already" in browser.send(path, follow=True).content.decode()
    assert "By the house book, until a till is taken in." in text(browser.get(page))


def test_drinks_weigh_what_sells_in_a_kind_of_shift(visit, marek, page):
    take_in(marek, NIGHTS.decode("cp1252"))
    browser = visit(marek)
    early = text(browser.get(f"{page}?shift=weekend-early"))
    late = text(browser.get(f"{page}?shift=weekend-late"))

    assert early != late
    assert "Of 100 drinks" in late
    assert browser.get(f"{page}?shift=brunch").status_code == 404


def test_who_is_ready_weighs_what_sells(visit, marek):
    """The pace ticket draws from the till's mix."""
    take_in(marek, rows("Negroni,100000"))
    hire = marek.venue.memberships.order_by("pk").last()
    path = address(marek, "pace", hire=hire.code)

    assert visit(marek).get(path).content.decode().count("Negroni") > 5


def test_the_night_sets_people_beside_orders(visit, marek, nils):
    path = address(marek, "the_night")
    said = "?orders=180&pace=70&round=1&wait=120&share=90&others=3"
    shown = text(visit(marek).get(path + said))

    assert "180 orders an hour People needed 4 Hold the station 3 of them ready hires 0" in shown
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


def test_an_hour_without_orders_needs_nobody(visit, marek, nils):
    said = text(visit(marek).get(f"{address(marek, 'the_night')}?orders=0"))

    assert "People needed 0" in said
    assert "No orders come in: nobody is needed." in said
    assert "more than any bar has" not in said


def test_the_night_says_overload(visit, marek):
    path = address(marek, "the_night")
    shown = text(visit(marek).get(f"{path}?orders=180&pace=70&round=1&others=2"))

    assert "2 people can't make it: 40 orders too many come in an hour" in shown


def test_the_night_tells_its_hours_by_the_till(visit, marek):
    take_in(marek, NIGHTS.decode("cp1252"))
    shown = text(visit(marek).get(address(marek, "the_night")))

    assert "Friday and Saturday, from ten on An average shift" in shown
    assert "22:00" in shown
    assert shown.index("22:00") < shown.index("01:00")


@pytest.mark.parametrize("said", ["orders=-1", "share=100", "pace=0", "round=x", "shift=brunch"])
def test_an_hour_out_of_reason_is_said_beside_its_field(visit, marek, said):
    answer = visit(marek).get(f"{address(marek, 'the_night')}?{said}")

    assert answer.status_code == 200
    assert "People needed" not in text(answer)
    assert "aria-invalid" in answer.content.decode()


def test_an_import_sent_twice_counts_once(visit, marek, page):
    browser, key = visit(marek), str(uuid.uuid4())
    for _ in range(2):
        answer = browser.post(page, {"form_key": key, "rows": rows("Madras,3")})
        assert answer.status_code == 302

    assert SalesMix.objects.count() == 1
