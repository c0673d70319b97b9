"""Questions about a lesson: what happens at the bar, and what to do."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.utils.translation import gettext as _

from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes import publish_lessons as publish
from recipes.forms.lesson import QuestionForm, SureForm
from recipes.models import Scenario
from recipes.views.lessons import lesson_or_404, to_lesson
from recipes.views.meeting import hold_where_sent, reopened, say_saved
from recipes.words_editing import beside


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def question_new(request: HouseRequest, module: str, lesson: str) -> HttpResponse:
    row = lesson_or_404(request, module, lesson)
    form = QuestionForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        with beside(form):
            publish.add_question(
                by=request.membership, lesson=row, question=form.asked(), at=timezone.now()
            )
            messages.success(request, _("The question is added: the next quiz may ask it."))
            return to_lesson(request, row)
    return render(request, "recipes/question.html", {"lesson": row, "form": form})


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def question_edit(request: HouseRequest, module: str, lesson: str, question: str) -> HttpResponse:
    hold_where_sent(request)
    row = _question_or_404(request, module, lesson, question)
    form, since = reopened(request, QuestionForm, scenario=row)
    if request.method == "POST" and form.is_valid():
        with beside(form):
            publish.change_question(
                by=request.membership, scenario=row, question=form.asked(), at=timezone.now()
            )
            say_saved(request, _("The question is saved."), since)
            return to_lesson(request, row.lesson)
    context = {"lesson": row.lesson, "scenario": row, "form": form, "since": since}
    return render(request, "recipes/question.html", context)


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def question_remove(request: HouseRequest, module: str, lesson: str, question: str) -> HttpResponse:
    row = _question_or_404(request, module, lesson, question)
    form = SureForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        with beside(form):
            publish.remove_question(by=request.membership, scenario=row, at=timezone.now())
            messages.success(request, _("The question is gone."))
            return to_lesson(request, row.lesson)
    context = {"lesson": row.lesson, "scenario": row, "form": form}
    return render(request, "recipes/question_remove.html", context)


def _question_or_404(request: HouseRequest, module: str, lesson: str, question: str) -> Scenario:
    row = lesson_or_404(request, module, lesson)
    rows = row.scenarios.select_related("lesson__module")
    return get_object_or_404(rows, slug=question)
