"""Opening a house and setting it."""

import datetime as dt

import pytest

from barcourse.people import enrol, log
from barcourse.people.models import LogEntry, Membership, Person, Venue
from barcourse.people.reasons import Refused
from barcourse.people.signals import house_opened
from tests.factories import people as make


def newest_entry(venue):
    return LogEntry.objects.filter(venue=venue).latest("number")


def change(by, **changes):
    return enrol.change_house(by=by, changes=changes, at=make.OPENED)


def test_the_opener_owns_the_house_and_can_sign_in(odalys, house):
    assert (odalys.role, odalys.name, house.slug) == ("owner", "Odalys", "harbour-lights")
    assert odalys.start_day == dt.date(2026, 3, 5)
    assert odalys.person.check_password(make.PASSWORD)


def test_a_house_starts_with_its_four_stations(house):
    stations = house.stations.values_list("slug", "takes_orders")

    assert list(stations) == [
        ("well", True),
        ("service-bar", True),
        ("beer-point", True),
        ("bar-back", False),
    ]


def test_the_other_rooms_hear_of_it_inside_the_transaction(db):
    def fail(**opened):
        raise RuntimeError(opened["venue"].name)

    house_opened.connect(fail, weak=False)
    try:
        with pytest.raises(RuntimeError, match="Harbour Lights"):
            make.open_house()
    finally:
        house_opened.disconnect(fail)

    assert not Venue.objects.exists()
    assert not Person.objects.exists()


@pytest.mark.parametrize(
    ("name", "slug"),
    [("Harbour Lights", "harbour-lights-2"), ("港の灯", "house"), ("!!", "house"), ("É", "e")],
)
def test_an_address_is_made_of_the_name(odalys, name, slug):
    assert make.open_house(name, owner="Ravna").venue.slug == slug


@pytest.mark.parametrize(
    ("fields", "field", "code"),
    [
        ({"name": " "}, "name", "name_missing"),
        ({"owner_name": "\x00"}, "owner_name", "name_control_characters"),
        ({"sign_in": "two words"}, "sign_in", "sign_in_has_space"),
        ({"sign_in": "ODALYS"}, "sign_in", "sign_in_taken"),
        ({"password": "short"}, "password", "password_weak"),
        ({"timezone": "Atlantis/Port"}, "timezone", "timezone_unknown"),
    ],
)
def test_what_cannot_be_opened_is_refused_beside_its_field(odalys, fields, field, code):
    good = {
        "name": "Pier Nine",
        "owner_name": "Ravna",
        "sign_in": "ravna",
        "password": make.PASSWORD,
        "country": "gb",
        "timezone": "Europe/London",
        "at": make.OPENED,
    }

    with pytest.raises(Refused) as refused:
        enrol.open_house(**{**good, **fields})

    assert (refused.value.field, refused.value.reason.code) == (field, code)
    assert Venue.objects.count() == 1


def test_settings_change_and_the_log_says_from_what_to_what(odalys, house):
    change(odalys, pass_mark=75, timezone="Atlantic/Azores", name="Harbour Lamps")

    house.refresh_from_db()
    assert (house.pass_mark, house.timezone, house.name) == (
        75,
        "Atlantic/Azores",
        "Harbour Lamps",
    )
    assert newest_entry(house).facts == {
        "pass_mark": [80, 75],
        "timezone": ["Europe/Lisbon", "Atlantic/Azores"],
        "name": "",
    }


@pytest.mark.parametrize(
    ("changes", "field", "code"),
    [
        ({}, None, "nothing_changed"),
        ({"pass_mark": 80}, None, "nothing_changed"),
        ({"least_right": 75}, None, "nothing_changed"),
        ({"timezone": "Atlantis/Port"}, "timezone", "timezone_unknown"),
        ({"name": ""}, "name", "name_missing"),
    ],
)
def test_settings_that_make_no_sense_are_refused(odalys, house, changes, field, code):
    before = log.head(house)

    with pytest.raises(Refused) as refused:
        change(odalys, **changes)

    assert (refused.value.field, refused.value.reason.code) == (field, code)
    assert log.head(house) == before


def test_an_address_and_a_code_are_no_settings(odalys, house):
    with pytest.raises(Refused, match="nothing_changed"):
        change(odalys, slug="elsewhere", code="x")

    assert Membership.objects.at_address("harbour-lights").exists()
