"""Shifts of several people at once: the rota pasted, what was read of it looked at, then set."""

from __future__ import annotations

import datetime as dt
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.dates import MONTHS, WEEKDAYS, WEEKDAYS_ABBR
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext, override

from assessments import record_shift
from assessments.models import ShiftAhead
from assessments.rota_grid import Grid, find_grid, read_grid
from assessments.rota_lines import RotaLine, RotaWords, read_rota
from assessments.views.forms import refusals_beside
from assessments.views.forms_rota import (
    MOST_LINES,
    MinutesForm,
    RotaForm,
    ShiftRows,
    kept_rows,
    too_much,
)
from assessments.wording_rota import word
from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.models import Membership, Venue
from barcourse.people.models.venue import Country
from barcourse.people.roles import May


@member(May.INVITE, methods=READ_AND_SEND)
def page(request: HouseRequest) -> HttpResponse:
    if "form-TOTAL_FORMS" in request.POST:
        return _set(request)
    form = RotaForm(request.POST or None)
    if not form.is_valid():
        return _page(request, {"form": form})
    lines = _read(request.venue, form, timezone.now())
    if form.errors:
        return _page(request, {"form": form})
    rows = ShiftRows(initial=[_initial(line) for line in lines], form_kwargs=_about(request))
    return _page(request, {"rows": rows, "minutes": MinutesForm()})


def _set(request: HouseRequest) -> HttpResponse:
    rows = ShiftRows(request.POST, form_kwargs=_about(request))
    minutes = MinutesForm(request.POST)
    if rows.is_valid() & minutes.is_valid():
        with refusals_beside(minutes):
            made = record_shift.set_shifts(
                by=request.membership,
                shifts=[row.shift for row in kept_rows(rows)],
                minutes=minutes.cleaned_data["minutes"],
                at=timezone.now(),
            )
            said = ngettext("%(count)s shift is set.", "%(count)s shifts are set.", len(made))
            messages.success(request, said % {"count": len(made)})
            return redirect("rota", house=request.venue.slug)
    return _page(request, {"rows": rows, "minutes": minutes})


def _page(request: HouseRequest, context: dict[str, Any]) -> HttpResponse:
    """With what stands already, soonest first."""
    ahead = ShiftAhead.objects.in_house(request.venue).after(timezone.now())
    context["ahead"] = ahead.select_related("hire__person", "said_by__person")
    return render(request, "assessments/rota.html", context)


def _people(venue: Venue, at: dt.datetime) -> dict[str, Membership]:
    here = Membership.objects.in_house(venue).here(venue.business_day(at)).by_name()
    return {member.code: member for member in here}


def _about(request: HouseRequest) -> dict[str, object]:
    at = timezone.now()
    return {"people": _people(request.venue, at), "venue": request.venue, "at": at}


def _read(venue: Venue, form: RotaForm, at: dt.datetime) -> tuple[RotaLine, ...]:
    """A grid, else a shift a line. What keeps it from being read is said at the form."""
    text, begins = form.cleaned_data["text"], form.cleaned_data["begins"]
    names = {code: member.name for code, member in _people(venue, at).items()}
    words, now = _words(venue), venue.local(at).replace(tzinfo=None)
    grid = find_grid(text, people=names, words=words, now=now)
    if grid is None:
        return read_rota(text, people=names, words=words, now=now)
    if grid.needs_first_day:
        _look_at_first_day(form, grid, begins)
    lines = read_grid(grid, people=names, begins=begins)
    if len(lines) > MOST_LINES:
        form.add_error("text", too_much())
    return lines


def _look_at_first_day(form: RotaForm, grid: Grid, begins: dt.date | None) -> None:
    first = grid.columns[0]
    if begins is None:
        said = _("Its columns say weekdays alone: which day is “%(column)s”?")
    elif first.weekday not in (None, begins.weekday()):
        said = _("That day is no “%(column)s”, which its first column says.")
    else:
        return
    form.add_error("begins", said % {"column": first.said})


def _words(venue: Venue) -> RotaWords:
    """In the reader's language, and in English as well."""
    weekdays, months = _named(), _named_months()
    with override("en"):
        weekdays, months = _named() | weekdays, _named_months() | months
    weekdays = _SHORTER | weekdays
    off = _OFF | {word.strip().casefold() for word in str(_OFF_HERE).split(",")}
    return RotaWords(weekdays, months, venue.country == Country.US, frozenset(off))


_OFF = {"off", "day off", "free", "rest", "holiday", "hol", "leave", "vacation", "sick", "n/a"}
_OFF_HERE = gettext_lazy("off, day off, free, holiday, leave, sick")
"""Words of a rota for not working, in English and in the reader's language."""


_SHORTER = {"tues": 1, "weds": 2, "thur": 3, "thurs": 3}
"""As people write them in English, beside the first three letters."""


def _named() -> dict[str, int]:
    named = (*WEEKDAYS_ABBR.items(), *WEEKDAYS.items())
    return {str(name).casefold(): day for day, name in named}


def _named_months() -> dict[str, int]:
    """Whole and by their first three letters."""
    whole = {str(name).casefold(): month for month, name in MONTHS.items()}
    return {name[:3]: month for name, month in whole.items()} | whole


def _initial(line: RotaLine) -> dict[str, object]:
    """A line in which nothing was found, or that says that somebody is off, is left out until
    somebody says otherwise."""
    is_nothing = line.who is None and line.day is None and line.hour is None
    return {
        "said": line.said, "who": line.who or "", "day": line.day, "hour": line.hour,
        "drop": is_nothing or line.is_off, "is_off": line.is_off,
        "left": [word(reason) for reason in line.left],
    }  # fmt: skip
