"""When somebody works next, on the house's clock."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from django import forms
from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as now
from django.utils.translation import gettext_lazy as _

from assessments import record_shift
from assessments.ahead import code_of
from assessments.kept_pages import kept_page
from assessments.models import ShiftAhead
from assessments.models.shift import MOST_MINUTES
from assessments.reads import MINUTES
from assessments.views.finding import hire_or_404
from assessments.views.forms import NoForm, refusals_beside
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.models import Membership
from barcourse.people.roles import May


class ShiftForm(forms.Form):
    day = forms.DateField(label=_("Day"), widget=forms.DateInput({"type": "date"}, "%Y-%m-%d"))
    hour = forms.TimeField(label=_("From"), widget=forms.TimeInput({"type": "time"}, "%H:%M"))
    minutes = forms.IntegerField(
        label=_("Minutes a day for study until then"),
        min_value=1,
        max_value=MOST_MINUTES,
        widget=forms.NumberInput({"inputmode": "numeric"}),
    )


@member(May.LEARN, methods=READ_AND_SEND)
def mine(request: HouseRequest) -> HttpResponse:
    return _page(request, request.membership, "next_shift")


@member(May.INVITE, methods=READ_AND_SEND)
def of_hire(request: HouseRequest, code: str) -> HttpResponse:
    hire = hire_or_404(request, code)
    return _page(request, hire, "hire_record", code=code)


def _page(request: HouseRequest, hire: Membership, after: str, **parts: str) -> HttpResponse:
    """What stands, and a form for one more; then on to the page that it matters to."""
    at = timezone.now()
    shifts = list(ShiftAhead.objects.of(hire).after(at))
    form = ShiftForm(request.POST or None, initial=_initial(hire, shifts))
    if form.is_valid():
        with refusals_beside(form):
            said = _said(request, hire, form, at)
            messages.success(request, said)
            return redirect(reverse(after, kwargs={"house": request.venue.slug, **parts}))
    key = ("shift when", request.membership.pk, hire.pk, *(s.pk for s in shifts))
    kept = kept_page(request.venue, *key, make=lambda: None)
    context = {
        "form": form,
        "hire": hire,
        "is_own": hire.pk == request.membership.pk,
        "shifts": [_shown(request, s) for s in shifts],
        "html": None if form.is_bound else kept.html,
    }
    return render(request, "assessments/shift_when.html", context)


def _said(request: HouseRequest, hire: Membership, form: ShiftForm, at: dt.datetime) -> str:
    """Set it, and tell what it took the place of."""
    typed, venue = form.cleaned_data, request.venue
    begins = dt.datetime.combine(typed["day"], typed["hour"], tzinfo=venue.zone)
    before = {s.pk for s in ShiftAhead.objects.of(hire).after(at)}
    record_shift.say_next_shift(
        by=request.membership, hire=hire, starts_at=begins, minutes=typed["minutes"], at=at
    )
    if before - {s.pk for s in ShiftAhead.objects.of(hire).after(at)}:
        return now("Noted, in place of what stood for that day.")
    return now("Noted. The cards are planned for the shift that comes next.")


@dataclass(frozen=True)
class ShiftShown:
    shift: ShiftAhead
    off: str
    """Where it is taken off; empty for whoever may not."""


def _shown(request: HouseRequest, shift: ShiftAhead) -> ShiftShown:
    if not record_shift.may_change(request.membership, shift):
        return ShiftShown(shift, "")
    parts = {"house": request.venue.slug, "shift": code_of(shift.starts_at)}
    if shift.hire_id == request.membership.pk:
        return ShiftShown(shift, reverse("shift_off", kwargs=parts))
    return ShiftShown(shift, reverse("hire_shift_off", kwargs={**parts, "code": shift.hire.code}))


@member(May.LEARN, methods=SEND)
def take_off(request: HouseRequest, shift: str) -> HttpResponse:
    return _take_off(request, request.membership, shift, "shift_when")


@member(May.INVITE, methods=SEND)
def take_off_hire(request: HouseRequest, code: str, shift: str) -> HttpResponse:
    return _take_off(request, hire_or_404(request, code), shift, "hire_shift", code=code)


def _take_off(
    request: HouseRequest, hire: Membership, said: str, after: str, **parts: str
) -> HttpResponse:
    at, form = timezone.now(), NoForm({})
    ahead = {code_of(s.starts_at): s for s in ShiftAhead.objects.of(hire).after(at)}
    if said not in ahead:
        raise Http404
    with refusals_beside(form):
        record_shift.take_off_shift(by=request.membership, shift=ahead[said], at=at)
        messages.success(request, now("Taken off."))
    for error in form.non_field_errors():
        messages.error(request, str(error))
    return redirect(reverse(after, kwargs={"house": request.venue.slug, **parts}))


def _initial(hire: Membership, shifts: Sequence[ShiftAhead]) -> dict[str, object]:
    """The hour and the minutes of the shift that comes next; which day is to be said."""
    if not shifts:
        return {"minutes": MINUTES}
    return {"hour": hire.venue.local(shifts[0].starts_at).time(), "minutes": shifts[0].minutes}
