"""Somebody let stand for one shift, on a manager's word."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import overrides, record_policy
from assessments.measures.gates import LAWFUL
from assessments.models import Override
from assessments.shifts import Shift
from assessments.showing import show_gaps
from assessments.views.finding import hire_here_or_404, menu_now, station_or_404
from assessments.views.forms import refusals_beside
from assessments.views.forms_policy import OnceForm
from assessments.views.looks import asks_of, board_address, when_or_404
from assessments.waiting import reader_of
from assessments.wording import word
from assessments.wording_refusals import say
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.models import Station
from barcourse.people.reasons import Refused
from barcourse.people.roles import May


@member(May.SET_READY, methods=READ_AND_SEND)
def once(request: HouseRequest, hire: str) -> HttpResponse:
    """`?station= &shift= &day=`: let somebody stand there for one shift, with a reason. What is
    missing is told for the shift that was said; to begin with for the one in the address, else
    today's late one."""
    person, at = hire_here_or_404(request, hire), menu_now(request).at
    stations = list(request.venue.stations.all())
    station = station_or_404(request, stations)
    initial = _asked_for(request, at)
    form = OnceForm(request.POST or None, initial=initial)
    is_valid = form.is_valid()
    said = initial | (form.cleaned_data if form.is_bound else {})
    shift = Shift.of(request.venue, said["day"], late=said["part"] == "late")
    looks = "look" in request.POST and not form.errors.keys() & {"day", "part"}
    if is_valid and not looks:
        with refusals_beside(form):
            record_policy.let_stand_once(
                by=request.membership, hire=person, station=station, shift=shift,
                reason=said["reason"], at=at,
            )  # fmt: skip
            messages.success(request, _("On record, and over by itself after that shift."))
            return _to_board(request, station)
    stands = overrides.stands_on(person, station, shift, at)
    missing = stands.told_to(reader_of(request.membership, at, [person]))
    never = [word(r) for r in stands.missing if r.code in LAWFUL]
    if looks:
        form = OnceForm(initial=request.POST.dict())
    if never and not form.is_bound:
        del form.fields["reason"]
    context = {
        "person": person,
        "never": never,
        "shift": shift,
        "station": station,
        "stations": stations,
        "asks": asks_of(request),
        "form": form,
        "stands": stands,
        "gaps": show_gaps(missing),
        "once": overrides.standing_once(request.venue, at).get((person.pk, station.pk), []),
    }
    return render(request, "assessments/once.html", context)


def _asked_for(request: HouseRequest, at: dt.datetime) -> dict[str, Any]:
    """The form to begin with."""
    when = when_or_404(request)
    if isinstance(when, Shift):
        return {"day": when.day, "part": "late" if when.is_late else "early"}
    return {"day": when or request.venue.business_day(at), "part": "late"}


@member(May.SET_READY, methods=SEND)
def end(request: HouseRequest, code: str) -> HttpResponse:
    when_or_404(request)
    row = _of_override(request, code, record_policy.end_override, _("Taken back."))
    return _to_board(request, row.station)


@member(May.SET_READY, methods=SEND)
def erase(request: HouseRequest, code: str) -> HttpResponse:
    says = _("The words are erased. Everything else stays.")
    row = _of_override(request, code, record_policy.erase_reason, says)
    return redirect("hire_record", house=request.venue.slug, code=row.hire.code)


def _of_override(
    request: HouseRequest, code: str, verb: Callable[..., object], says: str
) -> Override:
    """The word for a shift that this is about, whether it was done or refused: the page says so."""
    row = get_object_or_404(Override.objects.in_house(request.venue).with_people(), code=code)
    try:
        verb(by=request.membership, override=row, at=timezone.now())
        messages.success(request, says)
    except Refused as refused:
        messages.error(request, say(refused.reason))
    return row


def _to_board(request: HouseRequest, station: Station) -> HttpResponse:
    return redirect(board_address(request, station))
