"""Open builds of a trainer who left, where something happened meanwhile."""

import datetime as dt

import pytest

from assessments import handing_over, record, record_second
from assessments.models import HandedOver
from barcourse.people import enrol, log
from barcourse.people.reasons import Refused
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories.assessments import NOW
from tests.factories.people import hire as hire_somebody

EARLIER = NOW - dt.timedelta(days=1)
SOON = NOW - dt.timedelta(hours=1)


@pytest.fixture
def left(odalys, tamsin, nils):
    """Three open builds of Tamsin, who has left."""
    builds = [
        make.watch(tamsin, nils, slug, at=EARLIER) for slug in ("madras", "bay-breeze", "gin-tonic")
    ]
    enrol.mark_left(by=odalys, membership=tamsin, at=EARLIER)
    return builds


def send(visit, marek, tamsin, builds, to):
    sent = {"to": to.code, "build": [b.code for b in builds]}
    page = address(marek, "hand_over", trainer=tamsin.code)
    return text(visit(marek).send(page, sent, follow=True))


def test_what_a_page_offered_too_long_is_named_with_what_became_of_it(
    visit, odalys, marek, tamsin, pia, nils, left
):
    """The rest is handed over all the same."""
    record_second.hand_over(by=odalys, watched=left[0], to=pia, at=SOON)
    make.sign_off(pia, nils, "bay-breeze", at=SOON)

    said = send(visit, marek, tamsin, left, pia)

    assert "Madras, Nils: handed over to Pia by Odalys meanwhile." in said
    assert "Bay breeze, Nils: signed off meanwhile." in said.replace("Bay Breeze", "Bay breeze")
    assert "Handed over." in said
    assert set(HandedOver.objects.values_list("watched", flat=True)) == {left[0].pk, left[2].pk}
    assert log.check(marek.venue) == []


def test_so_is_what_was_voided_and_whose_trainer_is_back(
    visit, odalys, marek, tamsin, pia, nils, left
):
    record.void_build(by=pia, watched=left[0], reason="Not his.", at=SOON)
    assert "Madras, Nils: voided by Pia meanwhile." in send(visit, marek, tamsin, left[:1], pia)
    enrol.come_back(by=odalys, membership=tamsin, at=SOON)

    said = send(visit, marek, tamsin, left[1:], pia)

    assert said.count("not open any more. Is Tamsin back?") == 2
    assert not HandedOver.objects.exists()


def test_a_drink_signed_off_meanwhile_is_on_no_list(odalys, marek, tamsin, pia, nils, left):
    """Neither as left open nor, signed before it was handed over, as taken over."""
    signed = make.sign_off(pia, nils, "madras", at=SOON)
    assert handing_over.left_open(nils.venue, NOW) == left[1:]
    with pytest.raises(Refused, match="signed_since"):
        record_second.hand_over(by=marek, watched=left[0], to=pia, at=NOW)
    record_second.hand_over(by=marek, watched=left[1], to=pia, at=SOON)
    make.sign_off(pia, nils, "bay-breeze", at=SOON)
    assert handing_over.taken_over(pia, NOW) == []

    record.void_build(by=odalys, watched=signed.watched, reason="Not his.", at=NOW)

    assert handing_over.left_open(nils.venue, NOW) == [left[0], left[2]]


def test_what_was_voided_is_neither_handed_over_nor_taken_over(marek, pia, nils, left):
    record.void_build(by=pia, watched=left[0], reason="Not his.", at=SOON)
    with pytest.raises(Refused, match="voided_already"):
        record_second.hand_over(by=marek, watched=left[0], to=pia, at=NOW)
    record_second.hand_over(by=marek, watched=left[1], to=pia, at=SOON)

    record.void_build(by=marek, watched=left[1], reason="Not his.", at=NOW)

    assert handing_over.taken_over(pia, NOW) == []


def test_a_build_says_that_its_trainer_is_back_and_falls_silent_once_signed(
    visit, odalys, marek, tamsin, pia, nils, left
):
    record_second.hand_over(by=marek, watched=left[0], to=pia, at=SOON)
    page = address(pia, "build", code=left[0].code)
    assert "since Tamsin has left" in text(visit(pia).get(page))
    enrol.come_back(by=odalys, membership=tamsin, at=SOON)
    back = text(visit(pia).get(page))
    assert "since Tamsin has left" not in back
    assert "when Tamsin had left, who is back since" in back
    assert "Watch it once more" in back

    record.sign_off(by=tamsin, watched=left[0], at=NOW)

    after = text(visit(pia).get(page))
    assert "Watch it once more" not in after
    assert "handed over by Marek" in after
    assert handing_over.taken_over(pia, NOW) == []


def test_another_trainers_builds_are_none_of_this_list(visit, odalys, marek, tamsin, pia, nils):
    other = hire_somebody(odalys, "Rhea", "trainer")
    theirs = make.watch(other, nils, at=EARLIER)
    enrol.mark_left(by=odalys, membership=tamsin, at=EARLIER)

    assert handing_over.no_longer_open(tamsin, [theirs.code], NOW) == []


def record_of(visit, hire):
    return text(visit(hire).get(address(hire, "my_record")))


def test_what_nobody_can_sign_any_more_is_not_said_to_wait(visit, odalys, tamsin, pia, nils):
    waits = "passed, waits for the sign-off"
    gone = "passed, and whoever watched has left: it is built once more"
    build = make.watch(tamsin, nils, "madras", at=EARLIER)
    assert waits in record_of(visit, nils)
    enrol.mark_left(by=odalys, membership=tamsin, at=SOON)

    shown = record_of(visit, nils)
    page = text(visit(pia).get(address(pia, "build", code=build.code)))
    make.sign_off(pia, nils, "madras", at=NOW)
    after = record_of(visit, nils)

    assert (gone in shown, waits in shown) == (True, False)
    assert "Tamsin no longer watches here and never signed it off" in page
    assert (gone in after, waits in after) == (False, False)


def test_one_drink_of_one_hire_is_handed_over_as_one(visit, odalys, marek, tamsin, pia, nils):
    """With whose it was and when, to find it again."""
    builds = [make.watch(tamsin, nils, "madras", at=at) for at in (EARLIER, SOON)]
    enrol.mark_left(by=odalys, membership=tamsin, at=SOON)
    record_second.hand_over_all(by=marek, builds=builds, to=pia, at=NOW)

    assert handing_over.taken_over(pia, NOW) == builds[1:]
    assert "Nils, watched by Tamsin on " in text(visit(pia).get(address(pia, "watch")))
