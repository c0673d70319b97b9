"""Who is ready: the manager's board."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from assessments import board
from assessments.measures.readiness import Standing
from assessments.showing import show_verdict
from assessments.views.finding import menu_now
from barcourse.people.access import HouseRequest, member
from barcourse.people.models import Station
from barcourse.people.roles import May

ORDER = list(Standing)


def _station(request: HouseRequest, stations: list[Station]) -> Station:
    wanted = request.GET.get("station")
    found = next((s for s in stations if not wanted or s.slug == wanted), None)
    if found is None:
        raise Http404
    return found


@member(May.SEE_READY)
def board_page(request: HouseRequest) -> HttpResponse:
    """Every hire at one station, ready ones first, then by orders right."""
    stations = board.order_stations(request.venue)
    station = _station(request, stations)
    now = timezone.now()
    rows = board.board(station, menu_now(request), board.hires_here(request.venue, now))
    rows.sort(key=lambda r: (ORDER.index(r.verdict.standing), -r.verdict.right))
    ready = sum(r.verdict.standing is Standing.READY for r in rows)
    context = {
        "station": station,
        "stations": stations,
        "rows": [(r.hire, show_verdict(r.verdict)) for r in rows],
        "ready": ready,
        "bar": request.venue.least_right,
        "most_wrong": request.venue.most_wrong,
        "second_right": request.venue.second_right,
    }
    return render(request, "assessments/who_is_ready.html", context)
