"""The shared tablet: the page on which people take turns, and what a manager sets up for it."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth import logout
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from barcourse.people import shared_tablet, signing_in, tablet_session
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, anyone, member
from barcourse.people.forms import EmptyForm, PinForm, SetPinForm, TabletForm, refusals_beside
from barcourse.people.models import Membership, Pin, Tablet
from barcourse.people.reasons import Refused, refuse
from barcourse.people.roles import May
from barcourse.people.wording import say


@anyone(methods=READ_AND_SEND)
def tablet(request: HttpRequest) -> HttpResponse:
    """Whose turn is it? Coming here ends the turn before."""
    ours = tablet_session.tablet_of(request)
    if ours is None:
        sentence = say(refuse("tablet_not_enrolled").reason)
        return render(request, "people/cannot.html", {"sentence": sentence}, status=403)
    if request.method == "POST":
        return _take_turn(request, ours)
    tablet_session.end(request)
    return _whose_turn(request, ours)


def _whose_turn(request: HttpRequest, ours: Tablet) -> HttpResponse:
    """A tablet that waits after wrong PINs names nobody: whoever tried learns no further name."""
    at = timezone.now()
    minutes = shared_tablet.minutes_for_tablet(ours, at)
    pins = Pin.objects.in_house(ours.venue).here(ours.venue.business_day(at)).by_name()
    people = [] if minutes else [pin.membership for pin in pins]
    who = next((m for m in people if m.code == request.GET.get("who")), None)
    locked = say(refuse("tablet_waits", minutes=minutes).reason) if minutes else ""
    context = {
        "tablet": ours,
        "people": people,
        "who": who,
        "form": PinForm(initial={"who": who.code}) if who else None,
        "waits": _waits(ours, who) if who else locked,
    }
    response = render(request, "people/tablet.html", context)
    response["Cache-Control"] = "no-store"
    return response


def _waits(ours: Tablet, who: Membership) -> str:
    try:
        shared_tablet.refuse_waiting(ours, who, timezone.now())
    except Refused as refused:
        return say(refused.reason)
    return ""


def _take_turn(request: HttpRequest, ours: Tablet) -> HttpResponse:
    """Ends in a redirect whatever comes of it, so that a wrong try stays counted."""
    form, at = PinForm(request.POST), timezone.now()
    who = Membership.objects.in_house(ours.venue).with_code(request.POST.get("who", ""))
    if who is None or not form.is_valid():
        return redirect("tablet")
    try:
        if shared_tablet.try_pin(tablet=ours, membership=who, pin=form.cleaned_data["pin"], at=at):
            tablet_session.begin(request, ours, who, at)
            return redirect("house_door", house=ours.venue.slug)
        if not _waits(ours, who):
            messages.error(request, say(refuse("pin_wrong").reason))
    except Refused:
        pass  # the page says how long, and no longer to try once more
    return redirect(f"{reverse('tablet')}?who={who.code}")


@member(May.LEARN, methods=READ_AND_SEND)
def my_pin(request: HouseRequest) -> HttpResponse:
    """Set with the password, and so not on the tablet itself."""
    if tablet_session.is_by_pin(request):
        raise PermissionDenied
    form = SetPinForm(request.POST or None)
    if form.is_valid():
        with refusals_beside(form):
            _set(request, form)
            messages.success(request, _("Your PIN is set."))
            return redirect("my_pin", house=request.venue.slug)
    has_one = Pin.objects.of(request.membership).exists()
    return render(request, "people/my_pin.html", {"form": form, "has_one": has_one})


def _set(request: HouseRequest, form: SetPinForm) -> None:
    said, at = form.cleaned_data, timezone.now()
    shared_tablet.check_shape(said["pin"])
    person = signing_in.recognise(
        request, sign_in=request.user.sign_in, password=said["password"], at=at
    )
    if person.pk != request.user.pk:
        raise PermissionDenied
    shared_tablet.set_pin(by=request.membership, pin=said["pin"], at=at)


@member(May.INVITE)
def tablets(request: HouseRequest) -> HttpResponse:
    return _tablets(request, TabletForm())


def _tablets(request: HouseRequest, form: TabletForm | EmptyForm) -> HttpResponse:
    at = timezone.now()
    rows = Tablet.objects.in_house(request.venue).in_use().order_by("name", "pk")
    pins = Pin.objects.in_house(request.venue).here(request.venue.business_day(at)).by_name()
    context = {
        "form": form if isinstance(form, TabletForm) else TabletForm(),
        "refused": None if isinstance(form, TabletForm) else form,
        "tablets": [(t, shared_tablet.minutes_for_tablet(t, at)) for t in rows],
        "people": [(p.membership, shared_tablet.person_waits(p.membership, at)) for p in pins],
    }
    return render(request, "people/tablets.html", context)


@member(May.INVITE, methods=SEND)
def enrol(request: HouseRequest) -> HttpResponse:
    """This browser becomes a shared tablet; whoever made it one is signed out on it."""
    form = TabletForm(request.POST)
    if form.is_valid():
        with refusals_beside(form):
            name = form.cleaned_data["name"]
            _row, token = shared_tablet.enrol_tablet(
                by=request.membership, name=name, at=timezone.now()
            )
            logout(request)
            response = redirect("tablet")
            tablet_session.make_tablet(response, token)
            return response
    return _tablets(request, form)


@member(May.INVITE, methods=SEND)
def withdraw(request: HouseRequest, code: str) -> HttpResponse:
    row, form = _tablet(request, code), EmptyForm(request.POST)
    with refusals_beside(form):
        shared_tablet.withdraw_tablet(by=request.membership, tablet=row, at=timezone.now())
        messages.success(request, _("Out of use. Nobody comes in on it with a PIN any more."))
        return redirect("tablets", house=request.venue.slug)
    return _tablets(request, form)


@member(May.INVITE, methods=SEND)
def release(request: HouseRequest, code: str) -> HttpResponse:
    shared_tablet.release_tablet(
        by=request.membership, tablet=_tablet(request, code), at=timezone.now()
    )
    messages.success(request, _("The tablet may be used again."))
    return redirect("tablets", house=request.venue.slug)


@member(May.INVITE, methods=SEND)
def release_person(request: HouseRequest, code: str) -> HttpResponse:
    someone = Membership.objects.in_house(request.venue).with_code(code)
    if someone is None:
        raise Http404
    shared_tablet.release_person(by=request.membership, membership=someone, at=timezone.now())
    said = {"name": someone.name}
    messages.success(request, _("%(name)s may try the PIN again.") % said)
    return redirect("tablets", house=request.venue.slug)


def _tablet(request: HouseRequest, code: str) -> Tablet:
    found = Tablet.objects.in_house(request.venue).with_code(code)
    if found is None:
        raise Http404
    return found
