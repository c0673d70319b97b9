"""Marks in service, checks and rounds, taken back: kept, told, and counted no more."""

import datetime as dt

import pytest
from django.db import IntegrityError, transaction

from assessments import gate_facts, ready_rows, voids
from assessments import hands as shown
from assessments.history import Numbered, shown_by
from assessments.models import PaceCheck, PourCheck, SpotMark, TakenBack, Void, WatchedRound
from assessments.models.kinds import OF_HANDS
from assessments.models.practical import Came
from assessments.own_history import _whose_builds
from assessments.pour_policy import rehearse
from assessments.record_taken_back import take_back_hand
from barcourse.papers.practical_shown import checked
from barcourse.people import enrol, log
from barcourse.people.models import LogEntry, PersonalText
from barcourse.people.reasons import Refused
from recipes.menu import menu_at
from tests.assessments.pages import address, text
from tests.factories import hands
from tests.factories.assessments import LATER, NOW

WHY = "Read off in the wrong unit."
MADE = {
    "spot": hands.spot,
    "pours": hands.pour,
    "pace": hands.pace,
    "round": lambda t, h: hands.make_round(t, h, "madras", "gin-tonic"),
}
each = pytest.mark.parametrize("kind", sorted(MADE))


def taken_back(by, row, *, at=LATER):
    return take_back_hand(by=by, row=row, reason=WHY, at=at)


def refused(code, *args):
    with pytest.raises(Refused) as raised:
        taken_back(*args)
    assert raised.value.reason.code == code


def test_every_kind_is_in_the_table():
    assert set(MADE) == set(OF_HANDS)


@each
def test_it_stays_on_record_with_who_and_why_and_the_log_stays_whole(tamsin, nils, kind):
    row = MADE[kind](tamsin, nils)

    void = taken_back(tamsin, row)

    row = type(row).objects.get(pk=row.pk)
    assert row.is_void
    assert (void.hire, void.by, getattr(void, kind)) == (nils, tamsin, row)
    assert PersonalText.objects.get(code=void.reason_code).text == WHY
    assert LogEntry.objects.filter(kind="hands_voided", subject_code=nils.code).count() == 1
    assert log.check(tamsin.venue) == []
    assert voids.void_of(row) == voids.VoidShown(tamsin.name, LATER, WHY)


@each
def test_it_is_taken_back_once(tamsin, marek, nils, kind):
    row = MADE[kind](tamsin, nils)
    void = taken_back(tamsin, row)

    refused("taken_back_already", marek, row)
    with pytest.raises(IntegrityError), transaction.atomic():
        TakenBack.objects.create(
            venue=row.venue, hire=nils, by=marek, reason_code="x", at=LATER, **{kind: row}
        )
    assert list(TakenBack.objects.all()) == [void]


@each
def test_whoever_put_it_on_record_may_and_a_manager_and_nobody_else(
    tamsin, pia, marek, nils, ravna, kind
):
    row = MADE[kind](tamsin, nils)

    refused("only_who_marked_takes_back", pia, row)
    refused("nobody_voids_their_own", nils, row)
    refused("other_house", ravna, row)
    assert taken_back(marek, row).by == marek


@each
def test_the_reason_goes_with_the_person_whom_it_is_about(odalys, tamsin, nils, kind):
    row = MADE[kind](tamsin, nils)
    taken_back(tamsin, row)
    enrol.mark_left(by=odalys, membership=nils, at=LATER)

    enrol.erase_person(by=odalys, membership=nils, at=LATER)

    row = type(row).objects.get(pk=row.pk)
    assert voids.void_of(row) == voids.VoidShown(tamsin.name, LATER, "")
    assert not PersonalText.objects.filter(text=WHY).exists()
    assert log.check(odalys.venue) == []


def test_the_page_says_that_the_words_are_erased(odalys, tamsin, nils, visit):
    row = hands.spot(tamsin, nils)
    taken_back(tamsin, row)
    enrol.mark_left(by=odalys, membership=nils, at=LATER)
    enrol.erase_person(by=odalys, membership=nils, at=LATER)

    said = text(visit(tamsin).get(address(tamsin, "entry", code=row.code)))

    assert "Taken back by Tamsin" in said
    assert "words erased" in said
    assert WHY not in said


def test_without_a_reason_it_is_refused(tamsin, nils):
    with pytest.raises(Refused) as raised:
        take_back_hand(by=tamsin, row=hands.spot(tamsin, nils), reason="  ", at=LATER)

    assert (raised.value.reason.code, raised.value.field) == ("void_needs_reason", "reason")
    assert not TakenBack.objects.exists()


def test_nothing_is_not_taken_back(tamsin, nils):
    with pytest.raises(IntegrityError), transaction.atomic():
        TakenBack.objects.create(venue=nils.venue, hire=nils, by=tamsin, reason_code="x", at=LATER)


def test_the_builds_of_a_round_go_with_it(tamsin, nils):
    row = MADE["round"](tamsin, nils)

    taken_back(tamsin, row)

    assert sorted(v.watched.code for v in Void.objects.all()) == sorted(row.builds)
    assert log.check(tamsin.venue) == []


