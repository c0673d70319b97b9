"""A trainer's hour: with whom to spend the time, so that most become ready."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.db.models import prefetch_related_objects
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from assessments import board
from assessments.board import Row
from assessments.board_look import Look, Order, in_order, look_at
from assessments.hour import CHOICES, Hour, takes
from assessments.shifts import About, in_address, when_of
from assessments.views.finding import page_or_404, station_or_404
from assessments.views.looks import ShiftForm, hour_or_404, menu_of
from assessments.waiting import reader_of
from assessments.wording import word
from barcourse.people.access import HouseRequest, member
from barcourse.people.roles import May

NAMED = 6
"""Of those whom the hour leaves out, so that they stay a few lines (our own number, no source)."""

AT_ONCE = 50
"""Names to tick: more is a long way on a phone (our own number, no source)."""


@member(May.SEE_READY)
def page(request: HouseRequest) -> HttpResponse:
    """`?station= &shift= &day=` as the board reads them, `&minutes= &here=` for how long a trainer
    has and who is there; 404 for what there is none of."""
    venue = request.venue
    prefetch_related_objects([venue], "stations")
    stations = board.order_stations(venue)
    station = station_or_404(request, stations)
    form = ShiftForm(request.GET)
    kind, day = form.said_or_404(request)
    menu = menu_of(request, kind, day)
    rows = look_at(menu, board.hires_here(venue, menu.at), Look(station, kind, day)).everybody
    context = {
        "station": station,
        "stations": stations,
        "about": About(when_of(venue, timezone.now(), kind, day)),
        "asks": in_address(kind, day),
        "total": len(rows),
        "form": form,
        **_hour(request, rows),
    }
    return render(request, "assessments/trainers_hour.html", context)


def _hour(request: HouseRequest, rows: Sequence[Row]) -> dict[str, Any]:
    """Whom the plan reckons with is ticked; with nobody ticked it reckons with everybody. A plan
    that was kept goes on with the rest when one of them has left."""
    minutes, here = hour_or_404(request)
    ticked = [row for row in rows if row.hire.code in here]
    gone = _gone_or_404(request, here - {row.hire.code for row in ticked})
    there = ticked or rows
    reader = reader_of(request.membership, timezone.now(), [row.hire for row in there])
    hour = Hour(there, minutes, reader)
    board.look_at(hour.to_look_at(NAMED))
    left, more = hour.left(NAMED)
    pages = page_or_404(request, in_order(rows, Order.NAME), AT_ONCE)
    listed = {row.hire.code for row in pages}
    others = [row for row in ticked if row.hire.code not in listed]
    return {
        "minutes": minutes,
        "choices": CHOICES,
        "gone": gone,
        "takes": takes(rows[0].sheet.policy) if rows else {},
        "turns": hour.turns,
        "ready": any(turn.ready for turn in hour.turns),
        "barred": all(turn.row.barred for turn in hour.turns),
        "left": [(x.row.hire, word(x.why), word(x.first) if x.first else "") for x in left],
        "left_more": more,
        "people": [(row.hire, row.hire.code in here) for row in (*others, *pages)],
        "pages": pages,
    }


def _gone_or_404(request: HouseRequest, codes: frozenset[str]) -> list[str]:
    """Names of those who are trained here no more; 404 for who never was here."""
    if not codes:
        return []
    found = request.venue.memberships.filter(code__in=codes)
    if len(found) < len(codes):
        raise Http404
    return sorted(member.name for member in found)
