"""Minutes studied by whom on which day, and the same as a sheet for payroll; of the last fourteen
days, or of those chosen."""

from __future__ import annotations

import datetime as dt

from django import forms
from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessments.kept_pages import KeptPage, answers_of, kept_page, minute_of
from assessments.study_time import DAYS, Studied, in_all, sheet, studied_since
from barcourse.people.access import HouseRequest, member
from barcourse.people.models import Membership, Venue
from barcourse.people.roles import May

MOST_DAYS = 366


class PeriodForm(forms.Form):
    """The first and the last business day of a sheet."""

    first = forms.DateField(label=_("From"), widget=forms.DateInput({"type": "date"}, "%Y-%m-%d"))
    last = forms.DateField(label=_("To"), widget=forms.DateInput({"type": "date"}, "%Y-%m-%d"))

    def clean_last(self) -> dt.date:
        last: dt.date = self.cleaned_data["last"]
        first = self.cleaned_data.get("first")
        if first and not 0 <= (last - first).days < MOST_DAYS:
            raise forms.ValidationError(
                _("Choose a day on or after the first, a year at most in all.")
            )
        return last


def _period(request: HouseRequest) -> PeriodForm:
    """What was chosen; else the last fourteen days, today included."""
    if "first" in request.GET or "last" in request.GET:
        return PeriodForm(request.GET)
    today = request.venue.business_day(timezone.now())
    return PeriodForm({"first": today - dt.timedelta(days=DAYS - 1), "last": today})


@member(May.SEE_PAPERS)
def minutes(request: HouseRequest) -> HttpResponse:
    return _page(request, _period(request))


def _page(request: HouseRequest, form: PeriodForm) -> HttpResponse:
    is_right = form.is_valid()
    context: dict[str, object] = {"form": form, "is_paid": request.venue.study_is_paid}
    if is_right:
        kept = _kept(request, form.cleaned_data["first"], form.cleaned_data["last"])
        context |= {"rows": kept.shown, "in_all": in_all(kept.shown), "html": kept.html}
        context |= form.cleaned_data
    return render(request, "assessments/study.html", context, status=200 if is_right else 400)


@member(May.SEE_PAPERS)
def minutes_csv(request: HouseRequest) -> HttpResponse:
    """With a byte-order mark: spreadsheets take the text for another encoding without it."""
    form = _period(request)
    if not form.is_valid():
        return _page(request, form)
    last = form.cleaned_data["last"]
    text = sheet(_kept(request, form.cleaned_data["first"], last).shown).encode("utf-8-sig")
    answer = HttpResponse(text, content_type="text/csv; charset=utf-8")
    name = f"{request.venue.slug}-minutes-{last}.csv"
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer


def _kept(request: HouseRequest, first: dt.date, last: dt.date) -> KeptPage[list[Studied]]:
    venue, at = request.venue, timezone.now()
    key = ("study", first, last, answers_of(venue), minute_of(at))
    return kept_page(venue, *key, make=lambda: _rows(venue, first, last, at))


def _rows(venue: Venue, first: dt.date, last: dt.date, at: dt.datetime) -> list[Studied]:
    """Of everybody, also of who has just left: their minutes are to be paid too."""
    hires = list(Membership.objects.in_house(venue).by_name())
    rows = studied_since(venue, hires, first, at)
    return [row for row in rows if row.day <= last]
