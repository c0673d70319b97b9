"""Minutes studied: on one's own page, on the manager's, and as a sheet for payroll."""

import csv
import io
from datetime import timedelta

import pytest

from assessments import record_calls
from assessments.measures.call_writing import CallAsked, CallKind
from assessments.study_time import sheet, studied
from barcourse.people import enrol
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.recipes import DAY

SECOND = timedelta(seconds=1)


def turn(hire, *seconds, at=NOW):
    for s in seconds:
        make.turn_card(hire, "madras", at=at + s * SECOND, milliseconds=5000)


def minutes(hires, at=LATER, **said):
    found = studied(hires[0].venue, hires, at, **said)
    return [(s.hire.person.name, s.day.isoformat(), s.minutes) for s in found]


def test_a_sitting_of_cards_is_minutes_of_its_business_day(nils):
    turn(nils, 0, 30, 90)

    assert minutes([nils]) == [("Nils", "2026-03-07", 2)]


def test_questions_count_beside_cards(nils):
    turn(nils, 0)
    make.take_quiz(nils, at=NOW + 60 * SECOND)

    assert minutes([nils]) == [("Nils", "2026-03-07", 2)]


def test_calls_count_too(nils):
    run = record_calls.start_calls(
        by=nils, menu=make.menu_of(nils), kind=CallKind.SINGLE, seed=1, at=NOW
    )
    for number, call in enumerate(run.calls.order_by("position")):
        asked = CallAsked.from_json(call.asked)
        record_calls.answer_call(
            by=nils, call=call, given=[None] * len(asked.drinks), at=NOW + 45 * number * SECOND
        )

    assert minutes([nils]) == [("Nils", "2026-03-07", 4)]


def test_the_newest_day_comes_first_and_old_ones_are_left_out(nils, pia):
    turn(nils, 0)
    turn(pia, 0, at=NOW + DAY)
    turn(nils, 0, at=NOW + DAY)

    days = minutes([nils, pia], at=NOW + DAY + 60 * SECOND)
    assert days == [
        ("Nils", "2026-03-08", 1), ("Pia", "2026-03-08", 1), ("Nils", "2026-03-07", 1),
    ]  # fmt: skip
    assert len(minutes([nils, pia], at=NOW + DAY + 60 * SECOND, days=1)) == 2


def test_three_queries_however_many_people(nils, pia, tamsin, django_assert_num_queries):
    for hire in (nils, pia, tamsin):
        turn(hire, 0)

    with django_assert_num_queries(3):
        studied(nils.venue, [nils, pia, tamsin], LATER)


def test_the_sheet_says_paid_or_optional_and_is_no_formula(odalys, nils):
    turn(nils, 0)
    nils.person.name = "=1+1"
    [row] = studied(nils.venue, [nils], LATER)
    enrol.change_house(by=odalys, changes={"study_is_paid": False}, at=LATER)
    nils.venue.refresh_from_db()
    [later] = studied(nils.venue, [nils], LATER)

    paid, optional = list(csv.DictReader(io.StringIO(sheet([row, later]))))
    assert paid == {
        "person": "'=1+1", "code": nils.code, "day": "2026-03-07", "minutes": "1", "paid": "paid",
    }  # fmt: skip
    assert optional["paid"] == "optional"


@pytest.mark.parametrize(
    ("is_paid", "sentence", "own"),
    [
        (True, "The house pays these minutes.", "1 minute studied today, paid by the house."),
        (False, "These minutes are optional", "on your own time, as you like."),
    ],
)
def test_the_pages_say_whose_time_it_is(
    visit, odalys, marek, nils, time_machine, is_paid, sentence, own
):
    time_machine.move_to(LATER, tick=False)
    turn(nils, 0)
    if not is_paid:
        enrol.change_house(by=odalys, changes={"study_is_paid": False}, at=LATER)

    said = text(visit(marek).get(address(nils, "study")))
    assert sentence in said
    assert "Nils" in said
    assert own in text(visit(nils).get(address(nils, "next_shift")))
    out = visit(marek).get(address(nils, "study_csv"))
    assert out["Content-Disposition"].endswith('-minutes-2026-03-07.csv"')
    assert out.content.decode("utf-8-sig").startswith("person,code,day,minutes,paid")


def test_a_house_in_which_nobody_studied_says_so(visit, marek):
    assert "Nobody has studied lately." in text(visit(marek).get(address(marek, "study")))
