"""Minutes studied by whom on which day, and the same as a sheet for payroll."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone

from assessments.study_time import DAYS, Studied, sheet, studied
from barcourse.people.access import HouseRequest, member
from barcourse.people.models import Membership
from barcourse.people.roles import May


@member(May.SEE_PAPERS)
def minutes(request: HouseRequest) -> HttpResponse:
    context = {"rows": _rows(request), "days": DAYS, "is_paid": request.venue.study_is_paid}
    return render(request, "assessments/study.html", context)


@member(May.SEE_PAPERS)
def minutes_csv(request: HouseRequest) -> HttpResponse:
    """With a byte-order mark: spreadsheets take the text for another encoding without it."""
    text = sheet(_rows(request)).encode("utf-8-sig")
    answer = HttpResponse(text, content_type="text/csv; charset=utf-8")
    day = request.venue.business_day(timezone.now())
    name = f"{request.venue.slug}-minutes-{day}.csv"
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer


def _rows(request: HouseRequest) -> list[Studied]:
    """Of everybody, also of who has just left: their minutes are to be paid too."""
    hires = list(Membership.objects.in_house(request.venue).by_name())
    return studied(request.venue, hires, timezone.now())
