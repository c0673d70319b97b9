"""Somebody stands for one shift on a manager's word: when, who may never, and that it ends."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from assessments.board import board
from assessments.measures.sales_mix import ShiftKind
from assessments.models import Override, OverrideEnd
from assessments.overrides import standing_once, stands_on, would_end
from assessments.policy import EVERYWHERE, opening
from assessments.record_policy import FURTHEST, end_override
from assessments.sales import as_sold
from assessments.shifts import Shift, asked_on, coming_shift
from barcourse.people import enrol, log, permits
from barcourse.people.models import Membership, PersonalText
from barcourse.people.reasons import Refused
from recipes.menu import menu_at
from tests.assessments.pages import address, text
from tests.assessments.test_board import only_must_knows, prove
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.people import hire as hire_somebody
from tests.factories.policies import ask_for, let, station
from tests.factories.recipes import DAY

SATURDAY = dt.date(2026, 3, 7)
"""The day of NOW, three in the afternoon in Lisbon, where clocks stand on UTC in winter."""


def utc(day: int, hour: int) -> dt.datetime:
    return dt.datetime(2026, 3, day, hour, tzinfo=dt.UTC)


@pytest.mark.parametrize(
    ("day", "late", "kind", "hours"),
    [
        (SATURDAY, False, ShiftKind.WEEKEND_EARLY, (utc(7, 5), utc(7, 22))),
        (SATURDAY, True, ShiftKind.WEEKEND_LATE, (utc(7, 22), utc(8, 5))),
        (dt.date(2026, 3, 8), True, ShiftKind.WEEK_LATE, (utc(8, 22), utc(9, 5))),
        # on the 29th the clocks jump an hour on at one in the morning
        (dt.date(2026, 3, 28), True, ShiftKind.WEEKEND_LATE, (utc(28, 22), utc(29, 4))),
    ],
)
def test_a_shift_has_its_hours(house, day, late, kind, hours):
    shift = Shift.of(house, day, late=late)

    assert (shift.kind, shift.is_late) == (kind, late)
    assert shift.hours(house) == hours


@pytest.mark.parametrize(
    ("kind", "at", "day"),
    [
        (ShiftKind.WEEKEND_EARLY, NOW, 7),
        (ShiftKind.WEEKEND_LATE, NOW, 7),
        (ShiftKind.WEEKEND_LATE, utc(8, 4), 7),
        (ShiftKind.WEEKEND_LATE, utc(8, 5), 13),
        (ShiftKind.WEEK_EARLY, NOW, 8),
        (ShiftKind.WEEKEND_EARLY, utc(7, 22), 13),
    ],
)
def test_the_shift_that_is_on_or_comes_next(house, kind, at, day):
    assert coming_shift(house, at, kind) == Shift(dt.date(2026, 3, day), kind)


def once(nils, at=NOW):
    return standing_once(nils.venue, at).get((nils.pk, station(nils).pk), [])


def test_it_stands_until_its_shift_is_over_and_is_logged(marek, nils):
    make.take_quiz(nils, make.GATE)
    row = let(marek, nils)

    [found] = once(nils)
    assert (found.row, found.reason, found.by) == (row, "Two are ill.", "Marek")
    assert found.when == "Saturday, March 7, 2026, from ten in the evening on"
    assert once(nils, utc(8, 4))
    assert once(nils, utc(8, 5)) == []
    assert once(nils, NOW - DAY) == []
    entry = nils.venue.log_entries.latest("number")
    assert (entry.kind, entry.subject_code) == ("let_stand_once", nils.code)
    assert entry.facts == {"station": "well", "day": "2026-03-07", "shift": "weekend-late"}
    assert "ill" not in str(entry.facts)
    assert log.check(nils.venue) == []


def test_why_can_be_erased_and_goes_with_the_person(odalys, marek, nils):
    make.take_quiz(nils, make.GATE)
    row = let(marek, nils)
    enrol.erase_text(by=odalys, text=PersonalText.objects.get(code=row.reason_code), at=LATER)

    [found] = once(nils, LATER)
    assert found.reason == ""
    assert log.check(nils.venue) == []


def test_it_is_taken_back(marek, nils):
    make.take_quiz(nils, make.GATE)
    row = let(marek, nils)

    end_override(by=marek, override=row, at=LATER)

    assert once(nils, LATER) == []
    with pytest.raises(Refused, match="override_ended_already"):
        end_override(by=marek, override=row, at=LATER)
    let(marek, nils, at=LATER)
    with pytest.raises(Refused, match="override_shift_is_over"):
        end_override(by=marek, override=Override.objects.latest("pk"), at=NOW + 2 * DAY)
    assert OverrideEnd.objects.count() == 1


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ({"reason": "  "}, "override_needs_reason"),
        ({"days": -1}, "override_shift_is_over"),
        ({"late": False, "at": utc(7, 22)}, "override_shift_is_over"),
        ({"days": FURTHEST.days + 1}, "override_too_far"),
    ],
)
def test_a_word_that_makes_no_sense_is_refused(marek, nils, said, code):
    make.take_quiz(nils, make.GATE)
    with pytest.raises(Refused, match=code):
        let(marek, nils, **said)
    assert not Override.objects.exists()


def test_not_twice_for_one_shift(marek, nils):
    make.take_quiz(nils, make.GATE)
    let(marek, nils)
    with pytest.raises(Refused, match="override_there_already"):
        let(marek, nils)
    let(marek, nils, late=False)
    let(marek, nils, "beer-point")
    assert Override.objects.count() == 3


def test_nobody_for_themselves_and_nobody_of_another_house(marek, nils, ravna):
    make.take_quiz(nils, make.GATE)
    for by in (nils, ravna):
        with pytest.raises(Refused):
            let(by, nils)
    row = let(marek, nils)
    for by in (nils, ravna):
        with pytest.raises(Refused):
            end_override(by=by, override=row, at=NOW)
    assert once(nils)


@pytest.mark.parametrize("slug", ["well", "bar-back"])
def test_never_without_the_safety_module(marek, nils, slug):
    with pytest.raises(Refused, match="override_not_safety"):
        let(marek, nils, slug)
    make.take_quiz(nils, make.GATE)
    assert let(marek, nils, slug)


@pytest.mark.parametrize(
    ("days", "late", "may"),
    [(0, False, True), (0, True, False), (1, False, False)],
)
def test_never_past_a_permit_nor_into_its_last_night(odalys, marek, nils, days, late, may):
    """It holds to the end of Saturday by the calendar; the late shift goes on into Sunday."""
    make.take_quiz(nils, make.GATE)
    ask_for(odalys, permits=("serving",))
    permits.add_permit(by=marek, member=nils, kind="serving", valid_until=SATURDAY, at=NOW)
    if may:
        assert let(marek, nils, days=days, late=late)
        return
    with pytest.raises(Refused, match="override_not_permit"):
        let(marek, nils, days=days, late=late)


def test_what_will_be_asked_for_on_that_day_counts(odalys, marek, nils):
    make.take_quiz(nils, make.GATE)
    ask_for(odalys, permits=("serving",), from_day=SATURDAY + dt.timedelta(days=2))

    assert let(marek, nils, days=1)
    with pytest.raises(Refused, match="override_not_permit"):
        let(marek, nils, days=2)


def test_what_is_missing_is_told_for_the_time_of_the_shift(odalys, marek, tamsin, nils):
    """As the board says of it: what is known today is partly forgotten by then."""
    prove(tamsin, nils)
    low = []
    for weeks in (1, 4):
        shift = Shift.of(nils.venue, (LATER + weeks * 7 * DAY).date(), late=True)
        stand = stands_on(nils, station(nils), shift, LATER)
        menu = as_sold(menu_at(nils.venue, shift.hours(nils.venue)[0]), shift.kind)
        [row] = board(station(nils), menu, [nils], asked=asked_on(nils.venue, shift, LATER))
        too_low = {"right_too_low", "right_below_second"}
        assert [r for r in stand.missing if r.code in too_low] == [
            r for r in row.verdict.missing if r.code in too_low
        ]
        low.append(row.right_low)
    assert low[1] < low[0]


def test_whoever_is_ready_needs_no_word(odalys, marek, tamsin, nils):
    only_must_knows(odalys)
    prove(tamsin, nils)
    with pytest.raises(Refused, match="override_not_needed"):
        let(marek, nils, at=LATER)


def test_a_word_given_before_holds_no_more_once_the_law_bars(odalys, marek, nils, visit):
    """It was given lawfully; then the house asked for a permit that the hire doesn't hold."""
    make.take_quiz(nils, make.GATE)
    let(marek, nils)
    [before] = once(nils)
    assert before.barred == ""

    ask_for(odalys, permits=("serving",), at=NOW)
    [after] = once(nils)
    says = "The house asks for a permit that isn't on record:"
    assert after.barred.startswith(says)
    board = text(visit(marek).get(address(marek, "who_is_ready")))
    assert "Said for one shift, and holds no more" in board
    form = text(visit(marek).get(address(marek, "once", hire=nils.code) + "?station=well"))
    assert f"It holds no more: {says}" in form[form.index("Said already") :]
    csv = visit(marek).get(address(marek, "ready_csv")).content.decode()
    assert f"holds no more: {says}" in csv

    permits.add_permit(by=odalys, member=nils, kind="serving", at=NOW)
    assert once(nils)[0].barred == ""


