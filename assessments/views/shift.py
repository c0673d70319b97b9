"""When somebody works next, on the house's clock."""

from __future__ import annotations

import datetime as dt

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as now
from django.utils.translation import gettext_lazy as _

from assessments import record_shift
from assessments.kept_pages import kept_page
from assessments.models import ShiftAhead
from assessments.models.shift import MOST_MINUTES
from assessments.reads import MINUTES
from assessments.views.finding import hire_or_404
from assessments.views.forms import refusals_beside
from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.models import Membership
from barcourse.people.roles import May


class ShiftForm(forms.Form):
    day = forms.DateField(label=_("Day"), widget=forms.DateInput({"type": "date"}, "%Y-%m-%d"))
    hour = forms.TimeField(label=_("From"), widget=forms.TimeInput({"type": "time"}, "%H:%M"))
    minutes = forms.IntegerField(
        label=_("Minutes a day for cards until then"),
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
    """Ask for the next shift and go on to the page it matters to."""
    at = timezone.now()
    initial = _initial(hire, at)
    form = ShiftForm(request.POST or None, initial=initial)
    if form.is_valid():
        typed = form.cleaned_data
        begins = dt.datetime.combine(typed["day"], typed["hour"], tzinfo=request.venue.zone)
        with refusals_beside(form):
            record_shift.say_next_shift(
                by=request.membership, hire=hire, starts_at=begins, minutes=typed["minutes"], at=at
            )
            messages.success(request, now("Noted. The cards are planned for that hour."))
            return redirect(reverse(after, kwargs={"house": request.venue.slug, **parts}))
    is_own = hire.pk == request.membership.pk
    kept = kept_page(request.venue, "shift when", *initial.items(), make=lambda: None)
    context = {
        "form": form, "hire": hire, "is_own": is_own, "html": None if form.is_bound else kept.html,
    }  # fmt: skip
    return render(request, "assessments/shift_when.html", context)


def _initial(hire: Membership, at: dt.datetime) -> dict[str, object]:
    said = ShiftAhead.objects.of(hire).after(at).first()
    if said is None:
        return {"minutes": MINUTES}
    begins = hire.venue.local(said.starts_at)
    return {"day": begins.date(), "hour": begins.time(), "minutes": said.minutes}
