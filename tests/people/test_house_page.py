"""The house's settings and its log on screen."""

import pytest
from django.utils import timezone

from barcourse.people import enrol, log
from barcourse.people.models import LogEntry, Membership, Venue
from barcourse.people.views import log as log_page
from tests.factories import people as make

HOUSE, LOG = "/h/harbour-lights/house/", "/h/harbour-lights/log/"
AS_IT_IS = {
    "name": "Harbour Lights",
    "country": "us",
    "timezone": "Europe/Lisbon",
    "business_hour": 5,
    "paper_size": "a4",
    "certificate_days": 180,
    "pass_mark": 80,
    "legal_age": 21,
    "challenge_age": 25,
    "study_is_paid": "on",
}


def text(response):
    return response.content.decode()


def test_the_form_holds_every_setting_as_it_is(odalys, visit):
    page = text(visit(odalys).get(HOUSE))

    assert set(AS_IT_IS) == set(Venue.SETTINGS)
    for name in AS_IT_IS:
        assert f'name="{name}"' in page
    assert '<option value="Europe/Lisbon" selected>' in page


def test_a_change_is_saved_and_logged(odalys, visit, house):
    response = visit(odalys).send(HOUSE, {**AS_IT_IS, "pass_mark": 85}, follow=True)

    house.refresh_from_db()
    assert "Saved." in text(response)
    assert house.pass_mark == 85
    assert house.log_entries.latest("number").facts == {"pass_mark": [80, 85]}


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({}, "Nothing was changed."),
        ({"name": "x\u200by"}, "invisible character"),
        ({"timezone": "Atlantis/Port"}, "Select a valid choice"),
        ({"pass_mark": 101}, "At most 100, please."),
        ({"pass_mark": 0}, "At least 1, please."),
        ({"pass_mark": "eighty"}, "Enter a whole number."),
        ({"business_hour": 13}, "At most 12, please."),
        ({"certificate_days": 0}, "At least 1, please."),
        ({"paper_size": "foolscap"}, "Select a valid choice"),
    ],
)
def test_what_is_wrong_stands_beside_its_field_and_is_kept(odalys, visit, house, wrong, sentence):
    before = log.head(house)

    response = visit(odalys).send(HOUSE, {**AS_IT_IS, **wrong})

    assert response.status_code == 200
    assert sentence in text(response)
    for value in wrong.values():
        choice = value in {"Atlantis/Port", "foolscap"}
        assert choice or f'value="{value}"' in text(response)
    assert log.head(house) == before


def test_the_head_of_the_page_keeps_the_houses_real_name(odalys, visit):
    page = text(visit(odalys).send(HOUSE, {**AS_IT_IS, "name": "Typed", "pass_mark": "x"}))

    assert "<span>Harbour Lights</span>" in page
    assert 'value="Typed"' in page


def test_who_may_set_the_house(visit, odalys, marek, ravna):
    assert visit().get(HOUSE).status_code == 302
    assert visit(ravna).get(HOUSE).status_code == 404
    assert visit(marek).get(HOUSE).status_code == 403
    assert visit(odalys).put(HOUSE).status_code == 405


def test_the_log_reads_as_sentences_newest_first(odalys, visit, house, nils):
    enrol.mark_left(by=odalys, membership=nils, at=timezone.now())

    page = text(visit(odalys).get(LOG))

    assert page.index("Odalys marked as left Nils") < page.index("Nils joined")
    assert str(log.head(house)) in page
    assert "Whole." in page


def test_a_finding_stands_on_the_page(odalys, visit, nils):
    Membership.objects.filter(pk=nils.pk).update(role="owner")

    page = text(visit(odalys).get(LOG))

    assert f"Role or last day of {nils.code} differs from the log." in page
    assert "Whole." not in page


def test_a_long_log_is_checked_when_asked(odalys, visit, monkeypatch):
    monkeypatch.setattr(log_page, "CHECKED_AT_ONCE", 0)

    assert "Whole." not in text(visit(odalys).get(LOG))
    assert "Whole." in text(visit(odalys).get(f"{LOG}?check"))


def test_an_erased_name_is_gone_from_the_log_page_too(odalys, visit, nils):
    enrol.mark_left(by=odalys, membership=nils, at=timezone.now())
    enrol.erase_person(by=odalys, membership=nils, at=timezone.now())

    page = text(visit(odalys).get(LOG))

    assert "Nils" not in page
    assert "someone erased joined" in page


def test_who_may_see_the_log(visit, marek, tamsin, ravna):
    assert visit(marek).get(LOG).status_code == 200
    assert visit(tamsin).get(LOG).status_code == 403
    assert visit(ravna).get(LOG).status_code == 404
    assert visit().get(LOG).status_code == 302
    assert visit(marek).send(LOG).status_code == 405


def test_times_are_read_off_the_houses_clock(visit, db):
    tokyo = make.open_house("Lantern", owner="Emi", timezone="Asia/Tokyo")

    page = text(visit(tokyo).get("/h/lantern/log/"))

    assert "March 6, 2026, midnight" in page  # opened at 15:00 UTC on the 5th


def test_the_owner_says_where_a_till_is(visit, odalys):
    browser = visit(odalys)
    page = f"/h/{odalys.venue.slug}/house/"
    tick = 'name="rings_up" value="{}" checked'
    before = browser.get(page).content.decode()
    assert [tick.format(s) in before for s in ("well", "service-bar", "beer-point")] == [
        True, False, True,
    ]  # fmt: skip
    assert "Bar back: rings up here" not in before

    browser.send(f"{page}tills/", {"rings_up": ["service-bar", "well"]})

    assert set(ringing(odalys)) == {"service-bar", "well"}
    entry = LogEntry.objects.get(kind="tills_set")
    assert entry.facts == {"service-bar": True, "beer-point": False}
    assert log.check(odalys.venue) == []


@pytest.mark.parametrize("slugs", [["bar-back"], ["cellar"], ["well", "beer-point"]])
def test_what_is_no_station_or_no_change_leaves_the_tills(visit, odalys, slugs):
    before = ringing(odalys)

    visit(odalys).send(f"/h/{odalys.venue.slug}/house/tills/", {"rings_up": slugs})

    assert ringing(odalys) == before
    assert not LogEntry.objects.filter(kind="tills_set").exists()


def ringing(member):
    return list(member.venue.stations.filter(rings_up=True).values_list("slug", flat=True))
