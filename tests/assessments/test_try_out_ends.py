"""A try-out can be taken back, ended early and closed; its page says where it stands."""

from __future__ import annotations

import datetime as dt

import pytest

from assessments import record_quiz, record_set
from assessments.models import QuizResult, TryOut
from assessments.models.sheet import Stands
from barcourse.people import log
from barcourse.people.models import LogEntry
from tests.assessments.pages import address, text
from tests.assessments.test_pages_set import refused
from tests.factories import assessments as make
from tests.factories.assessments import NOW, SEED
from tests.factories.people import hire as hire_somebody

SOON, LATE = NOW + dt.timedelta(minutes=5), NOW + dt.timedelta(minutes=26)


@pytest.fixture
def offered(tamsin, nils) -> TryOut:
    return record_set.offer_try_out(by=tamsin, hire=nils, at=NOW)


@pytest.fixture
def running(offered, nils) -> TryOut:
    """Begun, three questions answered rightly."""
    menu = make.menu_of(nils)
    quiz = record_quiz.start_try_out(by=nils, menu=menu, try_out=offered, seed=SEED, at=NOW)
    for _ in range(3):
        make.answer(quiz, most=1)
    offered.refresh_from_db()
    return offered


def kinds():
    return [entry.kind for entry in LogEntry.objects.order_by("-pk")[:2]]


def test_one_that_nobody_began_is_taken_back(visit, tamsin, nils, offered):
    page, browser = address(tamsin, "try_out", code=nils.code), visit(tamsin)
    assert "A try-out waits on their next shift. Take it back" in text(browser.get(page))
    end = address(tamsin, "try_out_end", tried=offered.code)
    said = text(browser.send(end, {}, follow=True))

    assert "Taken back." in said
    assert "Offer a try-out" in said
    assert not TryOut.objects.exists()
    assert kinds()[0] == "try_out_taken_back"
    assert "Begin the try-out" not in text(visit(nils).get(address(nils, "next_shift")))
    assert browser.send(end, {}).status_code == 404


def test_what_was_taken_back_meanwhile_is_not_begun(tamsin, nils, offered):
    record_quiz.end_try_out(by=tamsin, try_out=offered, at=NOW)
    menu = make.menu_of(nils)
    args = {"menu": menu, "try_out": offered, "seed": SEED, "at": NOW}
    refused("try_out_taken_back", record_quiz.start_try_out, by=nils, **args)
    record_quiz.end_try_out(by=tamsin, try_out=offered, at=NOW)


def test_while_it_runs_the_page_says_so_and_ends_it(visit, tamsin, nils, running, time_machine):
    assert running.stands(NOW) is Stands.RUNS
    page, browser = address(tamsin, "try_out", code=nils.code), visit(tamsin)
    said = text(browser.get(page))
    assert "Under way: begun" in said
    assert "waits on their next shift" not in said

    time_machine.move_to(SOON, tick=False)
    end = address(tamsin, "try_out_end", tried=running.code)
    said = text(browser.send(end, {}, follow=True))
    assert "Ended. What was answered counts." in said
    assert "What the try-out of" in said

    running.refresh_from_db()
    result = QuizResult.objects.get()
    assert (result.hire, result.right, result.wrong) == (nils, 3, 0)
    assert running.finished_at == result.at == SOON
    assert kinds()[0] == "quiz_finished"
    assert log.check(nils.venue) == []


def test_who_takes_it_may_end_it_and_nothing_more_is_asked(visit, nils, running, time_machine):
    time_machine.move_to(SOON, tick=False)
    browser, path = visit(nils), address(nils, "quiz", code=running.quiz.code)
    end = address(nils, "try_out_end", tried=running.code)
    assert f'action="{end}"' in browser.get(path).content.decode()

    done = browser.send(end, {}, follow=True)
    assert "3 of 4 right." in text(done)
    sent = browser.send(path, {"item": "4", "choice": "-1"}, follow=True)
    assert "It had been ended by then." in text(sent)
    assert QuizResult.objects.count() == 1


def test_who_was_offered_one_does_not_take_it_back(visit, nils, offered):
    end = address(nils, "try_out_end", tried=offered.code)
    said = text(visit(nils).send(end, {}, follow=True))
    assert "whoever offered it can take it back" in said
    assert TryOut.objects.count() == 1


def test_nobody_ends_the_one_of_a_fellow(visit, odalys, running):
    fellow = hire_somebody(odalys, "Bo")
    end = address(fellow, "try_out_end", tried=running.code)
    assert visit(fellow).send(end, {}).status_code == 404


def test_when_its_time_is_up_what_was_answered_stands_there_and_it_is_closed(
    visit, tamsin, nils, running, time_machine
):
    time_machine.move_to(LATE, tick=False)
    page, browser = address(tamsin, "try_out", code=nils.code), visit(tamsin)
    said = text(browser.get(page))
    assert "Its time was up" in said
    assert "What the try-out of" in said
    assert not QuizResult.objects.exists()

    browser.send(address(tamsin, "try_out_end", tried=running.code), {})
    running.refresh_from_db()
    assert running.finished_at == QuizResult.objects.get().at == running.quiz.ends_at
    assert "Offer a try-out" in text(browser.get(page))


def test_a_new_one_closes_the_one_whose_time_is_up(tamsin, nils, running):
    row = record_set.offer_try_out(by=tamsin, hire=nils, at=LATE)
    assert row != running
    assert [t.stands(LATE) for t in TryOut.objects.newest_first()] == [
        Stands.OFFERED, Stands.OVER,
    ]  # fmt: skip


def test_all_try_outs_stand_in_one_list(visit, odalys, tamsin, nils, running, time_machine):
    time_machine.move_to(SOON, tick=False)
    record_quiz.end_try_out(by=nils, try_out=running, at=SOON)
    bo = hire_somebody(odalys, "Bo")
    record_set.offer_try_out(by=tamsin, hire=bo, at=SOON)
    browser = visit(tamsin)
    page = browser.get(address(tamsin, "try_outs"))

    assert "Bo A try-out waits on their next shift. offered by Tamsin" in text(page)
    assert "3 right, 1 asked or open, 0 wrong offered by Tamsin" in text(page)
    assert address(nils, "quiz_result", code=running.quiz.code) in page.content.decode()
    for room in (address(tamsin, "quiz_sheets"), address(tamsin, "try_out", code=bo.code)):
        assert address(tamsin, "try_outs") in browser.get(room).content.decode()


def test_on_a_first_next_shift_it_stands_above_the_lesson(visit, nils, offered):
    said = text(visit(nils).get(address(nils, "next_shift")))
    assert said.index("Begin the try-out") < said.index("Welcome. After the try-out")
