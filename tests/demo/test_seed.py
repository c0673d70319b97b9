"""The demo house: safe to load twice, whole, and telling a story in the order of the clock."""

import datetime as dt
import json

import pytest
from django.core.management import CommandError, call_command

from assessments import board, hands, own_history, round_words, sales, to_look_at
from assessments.measures.readiness import Standing
from assessments.measures.sales_mix import ShiftKind
from assessments.models.practical import Came
from assessments.models.sales import Place
from assessments.sales_in_force import in_force
from barcourse.demo.house import OWNER, PASSWORD, STAFF
from barcourse.demo.seed import seed
from barcourse.demo.till import NEVER_ASKED_FOR
from barcourse.people import log, refusals, side_work
from barcourse.people.models import LogEntry, Person
from recipes.menu import menu_at

NOW = dt.datetime(2026, 11, 20, 15, 0, tzinfo=dt.UTC)


@pytest.fixture
def lantern(db):
    return seed(NOW)


def test_the_demo_house_is_what_it_says(lantern, settings, capsys):
    assert log.check(lantern) == []
    times = list(LogEntry.objects.order_by("number").values_list("at", flat=True))
    assert times == sorted(times)

    well, *_others = board.order_stations(lantern)
    rows = board.board(well, menu_at(lantern, NOW), board.hires_here(lantern, NOW))
    assert {r.hire.name: r.verdict.standing for r in rows} == {
        "Ines": Standing.READY,
        "Noor": Standing.SECOND,
        "Tomasz": Standing.NOT_YET,
        "Wanda": Standing.NOT_YET,
    }

    every_page_of_the_practical_has_something_to_show(lantern)
    the_till_has_told_what_sells(lantern)

    for hand in (OWNER, *STAFF):
        assert Person.objects.get(sign_in=hand.sign_in).check_password(PASSWORD)

    head = log.head(lantern)
    settings.DEMO = True
    call_command("seed_demo", "--json")
    said = json.loads(capsys.readouterr().out)
    assert [p["sign_in"] for p in said["people"]] == [h.sign_in for h in (OWNER, *STAFF)]
    assert log.head(lantern) == head


def every_page_of_the_practical_has_something_to_show(lantern):
    menu = menu_at(lantern, NOW)
    hires = {hire.name: hands.hands_of(hire, menu) for hire in board.hires_here(lantern, NOW)}

    passed = {name: [p.check.passed for p in found.pours] for name, found in hires.items()}
    assert passed["Ines"] == [True, True, True]
    assert passed["Tomasz"] == [True, False]
    assert [len(found.rounds) for found in hires.values()] == [1, 1, 0, 0]
    noor = hires["Noor"]
    assert [s.drift.reason.code for s in hands.series_of(lantern_hire(lantern, "Noor"), menu)] == [
        "drift_up"
    ]
    assert {spot.came for found in hires.values() for spot in found.spots} == set(Came)
    shown = [round_words.show_round(row, menu) for row in (noor.rounds[0], hires["Ines"].rounds[0])]
    assert [bool(s.turns) for s in shown] == [True, False]

    assert [s.hire.name for s in to_look_at.stuck_hires(lantern, NOW)] == ["Tomasz"]
    assert len(to_look_at.disagreements(lantern)) == 1
    assert to_look_at.pairs(lantern, NOW).builds == 2
    assert len(refusals.newest(lantern, 10)) == 4
    well = lantern.stations.get(slug="well")
    assert any(line.done for part in side_work.lists_at(well, NOW) for line in part.tasks)


def the_till_has_told_what_sells(lantern):
    menu = sales.as_sold(menu_at(lantern, NOW))
    force = in_force(lantern, NOW)
    found = sales.summary(menu, force)

    assert found.quantity == found.mapped + found.aside
    assert {p.value for p in Place if found.places[p]} == {
        "mapped", "waiting", "untaught", "not_ours",
    }  # fmt: skip
    assert len(found.never_sold) == NEVER_ASKED_FOR
    assert all(sales.hours(lantern, force, kind) for kind in ShiftKind)
    assert own_history.cases_of(menu, NOW)


def lantern_hire(venue, name):
    return next(hire for hire in board.hires_here(venue, NOW) if hire.name == name)


def test_nobody_seeds_a_real_site(db, settings):
    settings.DEMO = False
    with pytest.raises(CommandError, match="BARCOURSE_DEMO=1"):
        call_command("seed_demo")
