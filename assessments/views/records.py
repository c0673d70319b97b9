"""What is on record about a person: their own page, and the same for trainers and above."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render

from assessments import board, reads
from assessments.models import QuizResult
from assessments.showing import show_verdict
from assessments.views.finding import hire_or_404, menu_now
from barcourse.people.access import HouseRequest, member
from barcourse.people.models import Membership
from barcourse.people.roles import May


@member(May.LEARN)
def mine(request: HouseRequest) -> HttpResponse:
    return _record(request, request.membership, is_own=True)


@member(May.SEE_RECORDS)
def hire(request: HouseRequest, code: str) -> HttpResponse:
    person = hire_or_404(request, code)
    return _record(request, person, is_own=person.pk == request.membership.pk)


def _record(request: HouseRequest, person: Membership, *, is_own: bool) -> HttpResponse:
    menu = menu_now(request)
    stations = board.order_stations(request.venue)
    context = {
        "person": person,
        "is_own": is_own,
        "standing": [
            (s, show_verdict(board.board(s, menu, [person])[0].verdict)) for s in stations
        ],
        "builds": reads.builds_of(person, menu),
        "results": QuizResult.objects.of(person).select_related("module").newest_first(),
        "bar": request.venue.least_right,
    }
    return render(request, "assessments/record.html", context)
