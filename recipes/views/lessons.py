"""Notes and lessons are written here; the questions about them in `questions`."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes import publish_lessons as publish
from recipes.forms.lesson import LessonForm, NotesForm, SureForm
from recipes.menu import menu_at
from recipes.models import Lesson, Module
from recipes.views.meeting import hold_where_sent, reopened, say_saved
from recipes.words_editing import beside


@member(May.EDIT_BOOK)
def lessons(request: HouseRequest) -> HttpResponse:
    """Every module with its lessons in their order."""
    modules = Module.objects.in_house(request.venue).prefetch_related("lessons__scenarios")
    return render(request, "recipes/lessons.html", {"modules": modules})


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def module_notes(request: HouseRequest, module: str) -> HttpResponse:
    hold_where_sent(request)
    row = module_or_404(request, module)
    form, since = reopened(request, NotesForm, initial={"notes": row.notes})
    preview = ""
    if request.method == "POST" and form.is_valid():
        preview = form.cleaned_data["notes"]
        if "save" in request.POST:
            publish.change_notes(
                by=request.membership, module=row, notes=preview, at=timezone.now()
            )
            say_saved(request, _("The notes are saved."), since)
            return redirect("lessons", house=request.venue.slug)
    menu = menu_at(request.venue, timezone.now())
    context = {"module": row, "form": form, "since": since, "preview": preview, "menu": menu}
    return render(request, "recipes/module_notes.html", context)


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def lesson_new(request: HouseRequest, module: str) -> HttpResponse:
    row = module_or_404(request, module)
    form = LessonForm(request.POST or None, venue=request.venue, module=row)
    preview = ""
    if request.method == "POST" and form.is_valid():
        said = form.cleaned_data
        preview = said["body"]
        if "save" in request.POST:
            made = publish.add_lesson(by=request.membership, at=timezone.now(), **said)
            messages.success(request, _("The lesson is added. Ask about it, if you like."))
            return to_lesson(request, made)
    menu = menu_at(request.venue, timezone.now())
    context = {"module": row, "form": form, "preview": preview, "menu": menu}
    return render(request, "recipes/lesson_new.html", context)


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def lesson_edit(request: HouseRequest, module: str, lesson: str) -> HttpResponse:
    hold_where_sent(request)
    row = lesson_or_404(request, module, lesson)
    told = {"venue": request.venue, "module": row.module, "lesson": row}
    form, since = reopened(request, LessonForm, **told)
    preview = ""
    if request.method == "POST" and form.is_valid():
        said = form.cleaned_data
        preview = said["body"]
        if "save" in request.POST:
            with beside(form):
                made = publish.change_lesson(
                    by=request.membership, lesson=row, at=timezone.now(), **said
                )
                say_saved(request, _("The lesson is saved."), since)
                return to_lesson(request, made)
    menu = menu_at(request.venue, timezone.now())
    context = {"lesson": row, "form": form, "since": since, "preview": preview, "menu": menu}
    return render(request, "recipes/lesson_edit.html", context)


@member(May.EDIT_BOOK, methods=SEND)
def lesson_move(request: HouseRequest, module: str, lesson: str) -> HttpResponse:
    row, up = lesson_or_404(request, module, lesson), request.POST.get("way") == "up"
    publish.move_lesson(by=request.membership, lesson=row, up=up, at=timezone.now())
    return redirect("lessons", house=request.venue.slug)


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def lesson_remove(request: HouseRequest, module: str, lesson: str) -> HttpResponse:
    row = lesson_or_404(request, module, lesson)
    form = SureForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        with beside(form):
            publish.remove_lesson(by=request.membership, lesson=row, at=timezone.now())
            messages.success(request, _("The lesson is gone."))
            return redirect("lessons", house=request.venue.slug)
    return render(request, "recipes/lesson_remove.html", {"lesson": row, "form": form})


def module_or_404(request: HouseRequest, slug: str) -> Module:
    return get_object_or_404(Module.objects.in_house(request.venue), slug=slug)


def lesson_or_404(request: HouseRequest, module: str, slug: str) -> Lesson:
    row = module_or_404(request, module)
    return get_object_or_404(Lesson.objects.in_module(row).select_related("module"), slug=slug)


def to_lesson(request: HouseRequest, row: Lesson) -> HttpResponse:
    house, module = request.venue.slug, row.module.slug
    return redirect("lesson_edit", house=house, module=module, lesson=row.slug)
