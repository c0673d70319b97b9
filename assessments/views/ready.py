"""Who is ready: the manager's board."""

from __future__ import annotations

import datetime as dt

from django.db.models import prefetch_related_objects
from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone

from assessments import board
from assessments.board_look import look_at
from assessments.overrides import standing_once
from assessments.record_policy import FURTHEST
from assessments.shifts import (
    About,
    Shift,
    coming_shift,
    day_words,
    in_address,
    shift_after,
)
from assessments.showing import show_rows
from assessments.showing_record import board_says
from assessments.task_board import task_board
from assessments.views.finding import menu_now, page_or_404
from assessments.views.looks import (
    asks_of,
    look_or_404,
    menu_of,
    task_station_or_404,
    unpoured_module,
    when_or_404,
)
from assessments.waiting import reader_of
from assessments.wording_practical import SHIFTS
from assessments.wording_ready import policy_words, task_policy_words
from barcourse.people.access import HouseRequest, member
from barcourse.people.models import Venue
from barcourse.people.roles import May

AT_ONCE = 25
"""Rows: nobody reads more, and a phone has enough to draw (our own number, no source)."""


@member(May.SEE_READY)
def board_page(request: HouseRequest) -> HttpResponse:
    """Hires at one station, as the address asks; without more every one, ready ones first, then by
    orders right."""
    venue = request.venue
    prefetch_related_objects([venue], "stations")
    unpoured = unpoured_module(request)
    look, form = look_or_404(request, unpoured=unpoured)
    menu = menu_of(request, look.shift, look.day)
    seen = look_at(menu, board.hires_here(venue, menu.at), look)
    pages = page_or_404(request, seen.rows, AT_ONCE)
    rows = list(pages)
    board.look_at(rows)
    reader = reader_of(request.membership, timezone.now(), [row.hire for row in rows])
    shift = coming_shift(venue, menu.at, look.shift) if look.shift else None
    context = {
        "station": look.station,
        "stations": board.order_stations(venue),
        "look": look,
        "look_form": form,
        "unpoured": unpoured,
        "shift": SHIFTS[look.shift] if look.shift else "",
        "when": shift.when if shift else _day_ahead(venue, look.day),
        "after": _after(venue, shift),
        "asks": in_address(look.shift, look.day or (shift.day if shift else None)),
        "total": len(seen.everybody),
        "rows": show_rows(rows, standing_once(venue, menu.at, look.shift), reader),
        "task_stations": board.task_stations(venue),
        "pages": pages,
        "ready": seen.ready,
        "takes": policy_words(seen.policy),
        "wider": board_says(seen.miss),
    }
    return render(request, "assessments/who_is_ready.html", context)


def _day_ahead(venue: Venue, day: dt.date | None) -> str:
    """In words, where it is yet to come; else the board is of now."""
    return day_words(day) if day and day > venue.business_day(timezone.now()) else ""


def _after(venue: Venue, shift: Shift | None) -> Shift | None:
    """The next shift of that kind, as far ahead as somebody can be let stand for one."""
    after = shift_after(venue, shift) if shift else None
    last = venue.business_day(timezone.now()) + FURTHEST
    return after if after and after.day <= last else None


@member(May.SEE_READY)
def tasks_page(request: HouseRequest) -> HttpResponse:
    """Every hire at a station that takes no orders, for the shift that the address asks about."""
    when, station = when_or_404(request), task_station_or_404(request)
    found = task_board(station, menu_now(request), when)
    context = {
        "station": station,
        "stations": board.order_stations(request.venue),
        "task_stations": board.task_stations(request.venue),
        "rows": found.rows,
        "ready": found.ready,
        "takes": task_policy_words(found.policy),
        "about": About(when),
        "asks": asks_of(request) or in_address(None, None),
    }
    return render(request, "assessments/ready_tasks.html", context)
