"""When a wrong tap is a slip of the thumb, and when only a void with a reason is left."""

import datetime as dt

import pytest

from assessments import record, record_entries, record_practical, record_second, slips
from assessments.models import Void
from assessments.slips import SLIP_WITHIN, Since, why_no_slip
from assessments.stock_used import used_since
from barcourse.people import log
from barcourse.people.models import PersonalText
from barcourse.people.reasons import Refused
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories.assessments import NOW

SOON = NOW + dt.timedelta(minutes=1)
MOMENT = dt.timedelta(seconds=1)


@pytest.mark.parametrize(
    ("since", "code"),
    [
        (Since(late=dt.timedelta()), None),
        (Since(late=SLIP_WITHIN), None),
        (Since(late=SLIP_WITHIN + MOMENT), "slip_too_late"),
        (Since(late=MOMENT, same_day=False), "slip_too_late"),
        (Since(late=MOMENT, ours=False), "only_who_watched_takes_back"),
        (Since(late=MOMENT, void=True), "voided_already"),
        (Since(late=MOMENT, signed=True), "signed_already"),
        (Since(late=MOMENT, answered=True), "slip_answered"),
        (Since(late=MOMENT, decided=True), "slip_decided_on"),
    ],
)
def test_what_is_still_a_slip(since, code):
    refused = why_no_slip(since)

    assert (refused and refused.code) == code


def answer(build, *, marek, pia):
    record_second.answer_record(by=build.hire, watched=build, words="No", disagrees=True, at=SOON)


def say_more(build, *, marek, pia):
    record_entries.answer(by=build.hire, entry=build, words="No", disagrees=True, at=SOON)


def decide(build, *, marek, pia):
    record_second.decide_plan(by=marek, hire=build.hire, recipe=build.recipe, plan="show", at=SOON)


def mark_too(build, *, marek, pia):
    record_second.mark_too(by=pia, watched=build, off=(), at=SOON)


def nothing(build, *, marek, pia):
    pass


@pytest.mark.parametrize(
    ("happens", "at", "code"),
    [
        (nothing, NOW + SLIP_WITHIN + MOMENT, "slip_too_late"),
        (answer, SOON, "slip_answered"),
        (say_more, SOON, "slip_answered"),
        (decide, SOON, "slip_decided_on"),
        (mark_too, SOON, "slip_decided_on"),
    ],
)
def test_a_failed_build_is_no_longer_a_slip_once(marek, tamsin, pia, nils, happens, at, code):
    build = make.watch(tamsin, nils, off=[make.steps_of(tamsin, "madras")[0]])
    happens(build, marek=marek, pia=pia)

    assert not slips.may_slip(tamsin, build, at)
    with pytest.raises(Refused) as raised:
        record_practical.take_back(by=tamsin, watched=build, at=at)
    assert raised.value.reason.code == code
    assert not Void.objects.exists()


def test_it_is_a_slip_of_its_own_business_day_alone(tamsin, nils):
    """The house's day turns between the tap and the undo."""
    turns = tamsin.venue.business_day_begins(tamsin.venue.business_day(NOW)) + dt.timedelta(days=1)
    build = make.watch(tamsin, nils, at=turns - MOMENT)

    assert slips.may_slip(tamsin, build, turns - MOMENT)
    assert not slips.may_slip(tamsin, build, turns)


def test_a_plan_made_before_the_build_does_not_rest_on_it(marek, tamsin, nils):
    build = make.watch(tamsin, nils, at=SOON)
    record_second.decide_plan(by=marek, hire=nils, recipe=build.recipe, plan="show", at=NOW)

    assert slips.may_slip(tamsin, build, SOON)


def test_a_slip_says_what_it_is_and_the_log_too(tamsin, nils):
    build = make.watch(tamsin, nils)
    void = record_practical.take_back(by=tamsin, watched=build, at=SOON)

    assert "slip of the thumb" in PersonalText.objects.get(code=void.reason_code).text
    assert slips.slips_since(tamsin.venue, NOW) == [void.pk]
    assert log.check(tamsin.venue) == []


def poured_of_each(member):
    menu = make.menu_of(member)
    return {used.name: used.ml for used in used_since(member.venue, NOW, menu)}


def test_a_slip_put_on_record_once_more_counts_its_stock_once(tamsin, nils):
    slip = make.watch(tamsin, nils)
    once = poured_of_each(tamsin)
    record_practical.take_back(by=tamsin, watched=slip, at=SOON)
    make.watch(tamsin, nils, at=SOON)

    assert once
    assert poured_of_each(tamsin) == once


def test_a_void_with_a_reason_poured_its_stock_all_the_same(tamsin, nils):
    build = make.watch(tamsin, nils)
    once = poured_of_each(tamsin)
    record.void_build(by=tamsin, watched=build, reason="The wrong jigger.", at=SOON)
    make.watch(tamsin, nils, at=SOON)

    assert poured_of_each(tamsin) == {name: 2 * ml for name, ml in once.items()}


def test_the_page_offers_it_as_long_as_it_is_one(visit, time_machine, tamsin, nils):
    build = make.watch(tamsin, nils)
    browser, page = visit(tamsin), address(nils, "build", code=build.code)
    assert "Undo: tapped wrong" in text(browser.get(page))

    time_machine.move_to(NOW + SLIP_WITHIN + MOMENT, tick=False)
    assert "Undo: tapped wrong" not in text(browser.get(page))
    assert "Void this build" in text(browser.get(page))
    late = browser.send(address(nils, "take_back", code=build.code), {})

    assert "A wrong tap is undone within 10 minutes" in text(late)
    assert not Void.objects.exists()