def test_what_a_policy_would_end_is_known_before(odalys, marek, nils):
    make.take_quiz(nils, make.GATE)
    let(marek, nils)
    let(marek, nils, days=3)
    asks = replace(opening(nils.venue), permits=("serving",))

    def ended(scope=EVERYWHERE, policy=asks, from_day=None):
        found = would_end(nils.venue, scope, policy, from_day, NOW)
        return [(one.row.day - SATURDAY).days for one in found]

    assert ended() == [0, 3]
    assert ended(from_day=SATURDAY + dt.timedelta(days=1)) == [3]
    assert ended((station(nils).pk, ShiftKind.WEEKEND_LATE.value)) == [0]
    assert ended((station(nils, "service-bar").pk, "")) == []
    assert ended(policy=opening(nils.venue)) == []
    ask_for(odalys, permits=("serving",))
    assert ended() == []  # they hold no more already


def test_whether_words_hold_costs_as_much_for_two_as_for_one(
    odalys, marek, nils, django_assert_max_num_queries
):
    """A board shows them: the law's gates of all are gathered together."""
    ask_for(odalys, permits=("serving",))
    for hire in (nils, hire_somebody(odalys, "Bo")):
        make.take_quiz(hire, make.GATE)
        permits.add_permit(by=odalys, member=hire, kind="serving", at=NOW)
    let(marek, nils)
    with CaptureQueriesContext(connection) as for_one:
        assert len(standing_once(nils.venue, NOW)) == 1
    let(marek, Membership.objects.get(person__name="Bo"))

    with django_assert_max_num_queries(len(for_one)):
        found = standing_once(nils.venue, NOW)
    assert [one.barred for ones in found.values() for one in ones] == ["", ""]
