"""What a hire reads: the next shift, modules and lessons."""

from __future__ import annotations

import datetime as dt

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import reads, record, record_reading, shift_page
from assessments.kept_pages import kept_page, minute_of
from assessments.reads_quiz import waits_until
from assessments.under_way import under_way
from assessments.views.finding import menu_now, module_or_404, number_or_404
from assessments.views.sheets import Planned, planned_on
from barcourse.people.access import SEND, HouseRequest, member
from barcourse.people.models import Membership
from barcourse.people.roles import May
from recipes.menu import Menu
from recipes.models import Lesson, Module


@member(May.LEARN)
def next_shift(request: HouseRequest) -> HttpResponse:
    """The next minutes, and what still stands between this person and ready."""
    page = shift_page.now_for(request.membership, lambda: menu_now(request), timezone.now())
    plan = page.planned.plan
    context = {
        "html": page.html,
        "plans": page.plans,
        "is_new": page.is_new,
        "todo": page.todo,
        "cards": page.cards,
        "tells_chances": page.tells_chances,
        "rules": page.rules,
        "minutes": page.minutes,
        "waiting_cards": plan.waiting,
        "plan": plan,
        "shift": page.planned.shift,
        "later": page.later,
        "studied": page.studied,
        "a_day": page.planned.minutes,
        "is_spent": page.planned.is_spent,
        "standing": page.standing,
        "elsewhere": page.elsewhere,
        "about": page.about,
        "proven": page.proven,
        "must_knows": page.must_knows,
        "ahead": page.ahead,
        "waiting": page.waiting,
        "under_way": page.under_way,
        "credit": page.credit,
    }
    return render(request, "assessments/next_shift.html", context)


@member(May.LEARN)
def modules(request: HouseRequest) -> HttpResponse:
    hire = request.membership
    key = ("modules", hire.pk, *shift_page.own_of(hire), minute_of(timezone.now()))
    kept = kept_page(request.venue, *key, make=lambda: _modules(hire, menu_now(request)))
    return render(request, "assessments/modules.html", {**kept.shown, "html": kept.html})


def _modules(hire: Membership, menu: Menu) -> dict[str, object]:
    begun = under_way(hire, menu.at)
    lie_open = {b.quiz.sheet_id for b in begun if b.quiz}
    return {
        "progress": reads.modules_of(hire, menu),
        "sheets": _to_take(hire, menu, lie_open),
        "under_way": begun,
    }


def _to_take(
    hire: Membership, menu: Menu, lie_open: set[int | None]
) -> list[tuple[Planned, dt.datetime | None]]:
    """Planned quizzes, each with when it can be taken again where that is still to come."""
    planned = [p for p in planned_on(menu) if p.written and p.sheet.pk not in lie_open]
    again = waits_until(hire, [p.sheet for p in planned])
    ahead = {pk: at for pk, at in again.items() if at > menu.at}
    return [(p, ahead.get(p.sheet.pk)) for p in planned]


@member(May.LEARN)
def module(request: HouseRequest, module: str) -> HttpResponse:
    """A module to read: notes, lessons, and its drinks by name."""
    row, menu = module_or_404(request, module), menu_now(request)
    progress = {p.module.pk: p for p in reads.modules_of(request.membership, menu)}
    context = {
        "module": row,
        "menu": menu,
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


@member(May.LEARN, methods=SEND)
def reading(request: HouseRequest, module: str) -> HttpResponse:
    """What a page tells of how long it was read (reading.js)."""
    row, slug = module_or_404(request, module), request.POST.get("lesson", "")
    lesson = get_object_or_404(row.lessons, slug=slug) if slug else None
    seconds = number_or_404(request.POST.get("seconds", "0"))
    record_reading.time_read(
        by=request.membership, module=row, lesson=lesson, seconds=seconds, at=timezone.now()
    )
    if lesson:
        return redirect("lesson", house=request.venue.slug, module=row.slug, lesson=lesson.slug)
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
        "menu": menu_now(request),
        "number": number,
        "total": len(lessons),
        "following": lessons[number] if number < len(lessons) else None,
    }
    return render(request, "assessments/lesson.html", context)
