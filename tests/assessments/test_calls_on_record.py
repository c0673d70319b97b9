"""Call practice moves the figures, so whoever decides sees it, and so does the hire."""

import datetime as dt

import pytest
import time_machine

from assessments.calls_done import in_all, runs_done
from assessments.measures.call_writing import CallKind
from barcourse.papers import training_record
from recipes.menu import menu_at
from tests.assessments.pages import address, text
from tests.factories import calls as make
from tests.factories.assessments import LATER, NOW
from tests.papers.sheets import text_of

pytestmark = pytest.mark.django_db
SECOND = NOW + dt.timedelta(minutes=5)


def begun(nils, many, building=make.ask, kind=CallKind.SINGLE, at=SECOND, ms=4000):
    """A run in which so many calls were answered, and that lies open."""
    run = make.start(nils, at, kind)
    for call in run.calls.filter(answer__isnull=True).select_related("run")[:many]:
        given = [building(drink) for drink in make.asked_of(call).drinks]
        make.record_calls.answer_call(by=nils, call=call, given=given, milliseconds=ms, at=at)
    return run


@pytest.fixture
def practised(nils):
    """Two whole rounds right, one wrong; then two calls asked of, in a run that lies open."""
    make.build(make.start(nils, NOW, CallKind.ROUND), NOW, ms=25_000)
    return begun(nils, 2)


def test_every_run_with_an_answer_is_told_the_newest_first(nils, practised):
    open_run, rounds = runs_done(nils)

    assert (open_run.run, open_run.at) == (practised, SECOND)
    assert vars(open_run.counts) == {"right": 0, "ask": 2, "wrong": 0}
    assert (open_run.left, open_run.seconds, open_run.minutes) == (3, 8, 1)
    assert open_run.stands == "3 still open"
    assert vars(rounds.counts) == {"right": 3, "ask": 0, "wrong": 0}
    assert (rounds.left, rounds.seconds, rounds.minutes, rounds.stands) == (0, 75, 2, "")
    assert vars(in_all(runs_done(nils))) == {"right": 3, "ask": 2, "wrong": 0}


def test_a_run_that_nobody_answered_and_a_time_that_nobody_knows(nils, tamsin):
    make.start(nils, NOW)
    assert runs_done(nils) == []
    begun(nils, 1, ms=None)

    [one] = runs_done(nils)
    assert (one.seconds, one.minutes) == (None, None)
    assert runs_done(tamsin) == []


def test_what_a_rush_left_is_not_answered(nils):
    run = begun(nils, 3, kind=CallKind.RUSH)
    make.record_calls.close_calls(by=nils, run=run, at=SECOND + dt.timedelta(hours=2))

    [one] = runs_done(nils)
    assert (one.stands, one.at) == ("17 not answered", SECOND)


@pytest.mark.parametrize("who", ["nils", "tamsin", "marek"])
def test_the_record_shows_it_to_the_hire_and_to_who_decides(visit, request, nils, who):
    reader = request.getfixturevalue(who)
    page = ("my_record", {}) if reader == nils else ("hire_record", {"code": nils.code})
    assert "No call practised yet." in text(visit(reader).get(address(nils, page[0], **page[1])))
    make.build(make.start(nils, NOW, CallKind.ROUND), NOW, ms=25_000)
    begun(nils, 2)

    with time_machine.travel(LATER, tick=False):
        answer = visit(reader).get(address(nils, page[0], **page[1]))
    said = text(answer)

    assert "Call practice 3 right, 2 asked, 0 wrong" in said
    assert "One drink at a time March 7, 2026: 0 right, 2 asked, 0 wrong, 3 still open" in said
    assert "Whole rounds March 7, 2026: 3 right, 0 asked, 0 wrong 2 min" in said


def test_older_runs_are_folded(visit, nils):
    for n in range(7):
        make.build(make.start(nils, NOW, seed=n), NOW, make.ask)

    said = text(visit(nils).get(address(nils, "my_record")))

    assert "0 right, 35 asked, 0 wrong" in said
    assert "2 older runs" in said


def test_the_training_record_has_every_run_on_paper_and_in_the_sheet(nils, practised):
    facts = training_record.facts_of(nils, menu_at(nils.venue, LATER), reader=nils)

    first, second = facts.called
    assert (first.kind, first.right, first.minutes, first.left) == ("whole rounds", 3, 2, "")
    assert (second.ask, second.seconds, second.left) == (2, 8, "3 still open")
    rows = training_record.record_csv(facts).splitlines()
    assert "call practice,2026-03-07,whole rounds,,,,75,3,0,0,,,," in rows
    assert "call practice,2026-03-07,one drink at a time,,,,8,0,2,0,3 still open,,," in rows
    on_paper = text_of(training_record.record_pdf(facts))
    for said in ("Call practice", "whole rounds", "one drink at a time", "3 still open"):
        assert said in on_paper


def test_a_record_without_calls_says_nothing_of_them(nils):
    facts = training_record.facts_of(nils, menu_at(nils.venue, LATER), reader=nils)

    assert facts.called == ()
    assert "Call practice" not in text_of(training_record.record_pdf(facts))


def test_all_runs_are_read_in_one_query(nils, practised, django_assert_num_queries):
    with django_assert_num_queries(1):
        runs_done(nils)
