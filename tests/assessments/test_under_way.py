"""A hire always finds again what they began: every kind, in one place, on both pages."""

from __future__ import annotations

import datetime as dt

import pytest

from assessments import record_calls, record_quiz, record_set
from assessments.measures.call_writing import CallKind
from assessments.models import DrillFor
from assessments.under_way import under_way
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories.assessments import NOW, SEED
from tests.factories.people import hire as hire_somebody

PLAN = {
    "name": "Friday", "length": 6, "scenarios": 0, "cards": 0, "mix": [], "critical": [],
    "pass_mark": 80, "minutes": 10, "retake_hours": 0,
}  # fmt: skip


def module_quiz(tamsin, nils):
    return make.start_quiz(nils)


def planned_quiz(tamsin, nils):
    modules = [make.module_of(tamsin)]
    sheet = record_set.save_sheet(by=tamsin, sheet=None, said=PLAN, modules=modules, at=NOW)
    return record_quiz.start_sheet(by=nils, menu=make.menu_of(nils), sheet=sheet, seed=SEED, at=NOW)


def quiz_of_a_retired_plan(tamsin, nils):
    quiz = planned_quiz(tamsin, nils)
    record_set.retire_sheet(by=tamsin, sheet=quiz.sheet, at=NOW)
    return quiz


def drill(tamsin, nils):
    menu = make.menu_of(nils)
    one, other = (menu.by_slug[slug].recipe for slug in ("bay-breeze", "sea-breeze"))
    record_set.set_drill(by=tamsin, one=one, other=other, hires=[nils], at=NOW)
    return record_quiz.start_drill(
        by=nils, menu=menu, task=DrillFor.objects.get(), seed=SEED, at=NOW
    )


def try_out(tamsin, nils):
    row = record_set.offer_try_out(by=tamsin, hire=nils, at=NOW)
    menu = make.menu_of(nils)
    return record_quiz.start_try_out(by=nils, menu=menu, try_out=row, seed=SEED, at=NOW)


def calls(tamsin, nils):
    menu = make.menu_of(nils)
    return record_calls.start_calls(by=nils, menu=menu, kind=CallKind.ROUND, seed=SEED, at=NOW)


def rush(tamsin, nils):
    menu = make.menu_of(nils)
    return record_calls.start_calls(by=nils, menu=menu, kind=CallKind.RUSH, seed=SEED, at=NOW)


KINDS = {
    "Highballs": module_quiz,
    "Friday": planned_quiz,
    "Friday, its plan out of use": quiz_of_a_retired_plan,
    "Bay breeze / Sea breeze": drill,
    "Try-out": try_out,
    "Call practice: whole rounds": calls,
}


@pytest.mark.parametrize("room", ["next_shift", "modules"])
@pytest.mark.parametrize(("name", "begin"), KINDS.items(), ids=KINDS)
def test_what_was_begun_is_found_again_and_goes_on(visit, tamsin, nils, room, name, begin):
    row = begin(tamsin, nils)
    there = address(nils, "call_run" if begin is calls else "quiz", code=row.code)

    page = visit(nils).get(address(nils, room))
    assert f"You are in the middle of {name.split(',')[0]} begun" in text(page)
    assert page.content.decode().count(f'href="{there}"') == 1
    assert visit(nils).get(there).status_code == 200


def test_it_stands_in_one_place(visit, tamsin, nils):
    drill(tamsin, nils)
    try_out(tamsin, nils)
    said = text(visit(nils).get(address(nils, "next_shift")))

    assert "Set for you" not in said
    assert said.count("Go on") == 2


def test_what_has_ended_by_its_clock_stays_until_its_result_was_seen(visit, tamsin, nils):
    quiz = planned_quiz(tamsin, nils)
    assert [b.quiz for b in under_way(nils, NOW)] == [quiz]

    late = NOW + dt.timedelta(minutes=11)
    record_quiz.close_quiz(by=nils, quiz=quiz, at=late)
    assert under_way(nils, late) == []


def test_the_newest_comes_first_and_a_fellow_s_are_none_of_mine(odalys, tamsin, nils):
    module_quiz(tamsin, nils)
    menu = make.menu_of(nils)
    later = NOW + dt.timedelta(minutes=1)
    run = record_calls.start_calls(by=nils, menu=menu, kind=CallKind.SINGLE, seed=SEED, at=later)

    assert [b.calls for b in under_way(nils, later)] == [run, None]
    assert under_way(hire_somebody(odalys, "Bo"), later) == []


@pytest.mark.parametrize("room", ["next_shift", "modules"])
@pytest.mark.parametrize(
    ("begin", "result"),
    [(planned_quiz, "quiz_result"), (try_out, "quiz_result"), (rush, "call_result")],
    ids=["quiz", "try-out", "rush"],
)
def test_what_has_its_time_up_is_said_so_and_leads_to_its_result(
    visit, tamsin, nils, room, begin, result, time_machine
):
    row, browser = begin(tamsin, nils), visit(nils)
    assert "Its time was up" not in text(browser.get(address(nils, room)))
    going_on = make.start_quiz(nils)
    time_machine.move_to(row.ends_at + dt.timedelta(minutes=2), tick=False)

    page = browser.get(address(nils, room))
    assert text(page).count("Go on") == 1
    assert f'href="{address(nils, "quiz", code=going_on.code)}"' in page.content.decode()
    assert "Its time was up" in text(page)
    there = address(nils, "call_run" if begin is rush else "quiz", code=row.code)
    assert f'action="{there}"' in page.content.decode()

    assert browser.send(there, {})["Location"] == address(nils, result, code=row.code)
    assert "Its time was up" not in text(browser.get(address(nils, room)))
