"""Minutes studied: on one's own page, on the manager's, and as a sheet for payroll."""

import csv
import io
from datetime import timedelta

import pytest

from assessments import record_calls, record_quiz, record_reading, record_set
from assessments.measures.call_writing import CallAsked, CallKind
from assessments.models import ReadingTime
from assessments.study_time import seconds_today, sheet, studied
from barcourse.people import enrol
from tests.assessments.pages import address, fields, text
from tests.assessments.test_pages_set import refused
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


def test_what_was_open_when_the_time_was_up_is_no_minute(nils, tamsin):
    plan = {
        "name": "Friday", "length": 5, "scenarios": 0, "cards": 0, "mix": [], "critical": [],
        "pass_mark": 80, "minutes": 10, "retake_hours": 0,
    }  # fmt: skip
    modules = [make.module_of(tamsin)]
    planned = record_set.save_sheet(by=tamsin, sheet=None, said=plan, modules=modules, at=NOW)
    quiz = record_quiz.start_sheet(by=nils, menu=make.menu_of(nils), sheet=planned, seed=1, at=NOW)
    record_quiz.close_quiz(by=nils, quiz=quiz, at=NOW + 11 * 60 * SECOND)

    assert minutes([nils], at=NOW + DAY) == []


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


def test_five_queries_however_many_people(nils, pia, tamsin, django_assert_num_queries):
    for hire in (nils, pia, tamsin):
        turn(hire, 0)

    with django_assert_num_queries(5):
        studied(nils.venue, [nils, pia, tamsin], LATER)


def test_the_sheet_says_paid_or_optional_and_is_no_formula(odalys, nils):
    turn(nils, 0)
    turn(nils, 0, at=NOW + 2 * DAY)
    nils.person.name = "=1+1"
    enrol.change_house(by=odalys, changes={"study_is_paid": False}, at=NOW + DAY)
    nils.venue.refresh_from_db()
    rows = studied(nils.venue, [nils], NOW + 3 * DAY)

    optional, paid = list(csv.DictReader(io.StringIO(sheet(rows))))
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
        enrol.change_house(by=odalys, changes={"study_is_paid": False}, at=NOW - DAY)

    said = text(visit(marek).get(address(nils, "study")))
    assert sentence in said
    assert "Nils" in said
    assert own in text(visit(nils).get(address(nils, "next_shift")))
    out = visit(marek).get(address(nils, "study_csv"))
    assert out["Content-Disposition"].endswith('-minutes-2026-03-07.csv"')
    assert out.content.decode("utf-8-sig").startswith("person,code,day,minutes,paid")


def test_a_house_in_which_nobody_studied_says_so(visit, marek):
    assert "Nobody has studied in these days." in text(visit(marek).get(address(marek, "study")))


def test_a_day_is_paid_by_the_rule_that_held_on_it(odalys, nils):
    """Paid, then optional from the second day on, then paid again from the fourth: days on which
    the rule changed are paid."""
    for n in range(5):
        turn(nils, 0, at=NOW + n * DAY)
    for n, is_paid in ((1, False), (3, True)):
        enrol.change_house(by=odalys, changes={"study_is_paid": is_paid}, at=NOW + n * DAY)
    nils.venue.refresh_from_db()

    found = studied(nils.venue, [nils], NOW + 5 * DAY)
    assert [s.is_paid for s in reversed(found)] == [True, True, False, True, True]


def test_a_period_is_chosen_for_page_and_sheet(visit, marek, nils, time_machine):
    time_machine.move_to(NOW + 40 * DAY, tick=False)
    for n in (0, 1, 2):
        turn(nils, 0, at=NOW + n * DAY)
    browser, chosen = visit(marek), "?first=2026-03-08&last=2026-03-09"

    said = text(browser.get(address(nils, "study") + chosen))
    assert "March 8, 2026 – March 9, 2026" in said  # as everywhere in the house
    out = browser.get(address(nils, "study_csv") + chosen).content.decode("utf-8-sig")
    assert [row["day"] for row in csv.DictReader(io.StringIO(out))] == ["2026-03-09", "2026-03-08"]
    assert "Nobody has studied in these days." in text(browser.get(address(nils, "study")))


