"""The sales mix: what came in, what its names mean, what that weighs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import record_sales, sales, sales_names
from assessments.measures.sales_mix import ShiftKind
from assessments.models import SalesMix
from assessments.models.sales import Place
from assessments.sales_alike import as_asked
from assessments.sales_in_force import InForce, in_force
from assessments.sales_names import NOTHING_TAUGHT, Asked
from assessments.sales_words import counts_now_words, orders_words, spans
from assessments.views.finding import menu_now
from assessments.wording_practical import SHIFTS
from assessments.wording_refusals import say
from barcourse.people.access import SEND, HouseRequest, member
from barcourse.people.reasons import Refused
from barcourse.people.roles import May
from recipes.grammar.till_packs import MOST_IN_ONE
from recipes.menu import Menu

ASKED_AT_ONCE = 12
"""Names to be told on one page, those that sold most first."""
FIRST = 20
"""Drinks that stand open; the others are a tap away."""
FORGET = "?"


@member(May.EDIT_BOOK)
def page(request: HouseRequest) -> HttpResponse:
    """`?shift=` weighs the drinks for one kind of shift; `?otherwise=` asks about a name that was
    told."""
    menu = menu_now(request)
    force = in_force(request.venue, menu.at)
    again = sales_names.otherwise(request.GET.get("otherwise", ""), menu, force)
    return show(request, menu, force, [again] if again else [])


def show(
    request: HouseRequest, menu: Menu, force: InForce, only: Sequence[Asked] = ()
) -> HttpResponse:
    """The page with `only` these names asked about; else with those that wait."""
    shift = shift_or_404(request.GET.get("shift", ""))
    found = sales.summary(menu, force) if force else None
    waiting = found.places[Place.WAITING] if found else ()
    weighed = sorted(sales.as_sold(menu, shift).items, key=lambda i: -i.drink.share)
    told = record_sales.meanings(request.venue)
    names = as_asked([(c.said, c.quantity) for c in waiting], menu, told)
    asked = [sales_names.asked_once(one, menu, told) for one in names[:ASKED_AT_ONCE]]
    context = {
        "found": found,
        "voided": found.places[Place.VOID] if found else (),
        "sums": _sums(found),
        "orders": orders_words(found.orders) if found and found.orders else [],
        "untaught": found.places[Place.UNTAUGHT] if found else (),
        "asked": only or asked,
        "told": sales_names.told(menu),
        "read": sales_names.read_names(menu, found),
        "more": 0 if only else max(0, len(names) - ASKED_AT_ONCE),
        "drinks": sorted(i.drink.name for i in menu.items),
        "weighed": [(i.drink, _of_hundred(i.drink.share)) for i in weighed[:FIRST]],
        "others": [(i.drink, _of_hundred(i.drink.share)) for i in weighed[FIRST:]],
        "shifts": [(kind.value, SHIFTS[kind]) for kind in ShiftKind],
        "shift": shift.value if shift else "",
        "nothing_taught": NOTHING_TAUGHT,
        "forget": FORGET,
        "most_in_one": MOST_IN_ONE,
        "exports": _exports(force),
    }
    return render(request, "assessments/sales_mix.html", context)


def _of_hundred(share: float) -> str:
    """What is worth a little is never shown as nothing."""
    return _("under 0.1") if 0 < share < 0.0005 else f"{100 * share:.1f}"


@dataclass(frozen=True)
class _Shown:
    """An export, its days that count, how much of it does where not all, and why."""

    mix: SalesMix
    days: list[str]
    counts: bool
    n: Decimal
    now: str


def _exports(force: InForce) -> list[_Shown]:
    """Newest first, those of which nothing counts among them."""
    days = {one.mix: spans([p.day for p in one.parts if p.day]) for one in force.counts}
    shown = [
        _Shown(
            mix, days.get(mix, []), mix in days, force.counting_of(mix),
            counts_now_words(mix, force),
        )
        for mix in (*force.mixes, *force.replaced)
    ]  # fmt: skip
    return sorted(shown, key=lambda one: (one.mix.at, one.mix.pk), reverse=True)


def _sums(found: sales.Summary | None) -> list[tuple[str, object]]:
    """What is set aside, by why."""
    aside = [place for place in Place if place is not Place.MAPPED] if found else []
    return [(_why(p), found.sum_of(p)) for p in aside if found and found.sum_of(p)]


def _why(place: Place) -> str:
    """A drink that left the menu is in the book and not taught any more."""
    return _("sold, not taught") if place is Place.UNTAUGHT else str(place.label)


def shift_or_404(said: str) -> ShiftKind | None:
    """None for all shifts."""
    if not said:
        return None
    try:
        return ShiftKind(said)
    except ValueError:
        raise Http404 from None


@member(May.TAKE_IN_SALES, methods=SEND)
def withdraw(request: HouseRequest, code: str) -> HttpResponse:
    mix = get_object_or_404(SalesMix.objects.in_house(request.venue), code=code)
    try:
        record_sales.withdraw_sales(by=request.membership, mix=mix, at=timezone.now())
        messages.success(request, _("Taken back: it counts no longer."))
    except Refused as bad:
        messages.error(request, say(bad.reason))
    return redirect("sales_mix", house=request.venue.slug)
