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
    ("day", "revoked", "erased", "found"),
    [
        (LAST - 180 * DAY, False, False, State.VALID),
        (LAST - DAY, False, False, State.VALID),
        (LAST, False, False, State.VALID),
        (LAST + DAY, False, False, State.EXPIRED),
        (LAST - DAY, True, False, State.REVOKED),
        (LAST, True, False, State.REVOKED),
        (LAST + DAY, True, False, State.REVOKED),
        (LAST, False, True, State.NAMELESS),
        (LAST + DAY, False, True, State.NAMELESS),
        (LAST, True, True, State.REVOKED),
    ],
)
def test_the_state_of_a_day(day, revoked, erased, found):
    assert state_on(day, valid_until=LAST, revoked=revoked, erased=erased) is found


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


def test_a_paper_without_a_name_is_no_longer_confirmed(certificate, odalys, nils, visit):
    enrol.mark_left(by=odalys, membership=nils, at=ISSUED + DAY)
    enrol.erase_person(by=odalys, membership=nils, at=ISSUED + 2 * DAY)
    certificate = type(certificate).objects.get(pk=certificate.pk)

    assert state(certificate, ISSUED + 3 * DAY) is State.NAMELESS
    page = visit().get(f"/paper/{certificate.code}/").content.decode()
    assert "No longer confirmed." in page
    assert "Valid." not in page


def test_a_code_typed_in_capitals_finds_its_paper(certificate, visit):
    assert visit().get(f"/paper/{certificate.code.upper()}/").status_code == 200
