"""What the till sold: send it, look at what would come of it, take it in."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import record_sales
from assessments.sales_in_force import in_force
from assessments.sales_preview import preview
from assessments.sales_words import columns_of, taken_in_words, unused_words
from assessments.till_file import MOST_TILL_KB, till_received, till_sheet
from assessments.views.finding import menu_now
from assessments.wording_refusals import say
from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.reasons import Refused
from barcourse.people.roles import May
from recipes.grammar.reasons import CannotBuild
from recipes.grammar.till_columns import COLUMNS, Chosen
from recipes.import_words import sheet_problems
from recipes.importing import NotReceived, Received, carried


@member(May.TAKE_IN_SALES, methods=READ_AND_SEND)
def take(request: HouseRequest) -> HttpResponse:
    if request.method != "POST":
        return _ask(request, [])
    try:
        if _is_twofold(request):
            return _ask(request, [_("A file and pasted rows came: send one of them.")])
        came = _received(request)
        as_seen = request.POST.get("seen_as", "") == _seen_as(request, came)
        if "take" in request.POST and as_seen:
            return _take_in(request, came)
        return _show(request, came, [])
    except CannotBuild as bad:
        return _ask(request, sheet_problems(bad.reasons))
    except Refused as bad:
        return _ask(request, [say(bad.reason)])
    except NotReceived:
        return _ask(request, [_("That file has lain here too long. Send it once more.")])


def _is_twofold(request: HouseRequest) -> bool:
    file = request.FILES.get("file")
    return bool(file is not None and file.size and request.POST.get("rows", "").strip())


def _received(request: HouseRequest) -> Received:
    """What the first step was given, or the second step carries on."""
    if "sheet" in request.POST:
        return carried(request.POST["sheet"], request.venue, request.POST.get("other"))
    file = request.FILES.get("file")
    if file is not None and file.size:
        return till_received(file.read((MOST_TILL_KB + 1) * 1000))
    return till_received(request.POST.get("rows", "").encode())


COLUMN = "column-"


def _chosen(request: HouseRequest) -> Chosen:
    """Columns as they stand in the form; another sheet is read by its own names."""
    if "other" in request.POST:
        return {}
    said = {what: request.POST.get(COLUMN + what) for what in COLUMNS}
    return {what: name for what, name in said.items() if name is not None}


def _seen_as(request: HouseRequest, came: Received) -> str:
    """By which sheet and columns a file is read: what was looked at is what is taken in."""
    chosen = sorted(f"{what}={name}" for what, name in _chosen(request).items() if name)
    return "|".join([came.name, *chosen])


def _ask(request: HouseRequest, wrong: list[str]) -> HttpResponse:
    context = {"wrong": wrong, "most": MOST_TILL_KB, "rows": request.POST.get("rows", "")}
    return render(request, "assessments/sales_take.html", context)


def _show(request: HouseRequest, came: Received, wrong: list[str]) -> HttpResponse:
    menu, instead = menu_now(request), _instead(request)
    sheet = till_sheet(came, request.venue, chosen=_chosen(request))
    counted, replaces = record_sales.look_at(
        venue=request.venue, sheet=sheet, menu=menu, at=menu.at, instead=instead
    )
    context = {
        "found": preview(sheet, counted, replaces, request.venue.business_day(menu.at)),
        "sheet": came.signed(request.venue),
        "came": came,
        "columns": columns_of(sheet),
        "unused": unused_words(sheet),
        "names": sorted({*sheet.columns.values(), *sheet.also_off, *sheet.ignored}),
        "seen_as": "|".join([came.name, *sorted(f"{w}={n}" for w, n in sheet.columns.items())]),
        "instead": instead,
        "sure": _sure(request),
        "beside": _beside(request),
        "less": _less(request),
        "wrong": wrong,
    }
    return render(request, "assessments/sales_preview.html", context)


def _take_in(request: HouseRequest, came: Received) -> HttpResponse:
    try:
        mix = record_sales.import_sales(
            by=request.membership, menu=menu_now(request), at=timezone.now(),
            sheet=till_sheet(came, request.venue, chosen=_chosen(request)),
            instead=_instead(request), seen=request.POST.get("seen", ""), sure=_sure(request),
            beside=_beside(request), less=_less(request),
        )  # fmt: skip
    except Refused as bad:
        if bad.reason.code not in (
            "sales_came_meanwhile",
            "sales_below_zero",
            "sales_twice",
            "sales_tell_less",
            "sales_beyond",
            "sales_nonsense",
        ):
            raise
        return _show(request, came, [say(bad.reason)])
    messages.success(request, taken_in_words(mix, in_force(request.venue, timezone.now())))
    return redirect("sales_mix", house=request.venue.slug)


def _sure(request: HouseRequest) -> bool:
    return "sure" in request.POST


def _beside(request: HouseRequest) -> bool:
    return "beside" in request.POST


def _less(request: HouseRequest) -> bool:
    return "less" in request.POST


def _instead(request: HouseRequest) -> bool:
    return "instead" in request.POST
