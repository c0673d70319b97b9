"""The night: how many people an hour of orders needs, next to those who are ready."""

from __future__ import annotations

import datetime as dt
from typing import Any

from django import forms
from django.http import HttpResponse
from django.shortcuts import render
from django.utils.formats import number_format
from django.utils.translation import gettext, ngettext
from django.utils.translation import gettext_lazy as _

from assessments import board, night, sales
from assessments.measures.sales_mix import ShiftKind
from assessments.measures.staffing import Aim, seconds_an_order
from assessments.record_policy import FURTHEST
from assessments.sales_in_force import in_force
from assessments.shifts import coming_shift
from assessments.views.finding import menu_now, station_or_404
from assessments.views.looks import menu_of
from assessments.wording import word
from assessments.wording_practical import SHIFTS
from assessments.wording_refusals import say
from barcourse.people.access import HouseRequest, member
from barcourse.people.reasons import refuse
from barcourse.people.roles import May
from recipes.forms.fields import NumberField

SAID = {"orders": 120, "pace": 70, "handling": 0, "wait": 120, "share": 90, "others": 0}
"""What the page begins with; a pace with payment (common practice, no source). So many orders are
an example, where no till has told."""


class NightForm(forms.Form):
    """An hour, as the manager thinks of it."""

    orders = forms.IntegerField(label=_("Orders an hour"), min_value=0, max_value=5000)
    round = NumberField(label=_("Drinks an order"), min_value=0.1, max_value=30)
    pace = forms.IntegerField(
        label=_("Drinks an hour one person makes"), min_value=1, max_value=600,
        help_text=_("60 to 100 with payment is usual; a pace check tells."),
    )  # fmt: skip
    handling = forms.IntegerField(
        label=_("Seconds more an order takes"), min_value=0, max_value=600,
        help_text=_("Greeting and till, where the pace was timed without them."),
    )  # fmt: skip
    wait = forms.IntegerField(label=_("A wait is short enough up to (seconds)"), min_value=0,
                              max_value=3600)  # fmt: skip
    share = forms.IntegerField(
        label=_("Of 100 guests so many wait no longer"), min_value=1, max_value=99
    )
    others = forms.IntegerField(
        label=_("Others who hold the station"), min_value=0, max_value=200,
        help_text=_("Those who train or have long been here are not on the board."),
    )  # fmt: skip
    shift = forms.ChoiceField(label=_("Kind of shift"), required=False,
                              choices=[(k.value, SHIFTS[k]) for k in ShiftKind])  # fmt: skip
    day = forms.DateField(
        label=_("From which day on"), required=False,
        widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"),
        help_text=_("The first such shift from then on; without a day the next one."),
    )  # fmt: skip

    def __init__(self, data: Any, *, today: dt.date, busiest: int, a_round: night.Round) -> None:
        super().__init__(data)
        self.fields["round"].help_text = _round_words(a_round)
        self.last = today + FURTHEST
        self.fields["orders"].help_text = (
            _("%(count)s in the busiest hour of such a shift, as the till tells it.")
            % {"count": busiest}
            if busiest
            else _("An example to begin with: no till has told what such a shift brings.")
        )

    def clean_day(self) -> dt.date | None:
        day: dt.date | None = self.cleaned_data["day"]
        if day and day > self.last:
            raise forms.ValidationError(say(refuse("override_too_far", days=FURTHEST.days).reason))
        return day


def _round_words(told: night.Round) -> str:
    if not told.orders:
        return gettext(
            "Our own guess to begin with: no till has told how many drinks an order has."
        )
    said = ngettext(
        "%(drinks)s on %(n)s order of the till of which every name is told.",
        "%(drinks)s on %(n)s orders of the till of which every name is told.", told.orders,
    )  # fmt: skip
    return said % {"drinks": number_format(told.drinks), "n": told.orders}


def kind_of_shift(said: str) -> ShiftKind:
    """The one asked for; the busiest where none is, or none that there is."""
    return ShiftKind(said) if said in list(ShiftKind) else ShiftKind.WEEKEND_LATE


def _round_asked(request: HouseRequest, told: float) -> float:
    """Drinks an order as typed, else as told."""
    try:
        return float(NightForm.base_fields["round"].clean(request.GET.get("round", "")))
    except forms.ValidationError:
        return told


@member(May.SEE_READY)
def page(request: HouseRequest) -> HttpResponse:
    menu = menu_now(request)
    stations = board.order_stations(request.venue)
    station = station_or_404(request, stations)
    force, kind = in_force(menu.venue, menu.at), kind_of_shift(request.GET.get("shift", ""))
    a_round, told = night.drinks_a_round(force), sales.hours(menu.venue, force, kind)
    busiest = night.busiest(told, _round_asked(request, a_round.drinks))
    said = SAID | {"round": a_round.drinks, "shift": kind.value, "day": ""}
    said["orders"] = busiest or SAID["orders"]
    given = said | {k: request.GET[k] for k in said if k in request.GET}
    today = request.venue.business_day(menu.at)
    form = NightForm(given, today=today, busiest=busiest, a_round=a_round)
    context: dict[str, Any] = {"form": form, "station": station, "stations": stations}
    if form.is_valid():
        asked = form.cleaned_data
        takes = seconds_an_order(asked["pace"], asked["round"], asked["handling"])
        aim = Aim(asked["wait"], asked["share"] / 100)
        then = menu_of(request, kind, asked["day"])
        people = night.people_at(station, then, asked["others"], kind)
        sold, orders = night.waiting_in(told)
        one = night.needed(asked["orders"], takes, aim, people.holding)
        hours = night.hours_of(told, asked["round"], takes, aim, people.holding)
        context |= {
            "people": people,
            "is_example": not busiest and "orders" not in request.GET,
            "one": one,
            "with_these": word(one.with_these),
            "hours": [(h, f"{h.hour:02d}:00", word(h.with_these)) for h in hours],
            "shift": SHIFTS[kind],
            "when": coming_shift(menu.venue, then.at, kind).when,
            "waiting": sold,
            "orders_waiting": orders,
        }
    return render(request, "assessments/the_night.html", context)
