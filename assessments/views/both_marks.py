"""Both markings of a build, side by side."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.shortcuts import render

from assessments import marked_twice
from assessments.showing import Naming
from assessments.views.finding import menu_now
from barcourse.people.access import HouseRequest, member
from barcourse.people.roles import May


@member(May.LEARN)
def both_marks(request: HouseRequest, code: str) -> HttpResponse:
    """For both trainers, the hire and managers; to anybody else there is no such page."""
    mark = marked_twice.find(request.venue, code)
    if mark is None or not marked_twice.may_see(request.membership, mark):
        raise Http404
    shown = marked_twice.show(mark, Naming.of(menu_now(request)))
    return render(request, "assessments/both_marks.html", {"shown": shown, "mark": mark})
