"""Recipes from a sheet: choose it, look at what would come of every row, take them in."""

from __future__ import annotations

from typing import TypedDict

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes.grammar.aspects import fingerprint
from recipes.grammar.reasons import CannotBuild
from recipes.grammar.sheet_text import ALL, Sheet
from recipes.import_sheet import import_sheet, meant_in
from recipes.import_words import sheet_problems
from recipes.imported import CannotImport, Imported, Outcome
from recipes.importing import ENCODINGS, MOST_KB, NotReceived, Received, carried, received
from recipes.models import Revision
from recipes.publish_import import Meant, import_recipes, rehearse_import
from recipes.views.finding import menu_or_404


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def book_import(request: HouseRequest) -> HttpResponse:
    menu_or_404(request)
    if request.method != "POST":
        return _ask(request, [])
    try:
        came = _received(request)
        sheet, encoding = came.sheet(_encoding(request))
    except CannotBuild as bad:
        return _ask(request, sheet_problems(bad.reasons))
    except NotReceived:
        return _ask(request, [_("That sheet has lain here too long. Send it once more.")])
    if "publish" in request.POST and request.POST.get("seen") == _seen(request, sheet, encoding):
        return _take_in(request, came, sheet, encoding)
    return _show(request, came, sheet, encoding)


def _ask(request: HouseRequest, wrong: list[str]) -> HttpResponse:
    context = {
        "wrong": wrong,
        "columns": ",".join(ALL),
        "most": MOST_KB,
        "rows": request.POST.get("rows", ""),
    }
    return render(request, "recipes/import.html", context)


def _received(request: HouseRequest) -> Received:
    """What the first step was given, or the second step carries on."""
    if "sheet" in request.POST:
        return carried(request.POST["sheet"], request.venue)
    file = request.FILES.get("file")
    if file is not None and file.size:
        return received(file.read((MOST_KB + 1) * 1000))
    return received(request.POST.get("rows", "").encode())


def _encoding(request: HouseRequest) -> str | None:
    said = request.POST.get("encoding")
    return said if said in ENCODINGS else None


def _encodings(chosen: str) -> list[tuple[str, str, bool]]:
    """As many as there are; none is chosen where the file itself said a third one."""
    words = {"utf-8": _("UTF-8, as most programs write"), "cp1252": _("Windows, as older ones do")}
    return [(name, words[name], name == chosen) for name in ENCODINGS]


class _How(TypedDict):
    add_ingredients: bool
    new_names: bool
    meant: Meant


def _how(request: HouseRequest, sheet: Sheet) -> _How:
    return {
        "add_ingredients": "add_ingredients" in request.POST,
        "new_names": "new_names" in request.POST,
        "meant": meant_in(request.POST, sheet),
    }


def _seen(request: HouseRequest, sheet: Sheet, encoding: str) -> str:
    """Of the rows as they were read, and of how much had been published before."""
    published = Revision.objects.in_house(request.venue).count()
    rows = [[row.line, dict(row.cells)] for row in sheet.rows]
    return fingerprint([rows, encoding, _how(request, sheet), published])


def _show(request: HouseRequest, came: Received, sheet: Sheet, encoding: str) -> HttpResponse:
    how = _how(request, sheet)
    found = rehearse_import(by=request.membership, sheet=sheet, at=timezone.now(), **how)
    context = {
        "sheet": came.signed(request.venue),
        "seen": _seen(request, sheet, encoding),
        "encodings": _encodings(encoding) if came.is_text else [],
        **how,
        "asks_names": how["new_names"] or _asks_names(found),
        "found": found,
        "told": import_sheet(found, request.POST),
    }
    return render(request, "recipes/import_preview.html", context)


def _asks_names(found: Imported) -> bool:
    """Whether a name of the sheet is nearly that of a drink."""
    return any(reason.code == "near_drink" for row in found.refused for reason in row.reasons)


def _take_in(request: HouseRequest, came: Received, sheet: Sheet, encoding: str) -> HttpResponse:
    try:
        found = import_recipes(
            by=request.membership, sheet=sheet, at=timezone.now(), **_how(request, sheet)
        )
    except CannotImport:
        return _show(request, came, sheet, encoding)
    messages.success(request, _done(found))
    return redirect("book", house=request.venue.slug)


def _done(found: Imported) -> str:
    added, changed = len(found.of(Outcome.ADDED)), len(found.of(Outcome.CHANGED))
    new = ngettext("%(n)s new drink", "%(n)s new drinks", added) % {"n": added}
    other = ngettext("%(n)s changed", "%(n)s changed", changed) % {"n": changed}
    return _("Taken in: %(new)s, %(changed)s.") % {"new": new, "changed": other}
