"""Minutes studied by whom on which day, and the same as a sheet for payroll."""

from __future__ import annotations

import datetime as dt

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone

from assessments.kept_pages import KeptPage, answers_of, kept_page, minute_of
from assessments.study_time import DAYS, Studied, sheet, studied
from barcourse.people.access import HouseRequest, member
from barcourse.people.models import Membership, Venue
from barcourse.people.roles import May


@member(May.SEE_PAPERS)
def minutes(request: HouseRequest) -> HttpResponse:
    kept = _kept(request)
    context = {
        "rows": kept.shown, "html": kept.html, "days": DAYS, "is_paid": request.venue.study_is_paid,
    }  # fmt: skip
    return render(request, "assessments/study.html", context)


@member(May.SEE_PAPERS)
def minutes_csv(request: HouseRequest) -> HttpResponse:
    """With a byte-order mark: spreadsheets take the text for another encoding without it."""
    text = sheet(_kept(request).shown).encode("utf-8-sig")
    answer = HttpResponse(text, content_type="text/csv; charset=utf-8")
    day = request.venue.business_day(timezone.now())
    name = f"{request.venue.slug}-minutes-{day}.csv"
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer


def _kept(request: HouseRequest) -> KeptPage[list[Studied]]:
    venue, at = request.venue, timezone.now()
    key = ("study", answers_of(venue), minute_of(at))
    return kept_page(venue, *key, make=lambda: _rows(venue, at))


def _rows(venue: Venue, at: dt.datetime) -> list[Studied]:
    """Of everybody, also of who has just left: their minutes are to be paid too."""
    return studied(venue, list(Membership.objects.in_house(venue).by_name()), at)
