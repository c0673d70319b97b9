"""How far the figures hold: the house's own builds against what was said of them beforehand."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render

from assessments import own_history
from assessments.showing_record import show_record
from assessments.views.finding import menu_now
from barcourse.people.access import HouseRequest, member
from barcourse.people.roles import May


@member(May.SEE_LOG)
def page(request: HouseRequest) -> HttpResponse:
    menu = menu_now(request)
    shown = show_record(own_history.cases_of(menu), own_history.how_many_builds(menu))
    context = {"shown": shown, "whole": shown.whole, "most": own_history.MOST}
    return render(request, "assessments/own_record.html", context)