def test_before_it_was_taken_back_it_counted_and_since_then_it_does_not(tamsin, nils):
    """Gates, drinks an hour, what readiness and the house's own record rest on, drift, a new rule
    of pours tried on old checks."""
    rows = [MADE[kind](tamsin, nils) for kind in ("spot", "pours", "pace")]
    assert counts(nils, LATER) == (1, 1, 1, 1, 1, 1)

    for row in rows:
        taken_back(tamsin, row, at=LATER + dt.timedelta(minutes=1))

    assert counts(nils, LATER)[:4] == (1, 1, 1, 1)  # as it was known then
    assert counts(nils, LATER + dt.timedelta(minutes=2)) == (0, 0, 0, 0, 0, 0)


def counts(hire, at):
    menu = menu_at(hire.venue, at)
    policy = shown.policy_at([], at)
    return (
        len(gate_facts._pours([hire], at)),
        len(gate_facts.newest_paces([hire], at)),
        len(shown_by([hire], Numbered(menu))[hire.pk]),
        len(_whose_builds(menu)),
        len(shown.series_of(hire, menu)),
        len(rehearse(menu, policy, menu.rules.tolerance_ml)),
    )


@each
def test_what_is_known_of_the_hire_is_packed_anew(tamsin, nils, kind):
    assert TakenBack in ready_rows.EVIDENCE
    row = MADE[kind](tamsin, nils)
    before = evidence_of(nils)

    taken_back(tamsin, row)

    assert evidence_of(nils) > before


def evidence_of(hire):
    return sum(row.evidence for row in ready_rows.ReadyRow.objects.filter(hire=hire))


@each
def test_the_training_record_says_that_it_does_not_count(tamsin, nils, kind):
    taken_back(tamsin, MADE[kind](tamsin, nils))

    (line,) = checked(nils, menu_at(nils.venue, LATER))

    assert line.came.startswith("taken back, doesn't count: ")


def test_the_record_strikes_it_through_for_trainer_and_hire(tamsin, nils, visit):
    for kind in sorted(MADE):
        taken_back(tamsin, MADE[kind](tamsin, nils))

    for who, page in ((tamsin, f"hires/{nils.code}/"), (nils, "record/")):
        said = visit(who).get(f"/h/{nils.venue.slug}/{page}").content.decode()
        assert said.count("taken back") == len(MADE)
        assert said.count("</s>") >= 3


PAGES = {"pours": (PourCheck, "pour-checks"), "pace": (PaceCheck, "pace-checks"),
         "round": (WatchedRound, "rounds")}  # fmt: skip


@pytest.mark.parametrize("kind", sorted(PAGES))
def test_its_own_page_says_who_took_it_back_and_why(tamsin, nils, visit, kind):
    row = MADE[kind](tamsin, nils)
    path = PAGES[kind][1]
    page = f"/h/{nils.venue.slug}/{path}/{row.code}/"
    assert "Something is wrong with this entry" in visit(tamsin).get(page).content.decode()
    taken_back(tamsin, row)

    for who, at in ((tamsin, page), (nils, f"/h/{nils.venue.slug}/record/{path}/{row.code}/")):
        said = visit(who).get(at).content.decode()
        assert f"Taken back by {tamsin.name}" in said
        assert WHY in said
        assert "Something is wrong with this entry" not in said


def test_a_mark_is_taken_back_from_its_page_and_a_missing_reason_is_asked_for(tamsin, nils, visit):
    row = hands.spot(tamsin, nils, at=NOW)
    browser = visit(tamsin)
    page = f"/h/{nils.venue.slug}/on-record/{row.code}/take-back/"
    assert page in browser.get(f"/h/{nils.venue.slug}/hires/{nils.code}/").content.decode()

    asked = browser.send(page, {"reason": ""})
    assert asked.status_code == 200
    assert not SpotMark.objects.get().is_void
    assert browser.send(page, {"reason": WHY}).status_code == 302
    assert SpotMark.objects.get().is_void
    assert "Taken back by" in browser.get(page).content.decode()


def test_a_trainer_who_did_not_mark_it_is_told_who_can(tamsin, pia, nils, visit):
    row = hands.spot(tamsin, nils)
    page = f"/h/{nils.venue.slug}/on-record/{row.code}/take-back/"

    said = visit(pia).get(page).content.decode()

    assert f"{tamsin.name}, who put it on record" in said
    assert visit(pia).get(page.replace(row.code, nils.code)).status_code == 404


def test_the_page_says_which_drink_it_was_and_its_hire_reads_why(visit, tamsin, nils):
    spot = hands.spot(tamsin, nils, "gin-tonic", came=Came.MENDED)
    page = address(tamsin, "take_back_hand", code=spot.code)
    assert "Gin tonic (mended)" in text(visit(tamsin).get(page))

    visit(tamsin).send(page, {"reason": "That was Pia's."})

    shown = text(visit(nils).get(address(nils, "entry", code=spot.code)))
    assert "Taken back by Tamsin" in shown
    assert "That was Pia's." in shown
