"""The door and opening a house."""

import pytest
from django.test import override_settings
from django.utils import timezone

from barcourse.people import enrol
from barcourse.people.models import Membership, Venue
from barcourse.people.nav import start_url
from tests.factories import people as make

HOUSE = {
    "name": "Pier Nine",
    "country": "gb",
    "timezone": "Europe/London",
    "owner_name": "Ravna",
    "sign_in": "ravna",
    "password": make.PASSWORD,
}


def text(response):
    return response.content.decode()


def test_on_a_new_installation_the_first_visitor_opens_the_house(visit, db):
    browser = visit()
    assert browser.get("/").url == "/open/"

    assert browser.send("/open/", HOUSE).url == "/"

    owner = Membership.objects.get()
    assert (owner.role, owner.venue.name, owner.name) == ("owner", "Pier Nine", "Ravna")
    assert browser.get("/").url == "/h/pier-nine/people/"


def test_no_time_zone_is_chosen_beforehand(visit, db):
    page = visit().get("/open/").content.decode()

    assert '<option value="" selected>Choose the time zone</option>' in page


def test_nobody_is_shown_to_the_sign_in(visit, house):
    assert visit().get("/").url == "/sign-in/"


def test_an_owner_starts_at_the_people(visit, odalys):
    assert visit(odalys).get("/").url == "/h/harbour-lights/people/"


def test_who_works_in_two_houses_chooses(visit, odalys, ravna):
    make.join_as(odalys, ravna.person)

    page = text(visit(ravna).get("/"))

    assert "Harbour Lights" in page
    assert 'href="/h/the-anchor-room/people/"' in page


def test_who_has_left_while_signed_in_is_told_so(visit, odalys, nils):
    browser = visit(nils)
    enrol.mark_left(by=odalys, membership=nils, at=timezone.now())

    page = text(browser.get("/"))

    assert "You have left Harbour Lights" in page
    assert "You are in no house at the moment" in page


def test_the_door_takes_no_form(visit, db):
    assert visit().send("/").status_code == 405


def test_a_second_house_is_opened_only_where_that_is_allowed(visit, house):
    for response in (visit().get("/open/"), visit().send("/open/", HOUSE)):
        assert response.status_code == 403
        assert "can&#x27;t be opened here" in text(response)
    assert Venue.objects.count() == 1

    with override_settings(OPEN_HOUSES=True):
        assert 'href="/open/"' in text(visit().get("/sign-in/"))
        assert visit().send("/open/", HOUSE).url == "/"
    assert Venue.objects.count() == 2


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"name": ""}, "This field is required."),
        ({"name": "Pi\u200ber"}, "invisible character"),
        ({"timezone": "Atlantis/Port"}, "Select a valid choice"),
        ({"timezone": ""}, "This field is required."),
        ({"sign_in": "two words"}, "Leave the spaces out"),
        ({"password": "short"}, "too short"),
        ({"owner_name": "x" * 81}, "at most 80 characters"),
    ],
)
def test_what_is_wrong_stands_beside_its_field_and_the_rest_is_kept(visit, db, wrong, sentence):
    response = visit().send("/open/", {**HOUSE, **wrong})

    assert response.status_code == 200
    assert sentence in text(response)
    kept = "Pier Nine" if "name" not in wrong else "ravna"
    assert f'value="{kept}"' in text(response)
    assert make.PASSWORD not in text(response)
    assert not Venue.objects.exists()


def test_the_bare_address_of_a_house_leads_to_where_a_role_begins(visit, odalys, nils):
    assert visit(odalys).get("/h/harbour-lights/").url == "/h/harbour-lights/people/"
    assert visit(nils).get("/h/harbour-lights/").url == start_url(nils)
