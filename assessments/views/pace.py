"""Pace checks: a ticket of orders, the clock, and what went wrong."""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from dataclasses import dataclass

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone

from assessments import board, doubts, hands, record_practical, tickets
from assessments.measures.pace_check import ORDERS, SEEDS
from assessments.measures.sales_mix import ShiftKind
from assessments.models import PaceCheck
from assessments.policy import book_at
from assessments.views.finding import hire_here_or_404, menu_now, station_or_404
from assessments.views.forms import refusals_beside
from assessments.views.forms_practical import PaceForm, TicketForm
from assessments.views.oneself import of_somebody_else
from assessments.views.open_watches import put_on_record
from assessments.voids import void_of
from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.models import Station
from barcourse.people.roles import May
from recipes.menu import Menu


@dataclass(frozen=True)
class Line:
    """One order in words."""

    number: int
    drinks: list[tuple[int, str]]


@member(May.WATCH, methods=READ_AND_SEND)
@of_somebody_else
def check(request: HouseRequest, hire: str) -> HttpResponse:
    """`?station= &orders= &seed= &rung_up=` say which ticket; without a seed a new one is drawn
    and its address is the page's from then on. What is no ticket is said beside its field."""
    person, menu = hire_here_or_404(request, hire), menu_now(request)
    stations = board.order_stations(request.venue)
    station, asked = station_or_404(request, stations), TicketForm(request.GET)
    drawn = drawn_for(menu, station, asked) if asked.is_valid() else None
    form = PaceForm(request.POST or None, drawn=drawn) if drawn else None
    if form and drawn and form.is_valid() and _is_believed(form, drawn):
        with refusals_beside(form):
            row = record_practical.check_pace(
                by=request.membership, hire=person, menu=menu, drawn=drawn,
                timed=record_practical.Timed(form.cleaned_data["seconds"], form.errors_made),
                at=timezone.now(), seen=request.POST.get("ticket", ""),
            )  # fmt: skip
            put_on_record(request)
            return redirect("pace_check", house=request.venue.slug, code=row.code)
    context = {
        "hire": person,
        "station": station,
        "stations": stations,
        "asked": asked,
        "drawn": drawn,
        "lines": _lines(drawn, menu) if drawn else [],
        "form": form,
        "another": secrets.randbelow(SEEDS),
    }
    return render(request, "assessments/pace.html", context)


def _is_believed(form: PaceForm, drawn: tickets.Drawn) -> bool:
    return form.is_believed(doubts.of_time(form.cleaned_data["seconds"], drawn.count))


def drawn_for(menu: Menu, station: Station, asked: TicketForm) -> tickets.Drawn | None:
    """The ticket that a valid form asks for; None where nothing is poured at the station."""
    said = asked.cleaned_data
    seed = said["seed"] if said["seed"] is not None else secrets.randbelow(SEEDS)
    rung_up = said["rung_up"] == "yes" if said["rung_up"] else station.rings_up
    return tickets.draw(menu, station, orders=said["orders"] or ORDERS, seed=seed, rung_up=rung_up)


def _lines(drawn: tickets.Drawn, menu: Menu) -> list[Line]:
    return [
        Line(number, [(n, menu.by_slug[slug].drink.name) for slug, n in order.drinks])
        for number, order in enumerate(drawn.orders, start=1)
    ]


def _stored(row: PaceCheck, names: dict[str, str]) -> list[Line]:
    """A stored ticket; a drink that the house no longer has keeps its slug."""
    tickets_: Sequence[list[tuple[str, int]]] = row.ticket
    return [
        Line(number, [(n, names.get(slug, slug)) for slug, n in order])
        for number, order in enumerate(tickets_, start=1)
    ]


def _wanted(row: PaceCheck) -> list[int]:
    """The drinks an hour that ready takes at its station now, each number once."""
    book = book_at(row.venue, timezone.now())
    return sorted({n for kind in ShiftKind if (n := book.of(row.station, kind).least_pace)})


@member(May.SEE_RECORDS)
def shown(request: HouseRequest, code: str) -> HttpResponse:
    rows = PaceCheck.objects.in_house(request.venue).with_people()
    return _show(request, get_object_or_404(rows.select_related("station"), code=code))


@member(May.LEARN)
def mine(request: HouseRequest, code: str) -> HttpResponse:
    """A hire's own, to read."""
    rows = PaceCheck.objects.of(request.membership).with_people()
    return _show(request, get_object_or_404(rows.select_related("station"), code=code))


def _show(request: HouseRequest, row: PaceCheck) -> HttpResponse:
    lines = _stored(row, hands.names_of(row.venue))
    context = {
        "shown": hands.show_pace(row),
        "lines": lines,
        "row": row,
        "void": void_of(row),
        "wanted": _wanted(row),
    }
    return render(request, "assessments/pace_check.html", context)
