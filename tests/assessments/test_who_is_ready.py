"""The command that other programs ask who is ready."""

import datetime as dt
import io
import json
import math
import os
import subprocess
import sys
from pathlib import Path

import pytest
import time_machine
from django.core.management import CommandError, call_command

from assessments import board
from assessments.board_sheet import Sheet
from assessments.measures.ready_facts import Expected, Orders
from assessments.measures.sales_mix import ShiftKind
from barcourse.people import enrol, permits
from recipes.models import RulesVersion
from tests.cast import tampering
from tests.factories import assessments as make
from tests.factories import hands, tills
from tests.factories.assessments import LATER, NOW
from tests.factories.people import hire as hire_somebody
from tests.factories.policies import ask_for, let
from tests.factories.recipes import DAY

ROOT = Path(__file__).parents[2]
AFTER = "2026-03-07T16:30"
"""Later on the afternoon of NOW."""
FIELDS = {
    "id", "person", "standing", "right", "right_low", "right_high", "ask", "wrong",
    "drinks_per_hour", "missing", "next", "override",
}  # fmt: skip


def ask(*said):
    out = io.StringIO()
    call_command("who_is_ready", *said, stdout=out)
    return out.getvalue()


def rows(*said):
    return json.loads(ask("--json", *said))


def refused(*said):
    with pytest.raises(CommandError) as raised:
        ask(*said)
    assert raised.value.returncode == 2
    assert "\n" not in str(raised.value)
    return str(raised.value)


def test_a_row_for_each_trainee_by_name(odalys, tamsin, nils):
    bo = hire_somebody(odalys, "Bo")

    found = rows()

    assert [(r["id"], r["person"]) for r in found] == [(bo.code, "Bo"), (nils.code, "Nils")]
    assert {frozenset(r) for r in found} == {frozenset(FIELDS)}


def test_it_says_what_the_board_says(odalys, tamsin, nils):
    make.sign_off(tamsin, nils)
    make.take_quiz(nils)
    well = odalys.venue.stations.get(slug="well")
    verdict = board.verdict_for(nils, well, NOW)

    [row] = rows("--station", "well")

    for name in ("right", "right_low", "right_high", "ask", "wrong"):
        assert row[name] == pytest.approx(getattr(verdict, name), abs=1e-4)
    assert row["right"] + row["ask"] + row["wrong"] == pytest.approx(1, abs=2e-4)
    assert row["standing"] == verdict.standing.value == "not_yet"
    assert "Service and safety isn't passed yet. Nobody is ready without it." in row["missing"]
    assert len(row["missing"]) == len(verdict.missing)
    assert row["next"][0] == "Take Service and safety first."
    assert (row["drinks_per_hour"], row["override"]) == (None, None)


def test_the_station_matters(odalys, tamsin, nils):
    make.sign_off(tamsin, nils, "madras")

    [well], [beer] = rows(), rows("--station", "beer-point")

    assert "Gin tonic isn't signed off." in well["missing"]
    assert "Gin tonic isn't signed off." not in beer["missing"]


def test_the_moment_matters(odalys, tamsin, nils):
    make.take_quiz(nils, make.GATE, at=LATER)
    enrol.mark_left(by=odalys, membership=nils, at=NOW + 7 * DAY)

    def safety(at):
        return any("Service and safety" in m for r in rows("--at", at) for m in r["missing"])

    assert safety("2026-03-07T15:30")
    assert not safety("2026-03-07T16:30")
    assert not safety("2026-03-07T17:30+01:00")
    assert safety("2026-03-07T16:30+01:00")
    assert rows("--at", "2026-03-15T12:00") == []


def test_the_pace_of_the_newest_check_at_that_station(odalys, tamsin, nils):
    hands.pace(tamsin, nils, seconds=400, at=NOW)
    pace = hands.pace(tamsin, nils, seconds=500, at=LATER)
    made = 3600 * hands.ticket(tamsin).count / pace.seconds

    [well], [beer] = rows("--at", AFTER), rows("--station", "beer-point", "--at", AFTER)

    assert well["drinks_per_hour"] == math.floor(made)
    assert beer["drinks_per_hour"] is None


def test_the_kind_of_shift_picks_policy_and_mix(odalys, marek, tamsin, nils):
    make.sign_off(tamsin, nils, "negroni")
    tills.take_in(marek, "item,quantity,date,hour\nNegroni,900,2026-03-06,23\n")
    ask_for(odalys, "well", ShiftKind.WEEKEND_LATE, pour_days=30)

    [late] = rows("--shift", "weekend-late", "--at", AFTER)
    [early] = rows("--shift", "weekend-early", "--at", AFTER)

    assert "No pour check in the last 30 days." in late["missing"]
    assert "No pour check in the last 30 days." not in early["missing"]
    assert late["right"] > early["right"]


def test_without_a_moment_the_next_such_shift_is_meant(odalys, marek, tamsin, nils):
    """Tonight's late shift ends on Sunday by the calendar, tomorrow's on Monday."""
    ask_for(odalys, permits=("serving",))
    sunday = NOW.date() + dt.timedelta(days=1)
    permits.add_permit(by=marek, member=nils, kind="serving", valid_until=sunday, at=NOW)
    with time_machine.travel(NOW, tick=False):  # a Saturday afternoon
        [tonight], [tomorrow] = rows("--shift", "weekend-late"), rows("--shift", "week-late")

    assert not [m for m in tonight["missing"] if "permit" in m]
    until = "A permit is good only until March 8, 2026: permit to serve alcohol."
    assert until in tomorrow["missing"]


