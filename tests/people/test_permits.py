"""Permits: seen by somebody else, dated, their number erasable."""

import datetime as dt

import pytest
import time_machine
from django.urls import reverse

from barcourse.people import enrol, log, permits
from barcourse.people.models import LogEntry, Permit, PersonalText
from barcourse.people.reasons import Refused
from tests.factories import people as make

AT = make.OPENED
TODAY = dt.date(2026, 3, 5)
PATH = reverse("permits", args=["harbour-lights"])


def add(by, member, **more):
    said = {"kind": "serving", "number": "A 12", "valid_until": TODAY, **more}
    return permits.add_permit(by=by, member=member, at=AT, **said)


@pytest.mark.parametrize(
    ("days", "holds", "soon"),
    [(-1, False, False), (0, True, True), (30, True, True), (31, True, False), (None, True, False)],
)
def test_it_holds_through_its_last_day_and_is_pointed_out_a_month_before(
    marek, nils, days, holds, soon
):
    until = None if days is None else TODAY + dt.timedelta(days=days)
    add(marek, nils, valid_until=until)

    [shown] = permits.permits_in(marek.venue, TODAY)

    assert (shown.holds, shown.soon, shown.number) == (holds, soon, "A 12")


def test_the_log_knows_kind_and_day_and_no_number(marek, nils):
    row = add(marek, nils)

    entry = LogEntry.objects.get(kind="permit_added")
    assert entry.facts == {"permit": row.code, "kind": "serving", "until": "2026-03-05"}
    assert entry.subject_code == nils.code
    assert log.check(marek.venue) == []


def test_nobody_notes_their_own_save_an_owner(marek, odalys):
    with pytest.raises(Refused, match="permit_of_ones_own"):
        add(marek, marek)

    assert add(odalys, odalys)


def test_no_other_house_may(ravna, marek, nils):
    with pytest.raises(Refused, match="other_house"):
        add(ravna, nils)
    with pytest.raises(Refused, match="other_house"):
        permits.remove_permit(by=ravna, permit=add(marek, nils), at=AT)


def test_taken_out_its_number_goes_and_the_log_stays_whole(marek, nils):
    row = add(marek, nils)

    permits.remove_permit(by=marek, permit=row, at=AT)

    assert permits.permits_in(marek.venue, TODAY) == []
    assert PersonalText.objects.get(code=row.number_code).text == ""
    assert log.check(marek.venue) == []
    with pytest.raises(Refused, match="permit_gone"):
        permits.remove_permit(by=marek, permit=row, at=AT)


def test_of_those_who_left_none_are_listed(odalys, marek, nils):
    add(marek, nils)
    enrol.mark_left(by=odalys, membership=nils, at=AT)

    assert permits.permits_in(marek.venue, TODAY) == []


def test_on_the_page(visit, marek, nils):
    browser = visit(marek)
    sent = {"member": nils.code, "kind": "food", "number": "77", "valid_until": "2026-09-01"}
    with time_machine.travel(AT, tick=False):
        assert browser.send(PATH, sent).status_code == 302
        page = browser.get(PATH).content.decode()

    assert Permit.objects.get().seen_by == marek
    assert "77" in page


@pytest.mark.parametrize(
    "wrong", [{"member": "nobody"}, {"kind": "driving"}, {"valid_until": "31/31/2026"}]
)
def test_what_makes_no_sense_is_shown_again(visit, marek, nils, wrong):
    sent = {"member": nils.code, "kind": "food", **wrong}

    assert visit(marek).send(PATH, sent).status_code == 200
    assert not Permit.objects.exists()


def test_somebody_of_another_house_is_nobody_here(visit, marek, ravna):
    assert visit(marek).send(PATH, {"member": ravna.code, "kind": "food"}).status_code == 200
    assert not Permit.objects.exists()
