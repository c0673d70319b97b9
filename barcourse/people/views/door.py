"""The door: where one comes in, is let in, and goes out again."""

from __future__ import annotations

from django.conf import settings
from django.contrib.auth import login, logout
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme

from barcourse.people import enrol, signing_in
from barcourse.people.access import (
    READ_AND_SEND,
    SEND,
    HouseRequest,
    anyone,
    member,
    signed_in,
)
from barcourse.people.forms import OpenHouseForm, SignInForm, refusals_beside
from barcourse.people.models import Membership, Person, Venue
from barcourse.people.nav import start_url
from barcourse.people.reasons import refuse
from barcourse.people.roles import May
from barcourse.people.tablet_session import is_a_turn, is_by_pin, mind_where, tablet_of
from barcourse.people.wording import say


@anyone
def door(request: HttpRequest) -> HttpResponse:
    """Straight to one's start page; a choice where one works in several houses."""
    if not isinstance(request.user, Person):
        return redirect("sign_in" if Venue.objects.exists() else "open_house")
    at = timezone.now()
    every = Membership.objects.of(request.user).select_related("venue").order_by("venue__name")
    here = [m for m in every if m.is_here(m.venue.business_day(at))]
    if tablet := tablet_of(request) if is_by_pin(request) else None:
        here = [m for m in here if m.venue_id == tablet.venue_id]
    if len(here) == 1 and (start := start_url(here[0], by_pin=tablet is not None)):
        return redirect(start)
    houses = [(m.venue, m.get_role_display(), start_url(m)) for m in here]
    gone = [m.venue for m in every if m not in here]
    return render(request, "people/door.html", {"houses": houses, "gone": gone})


@member(May.LEARN)
def house_door(request: HouseRequest) -> HttpResponse:
    """The bare address of a house: straight to where one's role begins its day."""
    start = start_url(request.membership, by_pin=is_by_pin(request))
    return redirect(start or "door")


@anyone(methods=READ_AND_SEND)
def sign_in(request: HttpRequest) -> HttpResponse:
    form = SignInForm(request.POST or None, initial={"next": request.GET.get("next", "")})
    if form.is_valid():
        with refusals_beside(form):
            return _let_in(request, form)
    return render(request, "people/sign_in.html", {"form": form, "may_open": _may_open()})


def _let_in(request: HttpRequest, form: SignInForm) -> HttpResponse:
    at, typed = timezone.now(), form.cleaned_data
    person = signing_in.recognise(
        request, sign_in=typed["sign_in"], password=typed["password"], at=at
    )
    signing_in.refuse_gone(person, at)
    login(request, person)
    mind_where(request, at)
    onward = typed["next"]
    return redirect(onward if url_has_allowed_host_and_scheme(onward, None) else "door")


@signed_in(methods=SEND)
def sign_out(request: HttpRequest) -> HttpResponse:
    on_tablet = is_a_turn(request)
    logout(request)
    return redirect("tablet" if on_tablet else "sign_in")


@anyone(methods=READ_AND_SEND)
def open_house(request: HttpRequest) -> HttpResponse:
    """On a new installation the first visitor opens the house; later only where settings allow."""
    if not _may_open():
        context = {"sentence": say(refuse("house_closed_to_new").reason)}
        return render(request, "people/cannot.html", context, status=403)
    form = OpenHouseForm(request.POST or None)
    if form.is_valid():
        with refusals_beside(form):
            owner = enrol.open_house(**form.cleaned_data, at=timezone.now())
            login(request, owner.person)
            return redirect("door")
    return render(request, "people/open_house.html", {"form": form})


def _may_open() -> bool:
    return bool(settings.OPEN_HOUSES) or not Venue.objects.exists()
