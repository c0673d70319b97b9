"""Whether a certificate still holds."""

import datetime as dt

import pytest

from barcourse.papers.issue import last_day, revoke
from barcourse.papers.states import State, state, state_on
from barcourse.people import enrol
from tests.papers.ready import ISSUED

LAST = dt.date(2026, 9, 7)
DAY = dt.timedelta(days=1)


@pytest.mark.parametrize(
    ("day", "revoked", "found"),
    [
        (LAST - 180 * DAY, False, State.VALID),
        (LAST - DAY, False, State.VALID),
        (LAST, False, State.VALID),
        (LAST + DAY, False, State.EXPIRED),
        (LAST - DAY, True, State.REVOKED),
        (LAST, True, State.REVOKED),
        (LAST + DAY, True, State.REVOKED),
    ],
)
def test_the_state_of_a_day(day, revoked, found):
    assert state_on(day, valid_until=LAST, revoked=revoked) is found


@pytest.mark.parametrize(
    ("days", "last"), [(1, "2026-03-12"), (2, "2026-03-13"), (180, "2026-09-07")]
)
def test_the_first_day_is_one_of_the_days(days, last):
    assert last_day(dt.date(2026, 3, 12), days).isoformat() == last


def test_it_holds_to_the_end_of_the_last_business_night(certificate, house):
    """The day begins at five in the morning, so at four it is still the night before."""
    end = house.business_day_begins(certificate.valid_until + DAY)

    assert state(certificate, end - dt.timedelta(minutes=1)) is State.VALID
    assert state(certificate, end) is State.EXPIRED


def test_a_revocation_counts_from_its_own_moment(certificate, marek):
    at = ISSUED + DAY
    revoke(by=marek, certificate=certificate, reason="Wrong station.", at=at)
    certificate.refresh_from_db()

    assert state(certificate, at - dt.timedelta(seconds=1)) is State.VALID
    assert state(certificate, at) is State.REVOKED


def test_whoever_left_keeps_what_was_shown(certificate, odalys, nils):
    enrol.mark_left(by=odalys, membership=nils, at=ISSUED + DAY)
    certificate.refresh_from_db()

    assert state(certificate, ISSUED + 2 * DAY) is State.VALID