@pytest.mark.parametrize("name", ["study", "study_csv"])
@pytest.mark.parametrize(
    "asked",
    ["?first=soon&last=2026-03-09", "?first=2026-03-09&last=2026-03-08", "?last=2026-03-09"],
)
def test_a_period_that_is_none_is_said_beside_its_field(visit, marek, name, asked):
    answer = visit(marek).get(address(marek, name) + asked)

    assert answer.status_code == 400
    assert "error" in answer.content.decode()


def test_the_page_says_what_is_paid_and_what_is_optional_in_all_and_by_day(
    visit, odalys, marek, nils, pia, time_machine
):
    for hire, days in ((nils, (0, 1, 2)), (pia, (2,))):
        for n in days:
            turn(hire, 0, at=NOW + n * DAY)
    enrol.change_house(by=odalys, changes={"study_is_paid": False}, at=NOW + DAY)
    time_machine.move_to(NOW + 3 * DAY, tick=False)

    said = text(visit(marek).get(address(marek, "study")))
    assert "Nils 2 minutes paid 1 minute optional Pia 1 minute optional Day by day" in said
    assert "March 9, 2026, optional 1 minute" in said
    assert "March 8, 2026, paid 1 minute" in said


def read(hire, seconds, at=NOW):
    module = make.module_of(hire, "service-and-safety")
    lesson = module.lessons.first()
    return record_reading.time_read(by=hire, module=module, lesson=lesson, seconds=seconds, at=at)


def test_reading_counts_and_a_text_no_longer_than_it_takes_once_a_day(nils):
    """The lesson is short: twenty seconds are all that it takes."""
    read(nils, 15)
    assert minutes([nils]) == [("Nils", "2026-03-07", 1)]
    assert read(nils, 600, NOW + 30 * SECOND).seconds == 5
    assert read(nils, 600, NOW + 60 * SECOND) is None
    assert read(nils, 600, NOW + DAY).seconds == 20

    assert [m for _, _, m in minutes([nils], at=NOW + DAY)] == [1, 1]


def test_reading_is_taken_off_the_minutes_of_the_day_and_paid_as_they_are(odalys, nils):
    read(nils, 20)
    assert seconds_today(nils, LATER) == 20
    [row] = csv.DictReader(io.StringIO(sheet(studied(nils.venue, [nils], LATER))))
    assert (row["minutes"], row["paid"]) == ("1", "paid")


def test_another_house_s_text_is_refused(nils, ravna):
    module = make.module_of(ravna)
    refused(
        "other_house", record_reading.time_read,
        by=nils, module=module, lesson=None, seconds=5, at=NOW,
    )  # fmt: skip


def test_the_page_tells_how_long_it_was_read(visit, nils, time_machine):
    time_machine.move_to(LATER, tick=False)
    lesson = make.module_of(nils, "service-and-safety").lessons.first()
    path = address(nils, "lesson", module="service-and-safety", lesson=lesson.slug)
    browser = visit(nils)
    send = address(nils, "module_reading", module="service-and-safety")
    sent = {**fields(browser.get(path), send), "seconds": "12"}

    assert browser.send(send, sent)["Location"] == path
    assert ReadingTime.objects.get().seconds == 12
    said = text(browser.get(address(nils, "next_shift")))
    assert "1 minute studied today" in said


@pytest.mark.parametrize("seconds", ["-1", "ages", "1e3", "99999"])
def test_seconds_that_are_none_are_a_404(visit, nils, seconds):
    send = address(nils, "module_reading", module="service-and-safety")
    sent = {"lesson": "", "seconds": seconds}

    assert visit(nils).send(send, sent).status_code == 404
    assert not ReadingTime.objects.exists()
