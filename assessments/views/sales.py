"""The sales mix: take in what the till sold, tell its names, see what that weighs."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.template.defaultfilters import floatformat
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments import record_sales, sales
from assessments.measures.sales_mix import ShiftKind
from assessments.models import SalesMix
from assessments.models.sales import Place
from assessments.sales_reading import heard
from assessments.till_file import till_sheet
from assessments.views.finding import menu_now
from assessments.wording_practical import SHIFTS
from assessments.wording_refusals import say
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.reasons import Refused
from barcourse.people.roles import May
from recipes.grammar.reasons import CannotBuild
from recipes.import_words import sheet_problems
from recipes.importing import MOST_KB, received
from recipes.menu import Menu

ASKED_AT_ONCE = 12
"""Names to be told on one page, those that sold most first."""
FIRST = 20
"""Drinks that stand open; the others are a tap away."""
NOTHING_TAUGHT = "-"


@dataclass(frozen=True)
class Asked:
    """A name on the till, the drinks that it may mean, and whether the first is picked already."""

    said: str
    quantity: Decimal
    proposed: list[tuple[str, str]]
    likely: bool


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def page(request: HouseRequest) -> HttpResponse:
    """`?shift=` weighs the drinks for one kind of shift."""
    menu, wrong = menu_now(request), []
    if request.method == "POST":
        try:
            return _take_in(request, menu)
        except CannotBuild as bad:
            wrong = sheet_problems(bad.reasons)
        except Refused as bad:
            wrong = [say(bad.reason)]
    return render(request, "assessments/sales_mix.html", _shown(request, menu) | {"wrong": wrong})


def _take_in(request: HouseRequest, menu: Menu) -> HttpResponse:
    file = request.FILES.get("file")
    data = file.read((MOST_KB + 1) * 1000) if file else request.POST.get("rows", "").encode()
    sheet = till_sheet(received(data), request.venue)
    mix = record_sales.import_sales(
        by=request.membership, sheet=sheet, menu=menu, at=timezone.now()
    )
    said = _("Taken in: %(n)s sold.") % {"n": floatformat(mix.quantity, "-1")}
    messages.success(request, said)
    return redirect("sales_mix", house=request.venue.slug)


def _shown(request: HouseRequest, menu: Menu) -> dict[str, object]:
    shift = shift_or_404(request.GET.get("shift", ""))
    mixes = sales.in_force(request.venue, menu.at)
    found = sales.summary(menu, mixes) if mixes else None
    asked = found.places[Place.WAITING] if found else ()
    weighed = sorted(sales.as_sold(menu, shift).items, key=lambda i: -i.drink.share)
    return {
        "found": found,
        "voided": found.sum_of(Place.VOID) if found else 0,
        "not_ours": found.sum_of(Place.NOT_OURS) if found else 0,
        "untaught": found.places[Place.UNTAUGHT] if found else (),
        "asked": [_asked(c, menu) for c in asked[:ASKED_AT_ONCE]],
        "more": max(0, len(asked) - ASKED_AT_ONCE),
        "drinks": sorted((i.drink.name, i.drink.slug) for i in menu.items),
        "weighed": [(i.drink, f"{100 * i.drink.share:.1f}") for i in weighed[:FIRST]],
        "others": [(i.drink, f"{100 * i.drink.share:.1f}") for i in weighed[FIRST:]],
        "shifts": [(kind.value, SHIFTS[kind]) for kind in ShiftKind],
        "shift": shift.value if shift else "",
        "most": MOST_KB,
        "nothing_taught": NOTHING_TAUGHT,
        "rows": request.POST.get("rows", ""),
    }


def _asked(called: sales.Called, menu: Menu) -> Asked:
    one = heard(called.said, menu)
    named = [(slug, menu.by_slug[slug].drink.name) for slug in one.proposed]
    return Asked(called.said, called.quantity, named, one.likely)


def shift_or_404(said: str) -> ShiftKind | None:
    """None for all shifts."""
    if not said:
        return None
    try:
        return ShiftKind(said)
    except ValueError:
        raise Http404 from None


@member(May.EDIT_BOOK, methods=SEND)
def names(request: HouseRequest) -> HttpResponse:
    """What names mean: those left open stay so."""
    menu = menu_now(request)
    pairs = zip(request.POST.getlist("said"), request.POST.getlist("drink"), strict=False)
    told = {said: None if to == NOTHING_TAUGHT else to for said, to in pairs if said and to}
    if any(slug is not None and slug not in menu.by_slug for slug in told.values()):
        raise Http404
    n = record_sales.tell_names(by=request.membership, told=told, menu=menu, at=timezone.now())
    said = ngettext("%(n)s name told.", "%(n)s names told.", n) % {"n": n}
    messages.success(request, said)
    return redirect("sales_mix", house=request.venue.slug)


@member(May.EDIT_BOOK, methods=SEND)
def withdraw(request: HouseRequest, code: str) -> HttpResponse:
    mix = get_object_or_404(SalesMix.objects.in_house(request.venue), code=code)
    try:
        record_sales.withdraw_sales(by=request.membership, mix=mix, at=timezone.now())
        messages.success(request, _("Taken back: it counts no longer."))
    except Refused as bad:
        messages.error(request, say(bad.reason))
    return redirect("sales_mix", house=request.venue.slug)
