"""Stock used in training, listed for the count."""

from __future__ import annotations

import datetime as dt

from django.http import HttpResponse
from django.shortcuts import render

from assessments.measuring import drawn_words, fine_words
from assessments.round_words import TIMES
from assessments.stock_used import Served, Used, used_since
from assessments.views.finding import menu_now
from barcourse.people.access import HouseRequest, member
from barcourse.people.roles import May

DAYS = (1, 7, 30)


@member(May.WATCH)
def used(request: HouseRequest) -> HttpResponse:
    """`?days=` 1, 7 or 30: the house's business days, today's among them."""
    menu = menu_now(request)
    said = request.GET.get("days", "")
    days = next((d for d in DAYS if str(d) == said), DAYS[1])
    first = request.venue.business_day(menu.at) - dt.timedelta(days=days - 1)
    since = request.venue.business_day_begins(first)
    rows = used_since(request.venue, since, menu)
    country = menu.rules.country
    context = {
        "days": days,
        "choices": DAYS,
        "since": since,
        "rows": [(u, _amount(u, country)) for u in rows],
    }
    return render(request, "assessments/stock_used.html", context)


def _amount(used: Used, country: str) -> str:
    if used.served is Served.OPENED:
        return f"{used.pieces} {TIMES} {used.piece}"
    words = drawn_words if used.served is Served.DRAWN else fine_words
    return words(used.ml, country)
