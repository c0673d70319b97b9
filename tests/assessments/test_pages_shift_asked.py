"""Whoever looks at the board for a shift reads on of that same shift; a hire, of their next one."""

from __future__ import annotations

import datetime as dt
import re
from html import unescape

import pytest
import time_machine

from assessments import past_plot
from assessments.measures.readiness import Standing
from assessments.measures.sales_mix import ShiftKind
from assessments.models import Override
from assessments.policy import opening
from tests.assessments.pages import address, fields, text
from tests.assessments.test_board import only_must_knows, prove
from tests.assessments.test_next_shift import say
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.policies import ask_for, station

LATE = "shift=weekend-late"
"""LATER is a Saturday afternoon: it is that night's."""
WHEN = "Saturday, March 7, 2026, from ten in the evening on"
NOW_SAID = "Reckoned for now, on an ordinary shift."


@pytest.fixture
def strict(odalys, tamsin, nils):
    """Nils is ready; late on weekends more is asked at the well than he shows."""
    only_must_knows(odalys)
    prove(tamsin, nils)
    ask_for(odalys, "well", ShiftKind.WEEKEND_LATE, least_right=0.99, second_right=0.2)
    with time_machine.travel(LATER, tick=False):
        yield nils


def links(page, part):
    """Where this page leads to, of addresses with this in them."""
    found = map(unescape, re.findall(r'href="([^"]*)"', page.content.decode()))
    return [at for at in found if part in at]


def standing(page):
    [(row, shown)] = page.context["standing"]
    return row.standing, shown.right, shown.low, shown.high, shown.missing, list(shown.next)


@pytest.mark.parametrize(
    ("query", "stands", "says"),
    [
        (LATE, Standing.SECOND, f"Reckoned for {WHEN}."),
        ("", Standing.READY, NOW_SAID),
        ("day=2026-03-08", Standing.SECOND, "Reckoned for Sunday, March 8, 2026."),
    ],
)
def test_the_name_leads_to_the_same_standing_and_figures(strict, marek, visit, query, stands, says):
    """Also where the person works another shift next."""
    say(strict, starts_at=LATER + dt.timedelta(days=8), at=LATER)
    board = visit(marek).get(f"{address(marek, 'who_is_ready')}?{query}")
    [at] = [a for a in links(board, f"/hires/{strict.code}/") if "?station=well" in a]
    page = visit(marek).get(at)

    [(row, shown)] = board.context["rows"]
    told = (row.standing, shown.right, shown.low, shown.high, shown.missing, list(shown.next))
    assert standing(page) == told
    assert row.standing is stands
    assert says in text(page)
    others = links(page, f"/hires/{strict.code}/?station=beer-point")
    assert others == [at.replace("well", "beer-point")]


def test_the_past_ends_with_the_shift_that_is_reckoned_for(odalys, marek, tamsin, nils, visit):
    make.take_quiz(nils)
    make.sign_off(tamsin, nils, at=NOW + dt.timedelta(days=8))
    ask_for(odalys, "well", ShiftKind.WEEKEND_LATE, least_right=0.99, second_right=0.2)
    path = f"{address(marek, 'hire_record', code=nils.code)}?station=well"
    with time_machine.travel(NOW + dt.timedelta(days=20), tick=False):  # a Friday afternoon
        asked = ("", f"&{LATE}", f"&{LATE}&day=2026-04-03")
        now, tonight, late = (visit(marek).get(path + query) for query in asked)

    ends = [page.context["past"].points[-1].at for page in (tonight, late)]
    assert [f"{at:%m-%d %H}" for at in ends] == ["03-27 22", "04-03 21"]  # summer time by then
    assert [f"{p.at:%m-%d}" for p in late.context["past"].points[-2:]] == ["03-27", "04-03"]
    assert "what ready takes then" in text(late)
    assert "what ready takes then" not in text(now)
    for page, bar in ((now, opening(nils.venue).least_right), (tonight, 0.99), (late, 0.99)):
        assert page.context["past_plot"].bar == past_plot.plot(page.context["past"], bar).bar


@pytest.mark.parametrize("part", ["/ready/once/", "/ready/policy/", "/ready/tasks/", "/night/"])
def test_what_the_board_leads_to_is_asked_for_its_shift(strict, marek, visit, part):
    board = visit(marek).get(f"{address(marek, 'who_is_ready')}?{LATE}&day=2026-03-13")
    at = links(board, part)[0]

    assert f"{LATE}&day=2026-03-13" in at
    page = visit(marek).get(at)
    assert page.status_code == 200
    assert "Friday and Saturday, from ten on" in text(page) or "Friday, March 13, 2026" in text(
        page
    )


