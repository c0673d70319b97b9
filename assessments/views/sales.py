"""The sales mix: what came in, what its names mean, what that weighs."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments import record_sales, sales, sales_names
from assessments.measures.sales_mix import ShiftKind
from assessments.models import SalesMix
from assessments.models.sales import Place
from assessments.sales_in_force import in_force
from assessments.sales_words import hours_left_words, spans
from assessments.views.finding import menu_now
from assessments.wording_practical import SHIFTS
from assessments.wording_refusals import say
from barcourse.people.access import SEND, HouseRequest, member
from barcourse.people.reasons import Refused
from barcourse.people.roles import May
from recipes.menu import Menu

ASKED_AT_ONCE = 12
"""Names to be told on one page, those that sold most first."""
FIRST = 20
"""Drinks that stand open; the others are a tap away."""
NOTHING_TAUGHT, FORGET = "-", "?"


@member(May.EDIT_BOOK)
def page(request: HouseRequest) -> HttpResponse:
    """`?shift=` weighs the drinks for one kind of shift; `?otherwise=` asks about a name that was
    told."""
    menu = menu_now(request)
    shift = shift_or_404(request.GET.get("shift", ""))
    force = in_force(request.venue, menu.at)
    found = sales.summary(menu, force) if force else None
    waiting = found.places[Place.WAITING] if found else ()
    weighed = sorted(sales.as_sold(menu, shift).items, key=lambda i: -i.drink.share)
    again = sales_names.otherwise(request.GET.get("otherwise", ""), menu, force)
    asked = [sales_names.asked(c.said, c.quantity, menu) for c in waiting[:ASKED_AT_ONCE]]
    context = {
        "found": found,
        "voided": found.places[Place.VOID] if found else (),
        "sums": _sums(found),
        "untaught": found.places[Place.UNTAUGHT] if found else (),
        "asked": [again] if again else asked,
        "otherwise": again,
        "told": sales_names.told(menu),
        "read": sales_names.read_names(menu, found),
        "more": 0 if again else max(0, len(waiting) - ASKED_AT_ONCE),
        "drinks": sorted((i.drink.name, i.drink.slug) for i in menu.items),
        "weighed": [(i.drink, f"{100 * i.drink.share:.1f}") for i in weighed[:FIRST]],
        "others": [(i.drink, f"{100 * i.drink.share:.1f}") for i in weighed[FIRST:]],
        "shifts": [(kind.value, SHIFTS[kind]) for kind in ShiftKind],
        "shift": shift.value if shift else "",
        "nothing_taught": NOTHING_TAUGHT,
        "forget": FORGET,
        "was": _means_now(again, menu) if again else record_sales.FORGET,
        "exports": [
            (one.mix, spans([part.day for part in one.parts if part.day]), one.whole)
            for one in force.counts
        ],
    }
    return render(request, "assessments/sales_mix.html", context)


def _sums(found: sales.Summary | None) -> list[tuple[str, object]]:
    """What is set aside, by why."""
    aside = [place for place in Place if place is not Place.MAPPED] if found else []
    return [(str(p.label), found.sum_of(p)) for p in aside if found and found.sum_of(p)]


def shift_or_404(said: str) -> ShiftKind | None:
    """None for all shifts."""
    if not said:
        return None
    try:
        return ShiftKind(said)
    except ValueError:
        raise Http404 from None


@member(May.TAKE_IN_SALES, methods=SEND)
def names(request: HouseRequest) -> HttpResponse:
    """What names mean, or that one is asked about once more: those left open stay so."""
    menu = menu_now(request)
    told, seen = _told(request, menu)
    if not sales_names.are_known(menu, told):
        raise Http404
    done = record_sales.tell_names(
        by=request.membership, told=told, seen=seen, menu=menu, at=timezone.now()
    )
    for name in done.meanwhile:
        messages.error(request, _("Somebody has told “%(said)s” meanwhile: it stays as below. "
                                  "Say otherwise there.") % {"said": name})  # fmt: skip
    if done.hours_left:
        messages.error(request, hours_left_words(done.hours_left))
    if set(told.values()) == {record_sales.FORGET} and done.names:
        messages.success(request, _("Forgotten. It is asked about where it is not clear."))
    elif done.names or not done.meanwhile:
        n = done.names
        messages.success(request, ngettext("%(n)s name told.", "%(n)s names told.", n) % {"n": n})
    return redirect("sales_mix", house=request.venue.slug)


def _told(request: HouseRequest, menu: Menu) -> tuple[dict[str, str | None], dict[str, str | None]]:
    """By name: what it shall mean, by the list or the tick beside what is likely; and what it
    meant when the page was shown."""
    said, drinks, was = (request.POST.getlist(name) for name in ("said", "drink", "was"))
    ticked = request.POST.getlist("yes")
    picked = dict(t.split(":", 1) for t in ticked if ":" in t)
    to = [drink or picked.get(str(n), "") for n, drink in enumerate(drinks)]
    told = {s: _meant(drink, menu) for s, drink in zip(said, to, strict=False) if s and drink}
    seen = {s: None if w == NOTHING_TAUGHT else w for s, w in zip(said, was, strict=False)}
    return told, seen


def _means_now(asked: sales_names.Asked, menu: Menu) -> str | None:
    return record_sales.slug_of(asked.said, record_sales.meanings(menu.venue))


def _meant(to: str, menu: Menu) -> str | None:
    if to == FORGET:
        return record_sales.FORGET
    if to != NOTHING_TAUGHT and to not in menu.by_slug:
        raise Http404
    return None if to == NOTHING_TAUGHT else to


@member(May.TAKE_IN_SALES, methods=SEND)
def withdraw(request: HouseRequest, code: str) -> HttpResponse:
    mix = get_object_or_404(SalesMix.objects.in_house(request.venue), code=code)
    try:
        record_sales.withdraw_sales(by=request.membership, mix=mix, at=timezone.now())
        messages.success(request, _("Taken back: it counts no longer."))
    except Refused as bad:
        messages.error(request, say(bad.reason))
    return redirect("sales_mix", house=request.venue.slug)
