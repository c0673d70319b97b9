"""What the till sold: send it, look at what would come of it, take it in."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import record_sales
from assessments.sales_preview import preview
from assessments.sales_words import amount
from assessments.till_file import MOST_TILL_KB, till_sheet
from assessments.views.finding import menu_now
from assessments.wording_refusals import say
from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.reasons import Refused
from barcourse.people.roles import May
from recipes.grammar.reasons import CannotBuild
from recipes.import_words import sheet_problems
from recipes.importing import NotReceived, Received, carried, received


@member(May.TAKE_IN_SALES, methods=READ_AND_SEND)
def take(request: HouseRequest) -> HttpResponse:
    if request.method != "POST":
        return _ask(request, [])
    try:
        came = _received(request)
        return _take_in(request, came) if "take" in request.POST else _show(request, came, [])
    except CannotBuild as bad:
        return _ask(request, sheet_problems(bad.reasons))
    except Refused as bad:
        return _ask(request, [say(bad.reason)])
    except NotReceived:
        return _ask(request, [_("That file has lain here too long. Send it once more.")])


def _received(request: HouseRequest) -> Received:
    """What the first step was given, or the second step carries on."""
    if "sheet" in request.POST:
        return carried(request.POST["sheet"], request.venue)
    file = request.FILES.get("file")
    if file is not None and file.size:
        return received(file.read((MOST_TILL_KB + 1) * 1000), MOST_TILL_KB)
    return received(request.POST.get("rows", "").encode(), MOST_TILL_KB)


def _ask(request: HouseRequest, wrong: list[str]) -> HttpResponse:
    context = {"wrong": wrong, "most": MOST_TILL_KB, "rows": request.POST.get("rows", "")}
    return render(request, "assessments/sales_take.html", context)


def _show(request: HouseRequest, came: Received, wrong: list[str]) -> HttpResponse:
    menu, sheet, instead = menu_now(request), till_sheet(came, request.venue), _instead(request)
    counted, replaces = record_sales.look_at(
        venue=request.venue, sheet=sheet, menu=menu, at=menu.at, instead=instead
    )
    context = {
        "found": preview(sheet, counted, replaces),
        "sheet": came.signed(request.venue),
        "instead": instead,
        "wrong": wrong,
    }
    return render(request, "assessments/sales_preview.html", context)


def _take_in(request: HouseRequest, came: Received) -> HttpResponse:
    try:
        mix = record_sales.import_sales(
            by=request.membership, sheet=till_sheet(came, request.venue), menu=menu_now(request),
            at=timezone.now(), instead=_instead(request), seen=request.POST.get("seen", ""),
        )  # fmt: skip
    except Refused as bad:
        if bad.reason.code != "sales_came_meanwhile":
            raise
        return _show(request, came, [say(bad.reason)])
    messages.success(request, _("Taken in: %(n)s rung up.") % {"n": amount(mix.quantity)})
    return redirect("sales_mix", house=request.venue.slug)


def _instead(request: HouseRequest) -> bool:
    return "instead" in request.POST
