"""Boards as papers and as CSV, as the addresses of the boards ask for them."""

from __future__ import annotations

from dataclasses import replace

from django.http import HttpResponse
from django.utils import timezone

from assessments.board import hires_here
from assessments.task_board import task_board
from assessments.views.finding import menu_now
from assessments.views.looks import look_or_404, menu_of, task_station_or_404, when_or_404
from assessments.waiting import reader_of
from barcourse.people.access import HouseRequest, member
from barcourse.people.roles import May

from . import ready_board, ready_tasks
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


@member(May.SEE_READY)
def tasks_pdf(request: HouseRequest) -> HttpResponse:
    facts, name = _tasks(request, paper_size(request))
    return pdf(ready_tasks.tasks_pdf(facts), name)


@member(May.SEE_READY)
def tasks_csv(request: HouseRequest) -> HttpResponse:
    facts, name = _tasks(request)
    return csv_file(ready_tasks.tasks_csv(facts), name)


def _tasks(request: HouseRequest, size: str = "") -> tuple[ready_tasks.TasksFacts, str]:
    """And what the file is called."""
    when, station = when_or_404(request), task_station_or_404(request)
    facts = ready_tasks.facts_of(task_board(station, menu_now(request), when), when, size)
    return facts, f"{station.slug}-{facts.as_of:%Y-%m-%d}"


def _facts(request: HouseRequest, size: str = "") -> ready_board.BoardFacts:
    look, _form = look_or_404(request)
    menu, now = menu_of(request, look.shift, look.day), timezone.now()
    reader = reader_of(request.membership, now, hires_here(request.venue, now))
    reader = replace(reader, code="")  # others read the file: whose sign-off it is stands by name
    return ready_board.facts_of(menu, look, size, reader)


def _name(facts: ready_board.BoardFacts) -> str:
    return f"who-is-ready-{facts.as_of:%Y-%m-%d}"
