"""Who is ready: the manager's board."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render

from assessments import board
from assessments.hour import MINUTES, trainers_hour
from assessments.measures.readiness import Standing
from assessments.showing import show_row
from assessments.views.finding import menu_now, station_or_404
from barcourse.people.access import HouseRequest, member
from barcourse.people.roles import May

ORDER = list(Standing)


@member(May.SEE_READY)
def board_page(request: HouseRequest) -> HttpResponse:
    """Every hire at one station, ready ones first, then by orders right."""
    venue, menu = request.venue, menu_now(request)
    stations = board.order_stations(venue)
    station = station_or_404(request, stations)
    rows = board.board(station, menu, board.hires_here(venue, menu.at))
    rows.sort(key=lambda r: (ORDER.index(r.verdict.standing), -r.verdict.right))
    context = {
        "station": station,
        "stations": stations,
        "rows": [(row, show_row(row)) for row in rows],
        "hour": trainers_hour(rows),
        "hour_minutes": MINUTES,
        "ready": sum(r.verdict.standing is Standing.READY for r in rows),
        "bar": venue.least_right,
        "most_wrong": venue.most_wrong,
        "second_right": venue.second_right,
    }
    return render(request, "assessments/who_is_ready.html", context)
