"""The board as a paper and as CSV, as the address of the board asks for it."""

from __future__ import annotations

from dataclasses import replace

from django.http import HttpResponse
from django.utils import timezone

from assessments.board import hires_here
from assessments.views.looks import look_or_404, menu_of
from assessments.waiting import reader_of
from barcourse.people.access import HouseRequest, member
from barcourse.people.roles import May

from . import ready_board
from .sheets import csv_file
from .views import paper_size, pdf


@member(May.SEE_READY)
def ready_pdf(request: HouseRequest) -> HttpResponse:
    facts = _facts(request, paper_size(request))
    return pdf(ready_board.ready_pdf(facts), _name(facts))


@member(May.SEE_READY)
def ready_csv(request: HouseRequest) -> HttpResponse:
    facts = _facts(request)
    return csv_file(ready_board.ready_csv(facts), _name(facts))


def _facts(request: HouseRequest, size: str = "") -> ready_board.BoardFacts:
    look, _form = look_or_404(request)
    menu, now = menu_of(request, look.shift, look.day), timezone.now()
    reader = reader_of(request.membership, now, hires_here(request.venue, now))
    reader = replace(reader, code="")  # others read the file: whose sign-off it is stands by name
    return ready_board.facts_of(menu, look, size, reader)


def _name(facts: ready_board.BoardFacts) -> str:
    return f"who-is-ready-{facts.as_of:%Y-%m-%d}"
