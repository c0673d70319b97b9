"""What an owner sets for the house."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from barcourse.people import enrol
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.forms import HouseForm, refusals_beside
from barcourse.people.models import Station, Venue
from barcourse.people.reasons import Refused
from barcourse.people.roles import May
from barcourse.people.wording import say


@member(May.SET_HOUSE, methods=READ_AND_SEND)
def house(request: HouseRequest) -> HttpResponse:
    # The form writes what was typed into its own copy, right or wrong; the page's head keeps ours.
    form = HouseForm(request.POST or None, instance=Venue.objects.get(pk=request.venue.pk))
    if form.is_valid():
        with refusals_beside(form):
            enrol.change_house(by=request.membership, changes=form.changes(), at=timezone.now())
            messages.success(request, _("Saved."))
            return redirect("house", house=request.venue.slug)
    stations = Station.objects.taking_orders().in_house(request.venue)
    return render(request, "people/house.html", {"form": form, "stations": stations})


@member(May.SET_HOUSE, methods=SEND)
def tills(request: HouseRequest) -> HttpResponse:
    """Which stations ring up."""
    try:
        enrol.set_tills(
            by=request.membership, ringing=request.POST.getlist("rings_up"), at=timezone.now()
        )
        messages.success(request, _("Saved."))
    except Refused as refused:
        messages.error(request, say(refused.reason))
    return redirect("house", house=request.venue.slug)
