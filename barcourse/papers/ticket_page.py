"""The ticket of a pace check as a paper."""

from __future__ import annotations

from django.http import Http404, HttpResponse

from assessments import board
from assessments.views.finding import menu_now, station_or_404
from assessments.views.forms_practical import TicketForm
from assessments.views.pace import drawn_for
from barcourse.people.access import HouseRequest, member
from barcourse.people.roles import May

from . import ticket
from .views import paper_size, pdf


@member(May.WATCH)
def ticket_pdf(request: HouseRequest) -> HttpResponse:
    """The same `?station= &orders= &seed= &rung_up=` as the page of the pace check."""
    menu, asked = menu_now(request), TicketForm(request.GET)
    station = station_or_404(request, board.order_stations(request.venue))
    if not asked.is_valid():
        raise Http404
    drawn = drawn_for(menu, station, asked)
    if drawn is None:
        raise Http404
    facts = ticket.facts_of(drawn, menu, paper_size(request))
    return pdf(ticket.ticket_pdf(facts), f"ticket-{station.slug}-{drawn.seed}")
