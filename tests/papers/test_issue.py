"""Issuing certificates and revoking them."""

import datetime as dt

import pytest
from django.db import DatabaseError, IntegrityError, connection, transaction

from assessments import record
from assessments.models import WatchedBuild
from barcourse.papers.issue import NotReady, issue_certificate, revoke
from barcourse.papers.models import Certificate, Revocation
from barcourse.papers.wording import sentences
from barcourse.people import enrol, log
from barcourse.people.models import LogEntry, PersonalText
from barcourse.people.reasons import Refused
from barcourse.people.sealed import SealedError
from tests.factories.recipes import change_rules, revise
from tests.papers.ready import DRINKS, ISSUED, TUESDAY, make_ready, pass_the_gate, station

HOUR = dt.timedelta(hours=1)
DAY = dt.timedelta(days=1)


def issue(by, hire, *, at=ISSUED, slug="beer-point"):
    return issue_certificate(by=by, hire=hire, station=station(by, slug), at=at)


def refusal(verb, *args, **kwargs):
    with pytest.raises(Refused) as caught, transaction.atomic():
        verb(*args, **kwargs)
    return caught.value


def test_it_says_what_was_shown(certificate):
    shown = certificate.what_was_shown

    assert shown.station == "Beer point"
    assert {drink.name for drink in shown.drinks} == DRINKS
    assert {(drink.revision, drink.day) for drink in shown.drinks} == {(1, "2026-03-10")}
    assert [(m.slug, m.day) for m in shown.modules] == [("service-and-safety", "2026-03-10")]
    assert shown.orders.right_low <= shown.orders.right <= shown.orders.right_high
    assert shown.orders.right + shown.orders.ask + shown.orders.wrong == 100
    assert shown.orders.right_low >= shown.orders.least_right == 70
    assert shown.orders.wrong <= shown.orders.most_wrong == 10
    assert not shown.orders.provisional


def test_it_holds_for_as_many_days_as_the_house_says(certificate, house):
    assert house.certificate_days == 180
    assert certificate.valid_from == dt.date(2026, 3, 12)
    assert certificate.valid_until == dt.date(2026, 9, 7)


def test_after_midnight_it_is_still_dated_that_night(ready_nils, marek):
    certificate = issue(marek, ready_nils, at=dt.datetime(2026, 3, 14, 2, 0, tzinfo=dt.UTC))

    assert certificate.valid_from == dt.date(2026, 3, 13)


def test_the_sealed_row_holds_no_name_of_a_person(certificate):
    row = str(Certificate.objects.values().get())

    assert "Nils" not in row
    assert "Marek" not in row


def test_it_carries_the_head_of_the_log_before_its_own_entry(ready_nils, marek, house):
    before = log.head(house)

    certificate = issue(marek, ready_nils)

    assert (certificate.log_number, certificate.log_hash) == (before.number, before.hash)
    entry = LogEntry.objects.get(venue=house, number=before.number + 1)
    assert entry.kind == "certificate_issued"
    assert (entry.by_code, entry.subject_code) == (marek.code, ready_nils.code)
    assert entry.facts == {"station": "beer-point", "until": "2026-09-07"}
    assert entry.row_id == str(certificate.pk)


def test_the_log_stays_whole_and_knows_the_printed_head(certificate, house, marek):
    revoke(by=marek, certificate=certificate, reason="Lost.", at=ISSUED + HOUR)
    printed = log.Head(certificate.log_number, certificate.log_hash)

    assert log.check(house, head=printed) == []


def test_somebody_who_has_shown_nothing_is_refused_with_the_reasons(nils, marek):
    refused = refusal(issue, marek, nils)

    assert isinstance(refused, NotReady)
    codes = {reason.code for reason in refused.missing}
    assert {"safety_not_passed", "not_signed_off", "right_below_second"} <= codes
    said = sentences(refused)
    assert said[0] == "Not ready for that station yet, so there is no certificate."
    assert "Draught lager isn't signed off." in said
    assert not Certificate.objects.exists()


def test_ready_at_one_station_is_not_ready_at_another(ready_nils, marek):
    refused = refusal(issue, marek, ready_nils, slug="well")

    assert isinstance(refused, NotReady)
    assert {r.code for r in refused.missing} >= {"not_signed_off"}


def test_without_the_safety_module_nobody_gets_one(nils, tamsin, marek, monkeypatch):
    monkeypatch.setattr("tests.papers.ready.pass_the_gate", lambda *args: None)
    make_ready(nils, tamsin)

    refused = refusal(issue, marek, nils)

    assert [reason.code for reason in refused.missing] == ["safety_not_passed"]
    pass_the_gate(nils)
    assert issue(marek, nils).pk


def test_a_changed_spec_takes_the_readiness_away_until_it_is_shown_anew(ready_nils, marek, tamsin):
    revise(marek, "draught-lager", at=TUESDAY + HOUR, glass="highball")

    refused = refusal(issue, marek, ready_nils)

    assert "sign_off_out_of_date" in {reason.code for reason in refused.missing}


@pytest.fixture
def low_bar(house):
    """A house that asks for next to nothing, so that only the gates stand in the way."""
    house.least_right = house.second_right = 1
    house.most_wrong = 100
    house.save()


