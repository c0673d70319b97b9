"""Builds that are passed and wait for their sign-off: what is told to whom."""

import datetime as dt

import pytest
import time_machine

from assessments import board, record
from assessments.measures.marking import HelpLevel
from assessments.waiting import reader_of, waiting_of
from barcourse.people import enrol
from tests.assessments.pages import address, text
from tests.assessments.test_board import station
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.recipes import MUST_KNOW

DRINK = MUST_KNOW[-1]
SOON = NOW + dt.timedelta(minutes=5)


def waiting(hire, at=LATER):
    return waiting_of([hire], make.menu_of(hire, at)).get(hire.pk, {})


def test_a_passed_build_waits_for_whoever_watched_it(tamsin, nils):
    build = make.watch(tamsin, nils, DRINK)

    found = waiting(nils)
    assert list(found) == [DRINK]
    assert found[DRINK][:3] == (build.code, "Tamsin", tamsin.code)
    assert found[DRINK].day == tamsin.venue.business_day(NOW)


@pytest.mark.parametrize("help_level", [HelpLevel.SHOWN, HelpLevel.PROMPTED])
def test_with_help_nothing_waits(tamsin, nils, help_level):
    make.watch(tamsin, nils, DRINK, help_level=help_level)

    assert waiting(nils) == {}


def test_a_sign_off_ends_the_wait_and_not_before(tamsin, nils):
    build = make.watch(tamsin, nils, DRINK)
    record.sign_off(by=tamsin, watched=build, at=LATER)

    assert waiting(nils) == {}
    assert list(waiting(nils, SOON)) == [DRINK]


def test_what_failed_since_is_built_once_more(tamsin, nils):
    make.watch(tamsin, nils, DRINK)
    make.watch(tamsin, nils, DRINK, off=make.steps_of(tamsin, DRINK), at=SOON)

    assert waiting(nils) == {}


def test_a_void_build_waits_for_nothing(odalys, tamsin, nils):
    build = make.watch(tamsin, nils, DRINK)
    record.void_build(by=odalys, watched=build, reason="Mixed up", at=SOON)

    assert waiting(nils) == {}


def test_nobody_waits_for_who_has_left(odalys, tamsin, nils):
    make.watch(tamsin, nils, DRINK)
    enrol.mark_left(by=odalys, membership=tamsin, day=tamsin.venue.business_day(NOW), at=NOW)

    assert waiting(nils, NOW + dt.timedelta(days=2)) == {}


def test_the_hire_asks_and_whoever_watched_signs(visit, tamsin, pia, marek, nils):
    make.watch(tamsin, nils, DRINK)
    name = make.menu_of(nils).by_slug[DRINK].drink.name

    own = text(visit(nils).get(address(nils, "next_shift")))
    assert f"Ask Tamsin to sign off {name}, passed on" in own
    assert f"Build {name} for the trainer" not in own
    record_page = address(tamsin, "hire_record", code=nils.code)
    hers = text(visit(tamsin).get(record_page))
    assert f"Sign off {name}, passed on" in hers
    assert f"{name} was passed on" in hers


def test_marks_that_wait_for_a_second_look_are_told_to_nobody_else(tamsin, pia, nils):
    make.watch(tamsin, nils, DRINK)
    menu = make.menu_of(nils, SOON)
    [row] = board.board(station(nils), menu, [nils])
    told = {who: reader_of(who, SOON, [nils]) for who in (tamsin, pia, nils)}

    assert {who.name: bool(r.blind) for who, r in told.items()} == {
        "Tamsin": False, "Pia": True, "Nils": False,
    }  # fmt: skip
    assert row.facts.known.waiting


def test_nor_does_the_form_for_one_shift(visit, marek, tamsin, nils):
    make.take_quiz(nils, make.GATE)
    make.watch(tamsin, nils, DRINK)
    page = address(marek, "once", hire=nils.code) + "?station=well"

    assert "waits for Tamsin" not in text(visit(marek).get(page))
    with time_machine.travel(NOW + dt.timedelta(days=2), tick=False):
        assert "waits for Tamsin to sign it off" in text(visit(marek).get(page))


def test_the_page_keeps_them_too(visit, tamsin, pia, nils):
    make.watch(tamsin, nils, DRINK)
    name = make.menu_of(nils).by_slug[DRINK].drink.name

    said = text(visit(pia).get(address(pia, "hire_record", code=nils.code)))
    assert f"sign off {name}" not in said.lower()
    assert "was passed on" not in said
