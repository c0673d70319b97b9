"""What is on record about a person: their own page, and the same for trainers and above."""

from __future__ import annotations

import datetime as dt

from django.http import HttpResponse
from django.shortcuts import render

from assessments import board, hands, reads, tasks
from assessments.calls_done import in_all, runs_done
from assessments.models import QuizResult, ShiftAhead
from assessments.overrides import beside, elsewhere, standing_once
from assessments.overrides_past import given_for
from assessments.run_out import run_out_of
from assessments.said import in_a_word, said_by
from assessments.shifts import About, about_next, reckoned
from assessments.showing import show_rows
from assessments.showing_past import show_past
from assessments.sign_offs import must_knows_proven
from assessments.to_look_at import plans_of
from assessments.views.finding import hire_or_404, menu_now, station_or_404
from assessments.views.looks import asks_of, when_or_404
from assessments.waiting import reader_of
from barcourse.people.access import HouseRequest, member
from barcourse.people.models import Membership
from barcourse.people.roles import May

NEWEST = 5
"""Of a long list so many stand on the page; the rest can be unfolded."""


@member(May.LEARN)
def mine(request: HouseRequest) -> HttpResponse:
    return _record(request, request.membership, is_own=True)


@member(May.SEE_RECORDS)
def hire(request: HouseRequest, code: str) -> HttpResponse:
    person = hire_or_404(request, code)
    return _record(request, person, is_own=person.pk == request.membership.pk)


def _about(request: HouseRequest, person: Membership, at: dt.datetime) -> About:
    """Whoever asks for nothing reads of the shift that this person works next."""
    is_here = person.is_here(request.venue.business_day(at))
    said = ShiftAhead.objects.of(person).after(at).first() if is_here else None
    theirs = about_next(request.venue, said) or About(None)
    if not (asks := asks_of(request)):
        return theirs
    return About(when_or_404(request), theirs.next, f"&{asks}")


def _record(request: HouseRequest, person: Membership, *, is_own: bool) -> HttpResponse:
    menu, stations = menu_now(request), board.order_stations(request.venue)
    chosen = station_or_404(request, stations) if stations else None
    about = _about(request, person, menu.at)
    then = reckoned(menu, about.reckoned)
    rows = board.rows_of(person, stations, then.menu, then.asked)
    reader = reader_of(request.membership, menu.at, [person])
    builds = reads.builds_of(person, menu)
    once = beside(standing_once(request.venue, menu.at), then.shift)
    ended = QuizResult.objects.of(person).select_related("quiz__module", "quiz__try_out")
    results = list(ended.with_left_open().newest_first())
    called = runs_done(person)
    here = next((r for r in rows if r.station == chosen), None)
    context = {
        **show_past(here, then.menu, menu.at, then.asked.shift),
        "about": about,
        "person": person,
        "plans": plans_of(person, menu.at),
        "hands": hands.hands_of(person, menu),
        "is_own": is_own,
        "is_here": person.is_here(request.venue.business_day(menu.at)),
        "standing": show_rows((r for r in rows if r.station == chosen), once, reader),
        "others": show_rows((r for r in rows if r.station != chosen), once, reader),
        "by_tasks": [
            row
            for station in board.task_stations(request.venue)
            for row in tasks.task_rows(station, [person], then.menu.at, then.asked)
        ],
        "given": () if is_own or not request.membership.may(May.SET_READY) else given_for(person),
        "elsewhere": elsewhere(once, person, chosen),
        "blind": reader.blind,
        "said_words": in_a_word(said_by(person)),
        "builds": (builds[:NEWEST], builds[NEWEST:]),
        "run_out": run_out_of(person, menu.at),
        "results": (results[:NEWEST], results[NEWEST:]),
        "calls": (called[:NEWEST], called[NEWEST:]),
        "calls_in_all": in_all(called),
        "proven": must_knows_proven([person], menu)[person.pk],
        "must_knows": len(menu.must_knows()),
    }
    return render(request, "assessments/record.html", context)