def test_a_word_is_given_for_the_shift_of_the_board_and_leads_back_to_it(strict, marek, visit):
    day = "2026-03-13"
    path = f"{address(marek, 'once', hire=strict.code)}?station=well&{LATE}&day={day}"
    page = visit(marek).get(path)
    sent = visit(marek).send(path, fields(page) | {"reason": "Two are ill."})

    board = f"{address(marek, 'who_is_ready')}?station=well&{LATE}&day={day}"
    assert sent["Location"] == board
    row = Override.objects.get()
    assert (row.day.isoformat(), row.shift_kind) == (day, "weekend-late")
    [back] = re.findall(r'action="([^"]*/end/[^"]*)"', visit(marek).get(path).content.decode())
    ended = visit(marek).send(unescape(back))
    assert ended["Location"] == board


def test_the_early_shift_is_the_one_that_is_looked_at(strict, marek, visit):
    path = f"{address(marek, 'once', hire=strict.code)}?station=well&shift=week-early"
    page = visit(marek).get(path)

    assert page.context["form"].initial == {"day": dt.date(2026, 3, 8), "part": "early"}


def test_a_station_without_orders_is_held_against_that_shift_too(strict, odalys, marek, visit):
    ask_for(odalys, "bar-back", ShiftKind.WEEKEND_LATE, permits=("serving",))
    path = address(marek, "ready_tasks")
    late, now = (text(visit(marek).get(f"{path}?{q}")) for q in (LATE, ""))

    assert f"Reckoned for {WHEN}." in late
    assert "permit to serve alcohol" in late
    assert NOW_SAID in now
    assert "permit to serve alcohol" not in now


@pytest.mark.parametrize("query", ["shift=lunch", "day=Saturday", f"{LATE}&day=9999-12-31"])
@pytest.mark.parametrize(
    "page", ["who_is_ready", "ready_csv", "ready_tasks", "ready_policy", "once", "hire_record",
             "my_record"],
)  # fmt: skip
def test_a_shift_that_there_is_none_of_is_not_found(marek, nils, visit, page, query):
    parts = {"once": {"hire": nils.code}, "hire_record": {"code": nils.code}}.get(page, {})

    assert visit(marek).get(f"{address(marek, page, **parts)}?{query}").status_code == 404


TONIGHT = dt.datetime(2026, 3, 7, 22, tzinfo=dt.UTC)


def test_a_hire_reads_what_is_missing_for_the_next_shift(strict, tamsin, visit):
    say(strict, starts_at=TONIGHT, at=LATER)
    own = [visit(strict).get(address(strict, page)) for page in ("next_shift", "my_record")]
    told = visit(tamsin).get(address(tamsin, "hire_record", code=strict.code))

    for page in (*own, told):
        first, shown = page.context["standing"][0]
        assert (first.station.slug, first.standing) == ("well", Standing.SECOND)
        assert any("99" in said for said in shown.missing)
        assert "Nothing is missing" not in text(page)
    assert all(f"Reckoned for your next shift: {WHEN}." in text(page) for page in own)
    assert f"Reckoned for their next shift: {WHEN}." in text(told)


def test_from_there_it_is_one_tap_to_now_and_back(strict, tamsin, visit):
    say(strict, starts_at=TONIGHT, at=LATER)
    page = visit(tamsin).get(address(tamsin, "hire_record", code=strict.code))
    [to_now] = links(page, "&shift=")
    now = visit(tamsin).get(f"{address(tamsin, 'hire_record', code=strict.code)}{to_now}")

    assert NOW_SAID in text(now)
    assert standing(now)[0] is Standing.READY
    assert "Reckon for their next shift" in text(now)


def test_without_a_shift_ahead_it_is_as_of_now(strict, visit):
    next_shift, record = (
        visit(strict).get(address(strict, page)) for page in ("next_shift", "my_record")
    )

    assert next_shift.context["standing"][0][0].standing is Standing.READY
    assert "Reckoned" not in text(next_shift)
    assert NOW_SAID in text(record)


def test_a_word_for_another_shift_is_said_to_be_of_another(strict, marek, visit, odalys):
    make_late = ask_for(odalys, "well", ShiftKind.WEEK_LATE, least_right=0.99, second_right=0.2)
    assert make_late.station == station(marek)
    once = f"{address(marek, 'once', hire=strict.code)}?station=well&shift=week-late"
    visit(marek).send(once, fields(visit(marek).get(once)) | {"reason": "Two are ill."})
    path = address(marek, "hire_record", code=strict.code)
    late, week = (
        text(visit(marek).get(f"{path}?shift={k}")) for k in ("weekend-late", "week-late")
    )

    assert "For another shift : Sunday, March 8" in late
    assert "For one shift : Sunday, March 8" in week


def test_a_stranger_and_a_fellow_are_kept_out(strict, ravna, pia, visit):
    path = f"{address(strict, 'hire_record', code=strict.code)}?{LATE}"

    assert visit(ravna).get(path).status_code == 404
    assert visit(strict).get(path).status_code == 403
    assert visit(pia).post(path).status_code == 405
