"""The demo house: safe to load twice, whole, and telling a story in the order of the clock."""

import datetime as dt
import json

import pytest
from django.core.management import CommandError, call_command

from assessments import board
from assessments.measures.readiness import Standing
from barcourse.demo.house import OWNER, PASSWORD, STAFF
from barcourse.demo.seed import seed
from barcourse.people import log
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

    for hand in (OWNER, *STAFF):
        assert Person.objects.get(sign_in=hand.sign_in).check_password(PASSWORD)

    head = log.head(lantern)
    settings.DEMO = True
    call_command("seed_demo", "--json")
    said = json.loads(capsys.readouterr().out)
    assert [p["sign_in"] for p in said["people"]] == [h.sign_in for h in (OWNER, *STAFF)]
    assert log.head(lantern) == head


def test_nobody_seeds_a_real_site(db, settings):
    settings.DEMO = False
    with pytest.raises(CommandError, match="BARCOURSE_DEMO=1"):
        call_command("seed_demo")
