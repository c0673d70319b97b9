"""What hires do with quizzes that a trainer planned or set, and with time that has run out."""

from __future__ import annotations

import datetime as dt
from math import ceil

from django.db import transaction
from django.utils.translation import gettext

from assessments import quiz_steps, tryouts
from assessments import record_steps as steps
from assessments.models import Answer, DrillFor, Item, Quiz, QuizResult, QuizSheet, TryOut
from assessments.models.quiz import WOULD_ASK, Came
from assessments.reads_quiz import waits_until
from barcourse.people import log
from barcourse.people.models import Membership
from barcourse.people.reasons import refuse
from recipes.menu import Menu


@transaction.atomic
def start_sheet(
    *, by: Membership, menu: Menu, sheet: QuizSheet, seed: int, at: dt.datetime
) -> Quiz:
    """A quiz by a sheet, or the one still open. Refuses a sheet out of use, another try too soon,
    and one with nothing to ask."""
    steps.refuse_other_house(by, sheet)
    steps.lock_hire(by)
    still_open = Quiz.objects.of(by).open().filter(sheet=sheet).first()
    if still_open and not still_open.is_over(at):
        return still_open
    if still_open:
        close_quiz(by=by, quiz=still_open, at=at)
    if sheet.retired_at:
        raise refuse("sheet_out_of_use")
    _refuse_too_soon(by, sheet, at)
    return _begin(*quiz_steps.by_sheet(by, menu, sheet, seed, at))


@transaction.atomic
def start_drill(*, by: Membership, menu: Menu, task: DrillFor, seed: int, at: dt.datetime) -> Quiz:
    """The short quiz of a drill, or the one still open."""
    if task.hire_id != by.pk:
        raise refuse("not_your_quiz")
    steps.lock_hire(by)
    still_open = Quiz.objects.of(by).open().filter(drill=task.drill).first()
    return still_open or _begin(*quiz_steps.for_drill(by, menu, task, seed, at))


def _begin(quiz: Quiz, items: list[Item]) -> Quiz:
    if not items:
        raise refuse("quiz_has_nothing_to_ask", module=quiz.title)
    quiz.save()
    Item.objects.bulk_create(items)
    return quiz


def _refuse_too_soon(by: Membership, sheet: QuizSheet, at: dt.datetime) -> None:
    left = waits_until(by, [sheet]).get(sheet.pk, at) - at
    if left > dt.timedelta(0):
        raise refuse("retake_later", count=ceil(left / dt.timedelta(hours=1)))


@transaction.atomic
def close_quiz(*, by: Membership, quiz: Quiz, at: dt.datetime) -> QuizResult:
    """Close a quiz whose time is up: what was open counts as asked, at the moment it ended, and
    says nothing about what somebody knows. Refuses one that has time left; twice is once."""
    if quiz.hire_id != by.pk:
        raise refuse("not_your_quiz")
    steps.lock_hire(by)
    quiz.refresh_from_db()
    if quiz.finished_at:
        return quiz.result
    if quiz.ends_at is None or not quiz.is_over(at):
        raise refuse("time_left")
    return _close(quiz, by=by, at=quiz.ends_at)


def _close(quiz: Quiz, *, by: Membership, at: dt.datetime) -> QuizResult:
    """`at` is when its time was up, or was ended before that."""
    Answer.objects.bulk_create(
        Answer(
            venue=quiz.venue, item=item, choice=WOULD_ASK, came=Came.ASK, at=at
        )
        for item in quiz.items.filter(answer__isnull=True)
    )  # fmt: skip
    return quiz_steps.finish(quiz, by=by, at=at)


@transaction.atomic
def start_try_out(
    *, by: Membership, menu: Menu, try_out: TryOut, seed: int, at: dt.datetime
) -> Quiz:
    """A hire begins the try-out that they were offered, or goes on with it."""
    if try_out.hire_id != by.pk:
        raise refuse("not_your_quiz")
    steps.lock_hire(by)
    row = TryOut.objects.select_related("quiz").filter(pk=try_out.pk).first()
    if row is None:
        raise refuse("try_out_taken_back")
    if row.quiz:
        return row.quiz
    quiz = tryouts.begin(by, menu, gettext("Try-out"), seed, at)
    quiz.save()
    if not tryouts.go_on(quiz, at):
        raise refuse("quiz_has_nothing_to_ask", module=quiz.name)
    try_out.quiz = quiz
    try_out.save(update_fields=["quiz"])
    log.append(venue=by.venue, by=by, kind="try_out_begun", subject=by, at=at)
    return quiz


@transaction.atomic
def end_try_out(*, by: Membership, try_out: TryOut, at: dt.datetime) -> None:
    """By the hire, once begun, or by whoever may offer one: what was answered counts, and nothing
    more is asked. One that nobody has begun is taken back as if it had never been offered. Twice is
    once."""
    steps.refuse_other_house(by, try_out)
    steps.lock_hire(try_out.hire)
    row = TryOut.objects.select_related("quiz").filter(pk=try_out.pk).first()
    if row is None or row.finished_at:
        return
    if row.hire_id != by.pk:
        steps.refuse_watching(by, row.hire, at)
    elif row.quiz is None:
        raise refuse("try_out_not_begun")
    if row.quiz is None:
        row.delete()
        log.append(venue=by.venue, by=by, kind="try_out_taken_back", subject=row.hire, at=at)
        return
    if not row.quiz.is_over(at):
        row.quiz.ends_at = at
        row.quiz.save(update_fields=["ends_at"])
    _close(row.quiz, by=by, at=row.quiz.ends_at or at)
