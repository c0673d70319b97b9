"""Pace checks on screen."""

import re
from html import unescape

import pytest

from assessments.hands import show_pace
from assessments.measures.pace_check import Error
from assessments.models import PaceCheck
from barcourse.people import enrol
from tests.assessments.pages import address, fields, text
from tests.assessments.practical_pages import at
from tests.factories import policies
from tests.factories.assessments import NOW


def draw(browser, hire, **said):
    path = at(hire, "pace")
    query = {"station": "well", "seed": "5", "orders": "6", "rung_up": "yes", **said}
    page = browser.get(path, query)
    action = f"{path}?" + "&".join(
        f"{k}={query[k]}" for k in ("station", "orders", "seed", "rung_up")
    )
    return page, action


def test_a_ticket_is_the_same_for_the_same_number(visit, tamsin, nils):
    browser = visit(tamsin)

    first, second = (draw(browser, nils)[0].context["lines"] for _ in range(2))
    assert first == second
    assert draw(browser, nils, seed="6")[0].context["lines"] != first


def test_a_pace_goes_on_record_with_its_errors(visit, tamsin, nils):
    browser = visit(tamsin)
    page, action = draw(browser, nils)

    answer = browser.send(action, {**fields(page, action), "seconds": "300", "finish": "2"})

    check = PaceCheck.objects.get()
    assert answer["Location"] == address(nils, "pace_check", code=check.code)
    assert (check.seed, check.seconds, check.errors) == (5, 300, {"finish": 2})
    said = text(browser.get(answer["Location"]))
    told = show_pace(check).said
    assert f"{told}." in said
    assert told in text(browser.get(address(nils, "hire_record", code=nils.code)))
    assert "things went wrong, drinks made: " in said


def test_what_ready_takes_stands_beside_what_a_ticket_came_to(visit, odalys, tamsin, nils):
    browser = visit(tamsin)
    page, action = draw(browser, nils, orders="12")
    path = browser.send(action, {**fields(page, action), "seconds": "900"})["Location"]
    assert "Ready takes" not in text(browser.get(path))
    policies.ask_for(odalys, least_pace=40, pace_days=60)

    shown = text(browser.get(path))
    assert "Ready takes 40 drinks an hour here. That is held against what one ticket" in shown
    assert "A busy bar makes 60 to " in shown


@pytest.mark.parametrize("said", [{"seconds": ""}, {"seconds": "0"}, {"finish": "-1"}])
def test_a_pace_that_cannot_be_is_typed_again(visit, tamsin, nils, said):
    browser = visit(tamsin)
    page, action = draw(browser, nils)

    answer = browser.send(action, {**fields(page, action), "seconds": "60", **said})
    assert "Nothing has been saved yet." in text(answer)
    assert not PaceCheck.objects.exists()


def test_a_ticket_changed_meanwhile_is_shown_anew(visit, tamsin, nils):
    browser = visit(tamsin)
    page, action = draw(browser, nils)
    sent = {**fields(page, action), "seconds": "240", "ticket": "0" * 32}

    assert "the ticket with it" in text(browser.send(action, sent))
    assert not PaceCheck.objects.exists()


def ticket_of(page):
    """Where the form of the ticket goes."""
    [action] = re.findall(r'class="ticket watching" action="([^"]+)"', page.content.decode())
    return unescape(action)


@pytest.mark.parametrize("rings_up", [True, False])
def test_a_ticket_is_rung_up_where_the_station_rings_up(visit, odalys, tamsin, nils, rings_up):
    enrol.set_tills(by=odalys, ringing=[], at=NOW)
    if rings_up:
        enrol.set_tills(by=odalys, ringing=["well"], at=NOW)

    page = visit(tamsin).get(at(nils, "pace") + "?station=well&seed=3")

    assert ("Each order is greeted, built, rung up and paid." in text(page)) is rings_up
    assert (Error.RUNG_UP.value in fields(page, ticket_of(page))) is rings_up


def test_without_a_till_nothing_is_rung_up_wrong(visit, tamsin, nils):
    page, action = draw(visit(tamsin), nils, rung_up="no")

    assert Error.RUNG_UP.value not in fields(page, action)
    assert "nothing is rung up" in text(page)


@pytest.mark.parametrize(
    ("query", "says"),
    [
        ({"seed": "x"}, "Ticket number: Enter a whole number."),
        ({"orders": "0"}, "Orders: At least 1, please."),
        ({"orders": "9999"}, "Orders: At most 60, please."),
    ],
)
def test_no_such_ticket_is_said_beside_the_field(visit, tamsin, nils, query, says):
    page, _action = draw(visit(tamsin), nils, **query)

    assert page.status_code == 200
    assert "There is no such ticket." in text(page)
    assert says in text(page)
    assert "Put on record" not in text(page)


def test_no_such_station(visit, tamsin, nils):
    assert draw(visit(tamsin), nils, station="attic")[0].status_code == 404
