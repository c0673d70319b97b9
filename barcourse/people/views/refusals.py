"""A refused sale or an incident, noted in twenty seconds by anybody who serves."""

from __future__ import annotations

import datetime as dt

from django.contrib import messages
from django.forms import BaseForm
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.formats import date_format, time_format
from django.utils.translation import gettext as _

from barcourse.people import refusals
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.forms import RefusalForm, refusals_beside
from barcourse.people.models import Refusal, Venue
from barcourse.people.models.refusal import What
from barcourse.people.reasons import Refused
from barcourse.people.roles import May
from barcourse.people.wording import say

SHOWN = 30
SOON = dt.timedelta(hours=3)
"""A time so little ahead is a slip, not last night's (our own number, no source)."""


@member(May.LEARN, methods=READ_AND_SEND)
def note(request: HouseRequest) -> HttpResponse:
    """The form, and below it what was noted before: one's own, or for trainers everybody's."""
    at = timezone.now()
    now = {"time": request.venue.local(at).strftime("%H:%M")}
    form = RefusalForm(request.POST or None, initial=now)
    form.fields["time"].help_text = _which_day(request.venue, at)
    if form.is_valid() and form.is_nameless(_own_words(request.venue)):
        with refusals_beside(form):
            said = form.cleaned_data
            row = refusals.note(
                by=request.membership,
                what=said["what"],
                happened_at=last_time(request.venue, said["time"], at),
                words=said["words"],
                at=at,
            )
            messages.success(request, _noted(row, request.venue))
            return redirect("refusals", house=request.venue.slug)
    return _show(request, form)


def _own_words(venue: Venue) -> list[str]:
    """What is called by a name here and is nobody."""
    names = (venue.name, *venue.stations.values_list("name", flat=True))
    return [word for name in names for word in name.split()]


def last_time(venue: Venue, clock: dt.time, at: dt.datetime) -> dt.datetime:
    """The moment at which the house's clock last showed this, the running minute included; where
    it shows it soon, that moment to come, for the verb to refuse."""
    today = venue.local(at).date()
    days = (today + dt.timedelta(days=n) for n in (1, 0, -1))
    moments = (dt.datetime.combine(d, clock, tzinfo=venue.zone).astimezone(dt.UTC) for d in days)
    return next(m for m in moments if m < at + SOON)


def _which_day(venue: Venue, at: dt.datetime) -> str:
    """Said before anything is sealed: with which day a time is kept."""
    today, before = venue.local(at), venue.local(at - dt.timedelta(days=1))
    told = {
        "now": time_format(today, "TIME_FORMAT"),
        "today": date_format(today),
        "before": date_format(before),
    }
    return _("Up to %(now)s it is kept as of %(today)s, a later time as of %(before)s.") % told


def _noted(row: Refusal, venue: Venue) -> str:
    here = venue.local(row.happened_at)
    told = {"day": date_format(here), "time": time_format(here, "TIME_FORMAT")}
    return _("Noted as of %(day)s, %(time)s, with your name.") % told


def _show(request: HouseRequest, form: BaseForm) -> HttpResponse:
    """The newest month stands open, the others are folded; so many at once, the rest a page on."""
    venue, everybodys = request.venue, request.membership.may(May.SEE_RECORDS)
    what, page = _asked_for(request)
    noted = refusals.newest(
        venue, SHOWN + 1, what=what, skip=(page - 1) * SHOWN,
        noted_by=None if everybodys else request.membership,
    )  # fmt: skip
    context = {
        "form": form,
        "months": refusals.by_month(venue, noted[:SHOWN]),
        "everybodys": everybodys,
        "choices": refusals.choices(),
        "what": what,
        "newer": page - 1,
        "older": page + 1 if len(noted) > SHOWN else 0,
    }
    return render(request, "people/refusals.html", context)


def _asked_for(request: HouseRequest) -> tuple[str, int]:
    """Which kind, empty for all, and which page."""
    what, page = request.GET.get("what", ""), request.GET.get("page", "1")
    known = what == "" or what in What.values
    if not (known and page.isascii() and page.isdecimal() and len(page) <= 4 and int(page)):
        raise Http404
    return what, int(page)


@member(May.SEE_LOG, methods=SEND)
def erase_words(request: HouseRequest, code: str) -> HttpResponse:
    row = Refusal.objects.in_house(request.venue).with_code(code)
    if row is None:
        raise Http404
    try:
        refusals.erase_words(by=request.membership, row=row, at=timezone.now())
        messages.success(request, _("The words are erased. That it happened stays."))
    except Refused as refused:
        messages.error(request, say(refused.reason))
    return redirect("refusals", house=request.venue.slug)
