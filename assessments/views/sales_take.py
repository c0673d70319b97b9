"""What the till sold: send it, look at what would come of it, take it in."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, replace

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import record_sales
from assessments.sales_counting import Counted
from assessments.sales_in_force import in_force
from assessments.sales_preview import preview
from assessments.sales_read_as import columns_of, unused_words
from assessments.sales_replacing import Replacing
from assessments.sales_words import taken_in_words
from assessments.till_file import MOST_TILL_KB, till_received, till_sheet
from assessments.views.finding import menu_now
from assessments.wording_refusals import say
from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.reasons import Refused
from barcourse.people.roles import May
from recipes.grammar.reasons import CannotBuild
from recipes.grammar.till_columns import COLUMNS, Chosen
from recipes.grammar.till_found import TillSheet
from recipes.import_words import sheet_problems
from recipes.importing import NotReceived, Received, carried
from recipes.menu import Menu


@dataclass(frozen=True)
class Looked:
    """What was sent, read and added up before anything is locked; `at` is when."""

    came: Received
    sheet: TillSheet
    menu: Menu
    at: dt.datetime
    instead: bool
    counted: Counted
    replaces: Replacing


def _look(request: HouseRequest) -> HttpResponse | Looked:
    """A page, but where all is said that `take` needs."""
    try:
        if _is_twofold(request):
            return _ask(request, [_("A file and pasted rows came: send one of them.")])
        came = _received(request)
        looked = _added_up(request, came, instead=_instead(request))
        if "take" not in request.POST or request.POST.get("seen_as", "") != _seen_as(request, came):
            return _show(request, looked, [])
        return _unless_untold(request, looked)
    except CannotBuild as bad:
        return _ask(request, sheet_problems(bad.reasons))
    except Refused as bad:
        return _ask(request, [say(bad.reason)])
    except NotReceived:
        return _ask(request, [_("That file has lain here too long. Send it once more.")])


@member(May.TAKE_IN_SALES, methods=READ_AND_SEND, first=_look)
def take(request: HouseRequest, found: Looked | None = None) -> HttpResponse:
    if found is None:
        return _ask(request, [])
    try:
        mix = record_sales.import_sales(
            by=request.membership, menu=found.menu, at=timezone.now(), sheet=found.sheet,
            instead=found.instead, counted=found.counted, seen=request.POST.get("seen", ""),
            **_said(request),
        )  # fmt: skip
    except Refused as bad:
        return _met(request, found, say(bad.reason))
    messages.success(request, taken_in_words(mix, in_force(request.venue, timezone.now())))
    return redirect("sales_mix", house=request.venue.slug)


def _met(request: HouseRequest, looked: Looked, wrong: str) -> HttpResponse:
    """Something came in between the look and now: the same rows beside it."""
    try:
        counted, replaces = record_sales.look_at(
            venue=request.venue, sheet=looked.sheet, menu=looked.menu, at=timezone.now(),
            instead=looked.instead, counted=looked.counted,
        )  # fmt: skip
    except Refused as bad:
        return _ask(request, [say(bad.reason)])
    return _show(request, replace(looked, counted=counted, replaces=replaces), [wrong])


def _added_up(request: HouseRequest, came: Received, *, instead: bool) -> Looked:
    menu = menu_now(request)
    sheet = till_sheet(came, request.venue, chosen=_chosen(request))
    counted, replaces = record_sales.look_at(
        venue=request.venue, sheet=sheet, menu=menu, at=menu.at, instead=instead
    )
    return Looked(came, sheet, menu, menu.at, instead, counted, replaces)


def _unless_untold(request: HouseRequest, looked: Looked) -> HttpResponse | Looked:
    """The rows shown again where something has to be said first."""
    try:
        record_sales.refuse_untold(
            looked.counted, looked.replaces, instead=looked.instead,
            seen=request.POST.get("seen", ""), **_said(request),
        )  # fmt: skip
    except Refused as bad:
        if bad.reason.code == "sales_both_ways":  # both boxes stand there only where neither holds
            looked = _added_up(request, looked.came, instead=False)
            return _show(request, looked, [say(bad.reason)], beside=False)
        return _show(request, looked, [say(bad.reason)])
    return looked


def _said(request: HouseRequest) -> dict[str, bool]:
    """What was ticked."""
    return {tick: tick in request.POST for tick in ("sure", "beside", "less")}


def _is_twofold(request: HouseRequest) -> bool:
    file = request.FILES.get("file")
    return bool(file is not None and file.size and request.POST.get("rows", "").strip())


def _received(request: HouseRequest) -> Received:
    """What the first step was given, or the second step carries on."""
    if "sheet" in request.POST:
        other = request.POST.get("other")
        return carried(request.POST["sheet"], request.venue, other, formulas=True)
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


def _show(request: HouseRequest, looked: Looked, wrong: list[str], **untick: bool) -> HttpResponse:
    came, sheet = looked.came, looked.sheet
    today = request.venue.business_day(looked.at)
    context = {
        "found": preview(sheet, looked.counted, looked.replaces, looked.menu, today),
        "sheet": came.signed(request.venue),
        "came": came,
        "columns": columns_of(sheet),
        "unused": unused_words(sheet),
        "names": _names(sheet),
        "seen_as": "|".join([came.name, *sorted(f"{w}={n}" for w, n in sheet.columns.items())]),
        "instead": looked.instead,
        "wrong": wrong,
        **(_said(request) | untick),
    }
    return render(request, "assessments/sales_preview.html", context)


def _names(sheet: TillSheet) -> list[str]:
    """What may be picked for a column; the row above that names a day is one for the day."""
    title = [sheet.title.said] if sheet.title else []
    return sorted({*sheet.columns.values(), *sheet.also_off, *sheet.ignored, *title})


def _instead(request: HouseRequest) -> bool:
    return "instead" in request.POST
