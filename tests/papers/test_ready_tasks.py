"""A station that takes no orders, on paper and as CSV: as its page says it, for the same shift."""

import csv
import io
from dataclasses import replace

import pytest

from assessments.measures.sales_mix import ShiftKind
from assessments.shifts import Shift
from assessments.task_board import task_board
from barcourse.papers import ready_tasks
from tests.assessments.pages import address
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.policies import ask_for, let, station
from tests.factories.recipes import DAY
from tests.papers.sheets import text_of


@pytest.fixture
def barback(odalys, marek, nils):
    """Nils lacks a permit on late weekends alone, and is let stand on one of them."""
    make.take_quiz(nils, make.GATE, at=NOW)
    let(marek, nils, "bar-back", at=LATER, reason="Two are ill.")
    ask_for(odalys, "bar-back", ShiftKind.WEEK_LATE, permits=("serving",))
    return station(nils, "bar-back")


def board_of(barback, when=None):
    return task_board(barback, make.menu_of(barback.venue.memberships.first(), LATER), when)


def rows_of(found):
    return list(csv.DictReader(io.StringIO(found.removeprefix("\ufeff"))))


def test_paper_and_csv_tell_each_thing_that_is_missing_and_its_mend(barback):
    found = board_of(barback)
    [(row, _once)] = found.rows
    paper = text_of(ready_tasks.tasks_pdf(ready_tasks.facts_of(found, None)))
    [line] = rows_of(ready_tasks.tasks_csv(ready_tasks.facts_of(found, None)))

    assert row.mends
    for what, how in row.mends:
        assert what in paper
        assert how in paper
        assert what in line["what is missing"]
        assert how in line["how to mend it"]
    assert "Nils second for one shift, Saturday, March 7, 2026" in paper
    assert "on the word of Marek: Two are ill." in line["for one shift"]
    assert (line["standing"], line["missing"]) == ("second", str(len(row.mends)))
    assert "nobody countersigns them" in paper
    assert "local law decides" in paper


def test_both_are_of_the_shift_that_is_asked_for(barback):
    other = Shift.of(barback.venue, LATER.date() + 2 * DAY, late=True)
    facts = ready_tasks.facts_of(board_of(barback, other), other)

    assert f"reckoned for {other.when}" in text_of(ready_tasks.tasks_pdf(facts))
    assert "permit to serve alcohol" in rows_of(ready_tasks.tasks_csv(facts))[0]["what is missing"]
    now = ready_tasks.facts_of(board_of(barback), None)
    assert "permit" not in rows_of(ready_tasks.tasks_csv(now))[0]["what is missing"]


def test_nobody_is_said_too(barback):
    facts = ready_tasks.facts_of(board_of(barback), None)

    assert "Nobody." in text_of(ready_tasks.tasks_pdf(replace(facts, lines=())))


def test_the_page_leads_to_both(visit, marek, barback):
    browser, query = visit(marek), "station=bar-back&shift=week-late"
    page = browser.get(f"{address(marek, 'ready_tasks')}?{query}").content.decode()

    for name, kind in (("ready_tasks_pdf", "application/pdf"), ("ready_tasks_csv", "text/csv")):
        there = f"{address(marek, name)}?{query}"
        assert there.replace("&", "&amp;") in page
        answer = browser.get(there)
        assert answer["Content-Type"].startswith(kind)
        assert "bar-back-" in answer["Content-Disposition"]
        assert browser.get(f"{address(marek, name)}?station=well").status_code == 404
        assert browser.get(f"{address(marek, name)}?shift=lunch").status_code == 404