def test_an_override_stands_beside_what_the_evidence_says(odalys, marek, tamsin, nils):
    make.take_quiz(nils, make.GATE)
    let(marek, nils, late=True, reason="Two are ill.")

    [tonight] = rows("--at", AFTER)

    assert tonight["override"] == {
        "day": "2026-03-07", "shift": "weekend-late", "by": "Marek", "reason": "Two are ill.",
    }  # fmt: skip
    assert tonight["standing"] == "not_yet"
    assert rows("--shift", "weekend-late", "--at", AFTER)[0]["override"] == tonight["override"]
    for other in (
        ["--shift", "weekend-early", "--at", AFTER],
        ["--station", "beer-point", "--at", AFTER],
        ["--at", "2026-03-08T05:00"],
        ["--at", "2026-03-06T23:00"],
    ):
        assert rows(*other)[0]["override"] is None, other
    assert "for one shift on Marek's word" in ask("--at", AFTER)


def test_bar_back_is_judged_on_tasks(odalys, tamsin, nils):
    [row] = rows("--station", "bar-back")

    assert set(row) == FIELDS
    assert [row[name] for name in ("right", "right_low", "right_high", "ask", "wrong")] == [
        None
    ] * 5
    assert row["standing"] == "not_yet"
    assert "Service and safety isn't passed yet. Nobody is ready without it." in row["missing"]
    assert len(row["missing"]) == len(row["next"]) == 2
    assert ask("--station", "bar-back").startswith("Bar back: Nils, not yet; missing: ")


def test_for_people_who_read(odalys, tamsin, nils):
    make.watch(tamsin, nils, "gin-tonic")

    assert ask().startswith("Well: Nils, not yet: of 100 orders ")
    assert "must-knows aren't signed off." in ask()


def test_of_whom_nothing_has_been_seen_no_figures_are_told(odalys, tamsin, nils):
    bo = hire_somebody(odalys, "Bo")
    make.watch(tamsin, nils, "gin-tonic")
    too_little = "Too little has been seen yet for any figures."

    unseen, seen = rows()

    assert (unseen["id"], unseen["missing"][0]) == (bo.code, too_little)
    assert not [m for m in unseen["missing"] if "of 100 orders" in m]
    assert too_little not in seen["missing"]
    shares = ("right", "right_low", "right_high", "ask", "wrong")
    assert [unseen[name] for name in shares] == [None] * 5
    assert None not in [seen[name] for name in shares]
    assert {frozenset(row) for row in (unseen, seen)} == {frozenset(FIELDS)}
    assert ask().startswith(f"Well: Bo, not yet: no figures yet; missing: {too_little} ")


def test_text_counts_orders_as_the_board_does(odalys, tamsin, nils, monkeypatch):
    """Each rounded by itself they would be 96, 2 and 3: 101 orders."""
    make.watch(tamsin, nils, "gin-tonic")
    of = Orders(Expected(0.9551, 0.9, 1), Expected(0.0196, 0, 0.1), Expected(0.0253, 0, 0.1))
    monkeypatch.setattr(Sheet, "orders", lambda *_: of)

    assert "of 100 orders 95 right, 2 ask, 3 wrong" in ask()


def test_nobody_is_being_trained(odalys):
    assert ask() == "Well: nobody is being trained.\n"
    assert rows() == []


def test_one_of_two_houses_has_to_be_named(odalys, nils, ravna):
    assert refused() == ("Say which house: --venue harbour-lights or --venue the-anchor-room.")
    assert [r["person"] for r in rows("--venue", "harbour-lights")] == ["Nils"]
    assert rows("--venue", "the-anchor-room") == []


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        (["--venue", "nowhere"], "There is no house 'nowhere'."),
        (
            ["--station", "attic"],
            (
                "There is no station 'attic'; these there are: well, service-bar, beer-point, "
                "bar-back."
            ),
        ),
        (
            ["--shift", "lunch"],
            (
                "'lunch' is no kind of shift; these are: week-early, week-late, weekend-early, "
                "weekend-late."
            ),
        ),
        (["--at", "Saturday"], "'Saturday' is no moment; write it as 2026-03-14T23:00."),
        (
            ["--at", "2020-01-01T12:00"],
            "Harbour Lights had no house rules then, so there was no menu.",
        ),
    ],
)
def test_a_question_that_makes_no_sense(odalys, said, sentence):
    assert refused(*said) == sentence


@pytest.mark.django_db
def test_no_house_yet():
    assert refused() == "There is no house yet."


def test_a_house_without_a_course(odalys):
    with tampering():
        RulesVersion._base_manager.all().delete()

    assert "had no house rules then" in refused()


def test_from_a_terminal_it_exits_with_2_and_says_why_on_stderr(tmp_path):
    environment = {
        "BARCOURSE_DEMO": "1",
        "DATABASE_URL": f"sqlite:///{tmp_path}/house.sqlite3",
        "PATH": os.environ["PATH"],
    }

    def manage(*said):
        return subprocess.run(
            [sys.executable, "manage.py", *said], env=environment, cwd=ROOT,
            capture_output=True, text=True, check=False,
        )  # fmt: skip

    assert manage("migrate", "--verbosity", "0").returncode == 0
    run = manage("who_is_ready", "--json", "--venue", "nowhere")

    assert (run.returncode, run.stdout) == (2, "")
    assert run.stderr == "CommandError: There is no house 'nowhere'.\n"
    assert manage("who_is_ready", "--bogus").returncode == 2
