"""A quiz whose time is up and that nobody has closed is told of, and no page closes it."""

from __future__ import annotations

import datetime as dt
import json
from io import StringIO

import pytest
from django.core.management import call_command

from assessments import record_quiz
from assessments.measures.call_writing import CallKind
from assessments.models import Quiz, QuizResult
from assessments.run_out import run_out_in, run_out_of
from barcourse.papers import training_record
from tests.assessments.pages import address, text
from tests.assessments.test_under_way import planned_quiz
from tests.factories import assessments as make
from tests.factories import calls
from tests.factories.assessments import NOW

LATE = NOW + dt.timedelta(minutes=30)
TOLD = "2 right, 1 asked, 0 wrong, 3 not answered time is up, not closed yet"


@pytest.fixture
def left_open(tamsin, nils, time_machine) -> Quiz:
    """A planned quiz of six questions, three of them answered; its ten minutes are over."""
    quiz = make.answer(planned_quiz(tamsin, nils), most=2)
    make.answer(quiz, make.ask, most=1)
    time_machine.move_to(LATE, tick=False)
    return quiz


def test_it_is_told_from_the_moment_its_time_is_up_until_it_is_closed(nils, left_open):
    assert run_out_of(nils, left_open.ends_at) == []
    [told] = run_out_of(nils, LATE)
    assert (told.right, told.ask, told.wrong, told.left) == (2, 1, 0, 3)
    [in_house] = run_out_in(nils.venue, LATE)
    assert (in_house.quiz, in_house.hire) == (left_open, nils)

    record_quiz.close_quiz(by=nils, quiz=left_open, at=LATE)
    assert run_out_of(nils, LATE) == run_out_in(nils.venue, LATE) == []


def test_it_stands_wherever_results_stand_and_nothing_is_written(visit, tamsin, nils, left_open):
    pages = [
        (nils, address(nils, "my_record")),
        (tamsin, address(tamsin, "hire_record", code=nils.code)),
        (tamsin, address(tamsin, "quiz_sheets")),
    ]
    for who, path in pages:
        page = visit(who).get(path)
        assert TOLD in text(page), path
        link = address(nils, "quiz_result", code=left_open.code)
        assert f'href="{link}"' in page.content.decode(), path
    assert not QuizResult.objects.exists()


def test_whoever_sees_records_reads_what_was_answered(visit, tamsin, nils, left_open):
    path = address(tamsin, "quiz_result", code=left_open.code)
    said = text(visit(tamsin).get(path))

    assert "and it is not closed yet. So far 2 of 6 right." in said
    assert (said.count("No answer"), said.count("I'd ask")) == (3, 1)
    assert "Record of Nils" in said
    assert "passed" not in said
    assert not QuizResult.objects.exists()
    visit(nils).send(address(nils, "quiz", code=left_open.code), {"item": "1"})
    assert "not closed yet" not in text(visit(tamsin).get(path))


def test_before_that_nobody_else_reads_a_quiz(visit, tamsin, nils):
    quiz = planned_quiz(tamsin, nils)
    path = address(tamsin, "quiz_result", code=quiz.code)
    assert visit(tamsin).get(path).status_code == 404


def test_a_result_is_linked_from_the_record_for_whoever_may_see_it(visit, tamsin, nils):
    quiz = make.take_quiz(nils, answering=make.wrong)
    page = visit(tamsin).get(address(tamsin, "hire_record", code=nils.code))
    path = address(tamsin, "quiz_result", code=quiz.code)
    assert f'href="{path}"' in page.content.decode()

    read = visit(tamsin).get(path)
    assert "Not passed yet: 0 of" in text(read)
    assert "You said" not in text(read)
    assert "Another quiz" not in text(read)


def close(**said):
    out = StringIO()
    call_command("close_quizzes", stdout=out, **said)
    return out.getvalue()


def test_a_command_closes_what_ran_out_and_nothing_else(nils, tamsin, left_open):
    rush = calls.start(nils, NOW, CallKind.RUSH)
    going = make.start_quiz(nils, at=LATE)  # a module's own quiz has no end
    told = json.loads(close(as_json=True))["closed"]
    assert [row["what"] for row in told] == ["quiz"]
    assert told[0]["person"] == nils.code
    assert told[0]["ended"] == left_open.ends_at.isoformat(timespec="seconds")

    result = QuizResult.objects.get()
    assert (result.quiz, result.at) == (left_open, left_open.ends_at)
    assert (result.right, result.would_ask, result.wrong) == (2, 4, 0)
    rush.refresh_from_db()
    going.refresh_from_db()
    assert (rush.finished_at, going.finished_at) == (None, None)
    assert close() == "Closed: 0.\n"


def test_a_rush_that_ran_out_is_closed_too(nils, time_machine):
    run = calls.start(nils, NOW, CallKind.RUSH)
    time_machine.move_to(LATE + dt.timedelta(minutes=1), tick=False)

    assert "rush of " + nils.code in close(venue=nils.venue.slug)
    run.refresh_from_db()
    assert run.finished_at == run.ends_at


def test_training_record_lists_what_ran_out(nils, tamsin, left_open):
    menu = make.menu_of(tamsin, LATE)
    facts = training_record.facts_of(nils, menu, reader=tamsin)

    [row] = facts.asked
    assert (row.right, row.ask, row.wrong, row.left) == (2, 1, 0, 3)
    assert row.came == "time is up, not closed yet; 3 not answered"
    assert dict(facts.glance)["Quizzes passed"] == "0 of 0"
    assert row.came in training_record.record_csv(facts)