def test_only_what_proves_today_s_build_is_listed(ready_nils, marek, low_bar):
    revise(marek, "bottled-lager", at=TUESDAY + HOUR, garnish=[])
    # The house puts nothing on it anyway: the same build, so the sign-off of revision 1 proves it.
    drinks = issue(marek, ready_nils).what_was_shown.drinks
    assert {(drink.name, drink.revision) for drink in drinks} == {(name, 1) for name in DRINKS}

    revise(marek, "bottled-lager", at=ISSUED + HOUR, glass="pint")
    drinks = issue(marek, ready_nils, at=ISSUED + DAY).what_was_shown.drinks
    assert {drink.name for drink in drinks} == DRINKS - {"Bottled lager"}


def test_what_was_voided_is_not_shown(ready_nils, marek, tamsin, low_bar):
    for watched in WatchedBuild.objects.filter(recipe__slug="snakebite"):
        record.void_build(by=tamsin, watched=watched, reason="Wrong person.", at=TUESDAY + HOUR)

    shown = issue(marek, ready_nils).what_was_shown

    assert {drink.name for drink in shown.drinks} == DRINKS - {"Snakebite"}


def test_the_rules_of_the_day_stand_on_it(ready_nils, marek):
    change_rules(marek, at=TUESDAY + HOUR, slang={"soda": "club-soda"})

    assert issue(marek, ready_nils).rules_version == 2


def test_nobody_issues_to_themselves(marek, tamsin):
    make_ready(marek, tamsin)

    assert refusal(issue, marek, marek).reason.code == "nobody_issues_to_themselves"


def test_the_database_refuses_it_too(certificate):
    copy = {
        f.attname: getattr(certificate, f.attname)
        for f in Certificate._meta.concrete_fields
        if f.name not in {"id", "code"}
    }
    with pytest.raises(IntegrityError, match="nobody_issues_to_themselves"), transaction.atomic():
        Certificate.objects.create(**{**copy, "issued_by_id": certificate.hire_id})


def test_somebody_who_left_gets_none(ready_nils, odalys, marek):
    enrol.mark_left(by=odalys, membership=ready_nils, at=ISSUED - HOUR)

    assert refusal(issue, marek, ready_nils).reason.code == "has_left_already"


def test_nobody_issues_across_houses(ready_nils, marek, ravna):
    assert refusal(issue, ravna, ready_nils).reason.code == "other_house"
    refused = refusal(
        issue_certificate, by=marek, hire=ready_nils, station=station(ravna), at=ISSUED
    )
    assert refused.reason.code == "other_house"


def test_a_second_one_may_follow(certificate, ready_nils, marek):
    second = issue(marek, ready_nils, at=ISSUED + DAY)

    assert second.code != certificate.code
    assert second.valid_until > certificate.valid_until


def test_the_name_a_drink_and_a_station_had_stay(certificate, house):
    house.recipes.filter(slug="snakebite").update(name="Renamed")
    house.stations.filter(slug="beer-point").update(name="Taps")
    certificate.refresh_from_db()

    assert certificate.what_was_shown.station == "Beer point"
    assert "Snakebite" in {drink.name for drink in certificate.what_was_shown.drinks}


def test_revoking_keeps_the_reason_where_it_can_be_erased(certificate, marek, odalys, house):
    revocation = revoke(
        by=marek, certificate=certificate, reason="  Gave it to a friend. ", at=ISSUED + HOUR
    )

    text = PersonalText.objects.get(code=revocation.reason_code)
    assert (text.text, text.about) == ("Gave it to a friend.", certificate.hire)
    entry = LogEntry.objects.get(venue=house, kind="certificate_revoked")
    assert (entry.by_code, entry.subject_code) == (marek.code, certificate.hire.code)
    enrol.erase_text(by=odalys, text=text, at=ISSUED + 2 * HOUR)
    assert log.check(house) == []


def test_a_certificate_is_revoked_once(certificate, marek):
    revoke(by=marek, certificate=certificate, reason="Lost.", at=ISSUED + HOUR)

    again = refusal(revoke, by=marek, certificate=certificate, reason="Lost.", at=ISSUED + 2 * HOUR)

    assert again.reason.code == "revoked_already"
    assert Revocation.objects.count() == 1


@pytest.mark.parametrize("reason", ["", "   ", "\n\t"])
def test_revoking_needs_a_reason(certificate, marek, reason):
    refused = refusal(revoke, by=marek, certificate=certificate, reason=reason, at=ISSUED)

    assert (refused.reason.code, refused.field) == ("revoke_needs_reason", "reason")


def test_another_house_cannot_revoke(certificate, ravna):
    refused = refusal(revoke, by=ravna, certificate=certificate, reason="No.", at=ISSUED)

    assert refused.reason.code == "other_house"


def test_neither_row_is_ever_changed(certificate, marek):
    revocation = revoke(by=marek, certificate=certificate, reason="Lost.", at=ISSUED + HOUR)

    for row in (certificate, revocation):
        with pytest.raises(SealedError):
            row.save()
        table = row._meta.db_table
        for statement in (f"DELETE FROM {table}", f"UPDATE {table} SET id = id + 1"):
            with (
                pytest.raises(DatabaseError, match="sealed"),
                transaction.atomic(),
                connection.cursor() as cursor,
            ):
                cursor.execute(statement)


def test_erasing_the_holder_leaves_a_paper_of_nobody(certificate, odalys, nils, house):
    enrol.mark_left(by=odalys, membership=nils, at=ISSUED + HOUR)
    enrol.erase_person(by=odalys, membership=nils, at=ISSUED + 2 * HOUR)

    again = Certificate.objects.with_all().get(pk=certificate.pk)
    assert again.hire.name == "someone erased"
    assert log.check(house) == []
