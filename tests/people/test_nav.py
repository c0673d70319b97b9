"""The bar at the bottom, by role; and that a place that isn't there is left out."""

import pytest
from django.http import HttpResponse
from django.test import override_settings
from django.urls import path

from barcourse.people.context import Abilities, house_context
from barcourse.people.models import Membership, Venue
from barcourse.people.nav import AT_HAND, PLACES, at_hand, places, start_url
from barcourse.people.roles import May, Role

NAMES = sorted({name for bar in (*PLACES.values(), AT_HAND) for name, _ in bar})


class Everything:
    urlpatterns = tuple(
        path(f"h/<slug:house>/{name}/", lambda request: HttpResponse(), name=name) for name in NAMES
    )


class Nothing:
    urlpatterns = ()


def membership(role):
    return Membership(role=role, venue=Venue(slug="pier", name="Pier"))


@pytest.mark.parametrize(
    ("role", "labels"),
    [
        (Role.TRAINEE, ["Next shift", "Modules", "Call practice", "My record"]),
        (Role.TRAINER, ["Watch", "House book", "Mix-ups", "Who is ready"]),
        (Role.MANAGER, ["Who is ready", "Watch", "House book", "Papers", "People"]),
        (Role.OWNER, ["People", "House", "Papers", "Who is ready", "House book"]),
    ],
)
def test_each_role_has_its_places_and_starts_at_the_first(role, labels):
    with override_settings(ROOT_URLCONF=Everything):
        bar = places(membership(role))

        assert [str(place.label) for place in bar] == labels
        assert start_url(membership(role)) == bar[0].url


@pytest.mark.parametrize("role", Role)
def test_what_one_needs_with_a_guest_there_is_at_hand_for_everybody(role):
    with override_settings(ROOT_URLCONF=Everything):
        found = at_hand(membership(role), "/h/pier/allergens/")

    labels = [(str(place.label), place.current) for place in found]
    assert labels == [("Allergens", True), ("Off tonight", False), ("Refusals", False)]


@pytest.mark.parametrize("role", Role)
def test_a_site_without_a_place_leaves_it_out(role):
    with override_settings(ROOT_URLCONF=Nothing):
        assert places(membership(role)) == []
        assert at_hand(membership(role)) == []
        assert start_url(membership(role)) == ""


@pytest.mark.parametrize(
    ("path_now", "current"),
    [
        ("/h/pier/people/", ["People"]),
        ("/h/pier/people/abc/role/", ["People"]),
        ("/h/pier/house/", ["House"]),
        ("/h/pier/log/", []),
        ("", []),
    ],
)
def test_the_place_one_is_in_or_under_is_the_current_one(path_now, current):
    with override_settings(ROOT_URLCONF=Everything):
        bar = places(membership(Role.OWNER), path_now)

    assert [str(place.label) for place in bar if place.current] == current


def test_outside_a_house_templates_get_nothing(rf):
    assert house_context(rf.get("/")) == {}


def test_templates_ask_what_one_may_by_its_plain_name(rf):
    assert Abilities(rf.get("/"), membership(Role.TRAINER)) == {
        may.value: may.value
        in {"learn", "see_book", "edit_book", "watch", "void", "see_records", "see_ready"}
        for may in May
    }


def test_ones_name_in_the_header_leads_to_ones_own_record(visit, odalys):
    page = visit(odalys).get("/h/harbour-lights/people/").content.decode()

    assert '<a class="person" href="/h/harbour-lights/record/">Odalys</a>' in page
