"""Which shift somebody works, and that everybody who asks about a shift is told the same of it."""

from __future__ import annotations

import datetime as dt

import pytest

from assessments import tasks
from assessments.board_look import Look, look_at
from assessments.measures.sales_mix import ShiftKind
from assessments.overrides import stands_on
from assessments.shifts import Shift, asked_at, moment_of, reckoned, when_of, worked_from
from barcourse.people import permits
from recipes.menu import menu_at
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.policies import ask_for, station

SATURDAY = dt.date(2026, 3, 7)
"""The day of NOW, three in the afternoon in Lisbon, where clocks stand on UTC in winter."""


@pytest.mark.parametrize(
    ("day", "hour", "of", "kind"),
    [
        (6, 15, 6, ShiftKind.WEEKEND_EARLY),
        (6, 18, 6, ShiftKind.WEEKEND_EARLY),
        (6, 19, 6, ShiftKind.WEEKEND_LATE),  # most of it is from ten on
        (6, 22, 6, ShiftKind.WEEKEND_LATE),
        (7, 1, 6, ShiftKind.WEEKEND_LATE),  # the night of Friday, past midnight
        (8, 12, 8, ShiftKind.WEEK_EARLY),
        (8, 22, 8, ShiftKind.WEEK_LATE),
    ],
)
def test_a_shift_is_what_it_mostly_is(house, day, hour, of, kind):
    begins = dt.datetime(2026, 3, day, hour, tzinfo=dt.UTC)

    assert worked_from(house, begins) == Shift(dt.date(2026, 3, of), kind)


def test_without_a_shift_it_is_the_menu_s_moment(nils):
    found = reckoned(menu_at(nils.venue, LATER), None)

    assert (found.menu.at, found.shift, found.asked.shift) == (LATER, None, None)


@pytest.mark.parametrize(
    ("kind", "day", "when"),
    [
        (None, None, None),
        (None, 7, None),  # today is now
        (None, 6, None),
        (None, 10, dt.date(2026, 3, 10)),
        (ShiftKind.WEEKEND_LATE, None, Shift(SATURDAY, ShiftKind.WEEKEND_LATE)),
        (ShiftKind.WEEKEND_LATE, 1, Shift(SATURDAY, ShiftKind.WEEKEND_LATE)),
        (ShiftKind.WEEKEND_LATE, 8, Shift(dt.date(2026, 3, 13), ShiftKind.WEEKEND_LATE)),
        (ShiftKind.WEEK_EARLY, None, Shift(dt.date(2026, 3, 8), ShiftKind.WEEK_EARLY)),
    ],
)
def test_what_an_address_asks_for(nils, kind, day, when):
    found = when_of(nils.venue, LATER, kind, dt.date(2026, 3, day) if day else None)

    assert found == when
    menu = reckoned(menu_at(nils.venue, LATER), when).menu
    assert menu.at == moment_of(nils.venue, LATER, kind, dt.date(2026, 3, day) if day else None)


@pytest.mark.parametrize("slug", ["well", "bar-back"])
def test_board_and_person_are_told_the_same_of_a_shift(odalys, marek, nils, slug):
    """A permit that holds to the end of Saturday by the calendar holds its early shift, and not the
    late one, which goes on into Sunday."""
    make.take_quiz(nils, make.GATE)
    ask_for(odalys, permits=("serving",))
    permits.add_permit(by=marek, member=nils, kind="serving", valid_until=SATURDAY, at=NOW)

    lacking = {}
    for kind in (ShiftKind.WEEKEND_EARLY, ShiftKind.WEEKEND_LATE):
        shift, at = Shift(SATURDAY, kind), moment_of(nils.venue, LATER, kind)
        stand = stands_on(nils, station(nils, slug), shift, LATER)
        menu = menu_at(nils.venue, at)
        if slug == "well":
            [row] = look_at(menu, [nils], Look(station(nils), kind)).rows
        else:
            asked = asked_at(nils.venue, at, kind)
            [row] = tasks.task_rows(station(nils, slug), [nils], at, asked)
        assert stand.missing == row.verdict.missing
        lacking[kind] = "permit_ran_out" in {reason.code for reason in stand.missing}
    assert lacking == {ShiftKind.WEEKEND_EARLY: False, ShiftKind.WEEKEND_LATE: True}
