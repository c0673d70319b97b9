"""What *Next shift* keeps: a page opened again is quick, and whatever changes shows at once."""

from __future__ import annotations

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from assessments import record_calls, record_shift, shift_page
from assessments.measures.call_writing import CallKind
from assessments.shift_page import NextShift
from barcourse.people.models import Membership
from recipes import kept
from recipes.publish import OnMenu, set_menu
from tests.assessments.test_next_shift import HOUR, SATURDAY, say
from tests.factories import assessments as make
from tests.factories.assessments import LATER

MINUTE = shift_page.LONGEST


@pytest.fixture(autouse=True)
def _outside(db: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """A test runs in a transaction of its own; only those within it count."""
    around = len(connection.savepoint_ids)
    monkeypatch.setattr(kept, "in_doubt", lambda: len(connection.savepoint_ids) > around)


def page(hire: Membership, at=LATER) -> NextShift:
    return shift_page.now_for(hire, lambda: make.menu_of(hire, at), at)


def anew(hire: Membership, at=LATER) -> NextShift:
    return shift_page.next_shift_of(hire, make.menu_of(hire, at))


def told(found: NextShift) -> tuple[object, ...]:
    return (
        found.is_new, found.todo, [(due.why, due.changes) for due in found.cards],
        found.minutes, found.proven,
        found.planned.shift, [row.trials for row, _ in found.standing], len(found.menu.items),
        [s.minutes for s in found.studied], bool(found.waiting),
        [b.started_at for b in found.under_way],
    )  # fmt: skip


def test_a_page_opened_again_takes_two_short_queries(nils):
    make.read(nils)
    first = page(nils)
    with CaptureQueriesContext(connection) as asked:
        again = page(nils, LATER + MINUTE / 2)

    assert again is first
    assert len(asked) == 2


CHANGES = {
    "a module read": lambda tamsin, nils: make.read(nils),
    "a card turned": lambda tamsin, nils: make.turn_card(nils, "madras", at=LATER),
    "a quiz begun": lambda tamsin, nils: make.start_quiz(nils, at=LATER),
    "calls begun": lambda tamsin, nils: record_calls.start_calls(
        by=nils, menu=make.menu_of(nils), kind=CallKind.SINGLE, seed=1, at=LATER
    ),
    "a build signed off": make.sign_off,
    "a shift said": lambda tamsin, nils: say(nils, at=LATER),
    "a drink taken off": lambda tamsin, nils: set_menu(
        by=tamsin, standing={"madras": OnMenu.OFF}, at=LATER
    ),
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_what_has_changed_shows_at_once(tamsin, nils, change):
    before = told(page(nils))
    change(tamsin, nils)

    now = page(nils)
    assert told(now) == told(anew(nils))
    assert told(now) != before


def test_a_shift_said_otherwise_shows_at_once(nils):
    say(nils, at=LATER)
    page(nils)
    say(nils, starts_at=SATURDAY + HOUR, at=LATER)

    shift = page(nils).planned.shift
    assert shift is not None
    assert shift.starts_at == SATURDAY + HOUR


def test_a_shift_taken_off_shows_at_once(nils):
    shift = say(nils, at=LATER)
    page(nils)
    record_shift.take_off_shift(by=nils, shift=shift, at=LATER)

    assert page(nils).planned.shift is None


def test_it_holds_for_a_minute_and_not_past_the_shift(nils):
    say(nils, starts_at=LATER + MINUTE / 3, at=LATER)
    first = page(nils)

    assert page(nils, LATER + MINUTE / 4) is first
    assert page(nils, LATER + MINUTE / 2).planned.shift is None
    assert page(nils, LATER + 3 * MINUTE) is not page(nils, LATER + MINUTE / 2)


def test_each_person_has_their_own(nils, pia):
    make.read(nils)

    assert page(pia).is_new
    assert not page(nils).is_new
