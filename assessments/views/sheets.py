"""Quizzes that trainers plan: the list, one plan, and beginning a quiz by it."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from math import ceil
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import quiz_steps, record_quiz, record_set
from assessments.kept_pages import kept_page, minute_of
from assessments.measures.itemstats import FEWEST
from assessments.measures.quiz.drawing import SPREAD
from assessments.models import QuizSheet
from assessments.run_out import run_out_in
from assessments.views.finding import menu_now
from assessments.views.forms import NoForm, refusals_beside
from assessments.views.forms_sheet import SheetForm
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes.based_on import Since
from recipes.menu import Menu
from recipes.views.meeting import hold_where_sent, reopened, say_saved


def sheet_or_404(request: HouseRequest, code: str) -> QuizSheet:
    return get_object_or_404(QuizSheet.objects.in_house(request.venue), code=code)


@dataclass(frozen=True)
class Planned:
    """A plan in use, and of how many questions its quizzes are on today's menu."""

    sheet: QuizSheet
    written: int

    @property
    def is_short(self) -> bool:
        return self.written < self.sheet.length


def planned_on(menu: Menu) -> list[Planned]:
    """The same for everybody: counted once, until the house or the clock changes its menu."""
    key = ("plans in use", menu.rules_version.pk, *(i.revision.pk for i in menu.items))
    return kept_page(menu.venue, *key, make=lambda: _counted(menu)).shown


def _counted(menu: Menu) -> list[Planned]:
    sheets = list(QuizSheet.objects.in_house(menu.venue).in_use().prefetch_related("modules"))
    written = quiz_steps.written_by(sheets, menu)
    return [Planned(sheet, written[sheet.pk]) for sheet in sheets]


@member(May.EDIT_BOOK)
def listed(request: HouseRequest) -> HttpResponse:
    key = ("quiz sheets", minute_of(timezone.now()))
    kept = kept_page(request.venue, *key, make=lambda: _listed(menu_now(request)))
    context = {**kept.shown, "html": kept.html}
    return render(request, "assessments/quiz_sheets.html", context)


def _listed(menu: Menu) -> dict[str, object]:
    return {
        "sheets": planned_on(menu),
        "run_out": run_out_in(menu.venue, menu.at),
        "small": quiz_steps.is_small(menu.venue, menu.at),
        "takers": ceil(FEWEST * SPREAD),
    }


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def new(request: HouseRequest) -> HttpResponse:
    return _edit(request, None)


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def one(request: HouseRequest, code: str) -> HttpResponse:
    hold_where_sent(request)
    return _edit(request, sheet_or_404(request, code))


def _edit(request: HouseRequest, sheet: QuizSheet | None) -> HttpResponse:
    if request.method != "POST":
        kept = kept_page(
            request.venue,
            "quiz sheet",
            sheet and sheet.code,
            make=lambda: _opened(request, sheet)[0],
        )
        context: dict[str, Any] = {"form": kept.shown, "sheet": sheet, "html": kept.html}
        return render(request, "assessments/quiz_sheet.html", context)
    form, since = _opened(request, sheet)
    if form.is_valid():
        with refusals_beside(form):
            record_set.save_sheet(
                by=request.membership, sheet=sheet, said=form.cleaned_data,
                modules=list(form.cleaned_data["modules"]), at=timezone.now(),
            )  # fmt: skip
            say_saved(request, _("Saved. Quizzes begun from now on follow it."), since)
            return redirect("quiz_sheets", house=request.venue.slug)
    context = {"form": form, "since": since, "sheet": sheet}
    return render(request, "assessments/quiz_sheet.html", context)


def _opened(request: HouseRequest, sheet: QuizSheet | None) -> tuple[SheetForm, Since | None]:
    """A new plan is nobody else's; one that stands may be open on another screen as well."""
    told: dict[str, Any] = {"instance": sheet, "venue": request.venue, "menu": menu_now(request)}
    if sheet is None:
        return SheetForm(request.POST if request.method == "POST" else None, **told), None
    return reopened(request, SheetForm, **told)


@member(May.EDIT_BOOK, methods=SEND)
def retire(request: HouseRequest, code: str) -> HttpResponse:
    sheet = sheet_or_404(request, code)
    record_set.retire_sheet(by=request.membership, sheet=sheet, at=timezone.now())
    messages.success(request, _("Out of use. Quizzes that were begun go on."))
    return redirect("quiz_sheets", house=request.venue.slug)


@member(May.LEARN, methods=SEND)
def start(request: HouseRequest, code: str) -> HttpResponse:
    """A quiz by the sheet, or the one still open on it."""
    sheet, form = sheet_or_404(request, code), NoForm({})
    with refusals_beside(form):
        quiz = record_quiz.start_sheet(
            by=request.membership, menu=menu_now(request), sheet=sheet,
            seed=secrets.randbelow(2**31), at=timezone.now(),
        )  # fmt: skip
        return redirect("quiz", house=request.venue.slug, code=quiz.code)
    messages.info(request, " ".join(str(e) for e in form.non_field_errors()))
    return redirect("modules", house=request.venue.slug)
