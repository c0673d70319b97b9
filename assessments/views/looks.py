"""What the address of the board asks for."""

from __future__ import annotations

import datetime as dt
from urllib.parse import urlencode

from django import forms
from django.http import Http404
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessments import board
from assessments.board_look import Look, Order
from assessments.hour import CHOICES, MINUTES
from assessments.measures.readiness import Standing
from assessments.measures.sales_mix import ShiftKind
from assessments.record_policy import FURTHEST
from assessments.shifts import When, moment_of, when_of
from assessments.views.finding import menu_now, number_or_404, station_or_404
from assessments.wording_practical import SHIFTS, STANDINGS
from barcourse.people.access import HouseRequest
from barcourse.people.models import Station
from recipes.menu import Menu, menu_at
from recipes.models import Module

ALL_SHIFTS = ("", _("all together"))
WHOLE_STATION = ("", _("all that the station pours"))
EVERYBODY = ("", _("everybody"))


class ShiftForm(forms.Form):
    """A shift as an address asks about it; both may be left out."""

    shift = forms.ChoiceField(
        label=_("Kind of shift"), required=False,
        choices=[ALL_SHIFTS, *((k.value, SHIFTS[k]) for k in ShiftKind)],
    )  # fmt: skip
    day = forms.DateField(required=False, widget=forms.HiddenInput)

    def said_or_404(self, request: HouseRequest) -> tuple[ShiftKind | None, dt.date | None]:
        """No day further ahead than somebody is let stand for a shift."""
        if not self.is_valid():
            raise Http404
        kind, day = self.cleaned_data["shift"], self.cleaned_data["day"]
        last = request.venue.business_day(timezone.now()) + FURTHEST
        if day and day > last:
            raise Http404
        return (ShiftKind(kind) if kind else None), day


class LookForm(ShiftForm):
    """Everything may be left out; modules are the house's."""

    module = forms.ModelChoiceField(
        label=_("Drinks"), required=False, queryset=Module.objects.none(), to_field_name="slug",
        empty_label=WHOLE_STATION[1],
    )  # fmt: skip
    standing = forms.ChoiceField(
        label=_("Who"), required=False,
        choices=[EVERYBODY, *((s.value, STANDINGS[s]) for s in Standing)],
    )  # fmt: skip
    order = forms.ChoiceField(
        label=_("First on the list"), required=False,
        choices=[
            (Order.STANDING.value, _("whoever is ready")),
            (Order.RIGHT.value, _("most orders surely right")),
            (Order.WRONG.value, _("most orders wrong")),
            (Order.MISSING.value, _("least that is missing")),
            (Order.NAME.value, _("by name")),
        ],
    )  # fmt: skip


def look_or_404(request: HouseRequest, *, unpoured: Module | None = None) -> tuple[Look, LookForm]:
    """`?station= &shift= &day= &module= &standing= &order=`; 404 for what there is none of. An
    `unpoured` module that is asked for is passed over: see `unpoured_module`."""
    stations = board.order_stations(request.venue)
    asked = request.GET.copy()
    if unpoured:
        del asked["module"]
    station, form = station_or_404(request, stations), LookForm(asked)
    modules = Module.objects.in_house(request.venue).at_station(station).with_drinks()
    form.fields["module"].queryset = modules  # type: ignore[attr-defined]
    kind, day = form.said_or_404(request)
    said = form.cleaned_data
    look = Look(
        station=station,
        shift=kind,
        day=day,
        module=said["module"],
        standing=Standing(said["standing"]) if said["standing"] else None,
        order=Order(said["order"] or Order.STANDING),
    )
    return look, form


def when_or_404(request: HouseRequest) -> When:
    """`?shift= &day=` as the board reads them; 404 for what there is none of."""
    kind, day = ShiftForm(request.GET).said_or_404(request)
    return when_of(request.venue, timezone.now(), kind, day)


def task_station_or_404(request: HouseRequest) -> Station:
    """The `?station=` that takes no orders, the first without; 404 for what is none."""
    return station_or_404(request, board.task_stations(request.venue))


def board_address(request: HouseRequest, station: Station | None) -> str:
    """Where that board is, for the shift that the address asks about."""
    name = "who_is_ready" if station is None or station.takes_orders else "ready_tasks"
    at = reverse(name, kwargs={"house": request.venue.slug})
    asked = (f"station={station.slug}" if station else "", asks_of(request))
    said = "&".join(part for part in asked if part)
    return f"{at}?{said}" if said else at


def asks_of(request: HouseRequest) -> str:
    """The shift in the address, for addresses that this page leads to; empty where it has none."""
    asked = {name: request.GET[name] for name in ("shift", "day") if name in request.GET}
    return urlencode(asked)


def unpoured_module(request: HouseRequest) -> Module | None:
    """The module of the house that the address asks for though nothing of it is poured at that
    station, as the one on safety: of it there are no figures, which a page can say."""
    if not (slug := request.GET.get("module")):
        return None
    station = station_or_404(request, board.order_stations(request.venue))
    modules = Module.objects.in_house(request.venue)
    poured = modules.at_station(station).with_drinks()
    return modules.filter(slug=slug).exclude(pk__in=poured.values("pk")).first()


def hour_or_404(request: HouseRequest) -> tuple[int, frozenset[str]]:
    """`?minutes= &here=`: how long a trainer has, and the codes of who is there, nobody meaning
    everybody."""
    minutes = number_or_404(request.GET.get("minutes", str(MINUTES)))
    if minutes not in CHOICES:
        raise Http404
    return minutes, frozenset(request.GET.getlist("here"))


def menu_of(request: HouseRequest, shift: ShiftKind | None, day: dt.date | None = None) -> Menu:
    """The menu that a question about such a shift is about: that of the next one, or the first
    from that day on; where no kind is asked for that of the day, of now without one; 404 for a
    house whose course was never loaded."""
    menu = menu_now(request)
    at = moment_of(menu.venue, menu.at, shift, day)
    return menu if at == menu.at else menu_at(menu.venue, at)
