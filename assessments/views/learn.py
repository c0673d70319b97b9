"""What a hire reads: the next shift, modules and lessons."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import ahead, board, reads, record
from assessments.models import QuizSheet
from assessments.next_up import to_do
from assessments.showing import show_row
from assessments.sign_offs import must_knows_proven
from assessments.study_time import studied
from assessments.views.finding import menu_now, module_or_404
from assessments.wording import word
from barcourse.people.access import SEND, HouseRequest, member
from barcourse.people.models import Membership
from barcourse.people.roles import May
from recipes.menu import Menu
from recipes.models import Lesson, Module


@member(May.LEARN)
def next_shift(request: HouseRequest) -> HttpResponse:
    """The next minutes, and what still stands between this person and ready."""
    hire, menu = request.membership, menu_now(request)
    progress = reads.modules_of(hire, menu)
    cards = reads.planned(hire, menu, menu.at, progress)
    due = cards.plan.cards
    rows = board.rows_of(hire, board.order_stations(request.venue), menu)
    context = {
        "is_new": not any(p.is_begun for p in progress),
        "todo": to_do(progress, len(due)),
        "cards": [(menu.by_slug[c.drink], word(c.reason)) for c in due],
        "minutes": max(1, round(cards.plan.seconds / 60)),
        "waiting_cards": cards.plan.waiting,
        "plan": cards.plan,
        "shift": cards.shift,
        "studied": studied(request.venue, [hire], menu.at, days=1),
        "a_day": cards.minutes,
        "standing": [(row, show_row(row)) for row in rows],
        "proven": must_knows_proven([hire], menu)[hire.pk],
        "must_knows": len(menu.must_knows()),
        "bar": request.venue.least_right,
        "ahead": _ahead(hire, menu, progress),
    }
    return render(request, "assessments/next_shift.html", context)


def _ahead(
    hire: Membership, menu: Menu, progress: list[reads.ModuleProgress]
) -> list[tuple[ahead.Coming, int]]:
    """What changes later, each with how many of its drinks the hire has still to look at."""
    return [(c, len(ahead.cards_due(hire, c, menu.at, progress))) for c in ahead.coming(menu)]


@member(May.LEARN)
def modules(request: HouseRequest) -> HttpResponse:
    progress = reads.modules_of(request.membership, menu_now(request))
    sheets = QuizSheet.objects.in_house(request.venue).in_use()
    return render(request, "assessments/modules.html", {"progress": progress, "sheets": sheets})


@member(May.LEARN)
def module(request: HouseRequest, module: str) -> HttpResponse:
    """A module to read: notes, lessons, and its drinks by name."""
    row, menu = module_or_404(request, module), menu_now(request)
    progress = {p.module.pk: p for p in reads.modules_of(request.membership, menu)}
    context = {
        "module": row,
        "drinks": menu.of_module(row),
        "lessons": row.lessons.all(),
        "progress": progress[row.pk],
    }
    return render(request, "assessments/module.html", context)


@member(May.LEARN, methods=SEND)
def read(request: HouseRequest, module: str) -> HttpResponse:
    row = module_or_404(request, module)
    record.mark_read(by=request.membership, module=row, at=timezone.now())
    messages.success(request, _noted(request, row))
    return redirect("module", house=request.venue.slug, module=row.slug)


def _noted(request: HouseRequest, module: Module) -> str:
    """What can be done with a module after reading it."""
    menu = menu_now(request)
    [progress] = [p for p in reads.modules_of(request.membership, menu) if p.module == module]
    if progress.drinks:
        return _("Noted. Now turn its cards or take its quiz.")
    return _("Noted. Now take its quiz.") if progress.can_ask else _("Noted.")


@member(May.LEARN)
def lesson(request: HouseRequest, module: str, lesson: str) -> HttpResponse:
    row = module_or_404(request, module)
    page = get_object_or_404(Lesson.objects.select_related("module"), module=row, slug=lesson)
    lessons = list(row.lessons.all())
    number = lessons.index(page) + 1
    context = {
        "lesson": page,
        "number": number,
        "total": len(lessons),
        "following": lessons[number] if number < len(lessons) else None,
    }
    return render(request, "assessments/lesson.html", context)
