"""What came of a quiz, by aspect, and each mistake beside what is right: for whoever took it, and
for whoever sees records."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone

from assessments.kept_pages import kept_page
from assessments.measures.quiz import ItemAsked, QuizResult, Tally, score
from assessments.models import Item, Quiz
from assessments.reads_quiz import waits_until
from assessments.showing import Naming
from assessments.showing_credit import CreditShown, credit_shown
from assessments.showing_quiz import Review, part_label, show_review
from assessments.tryouts import is_try_out
from assessments.views.finding import menu_now
from assessments.wording import word
from barcourse.people.access import HouseRequest, member
from barcourse.people.models import Membership
from barcourse.people.roles import May
from recipes.menu import Menu


@member(May.LEARN)
def page(request: HouseRequest, code: str) -> HttpResponse:
    """Of a quiz that is over. Where its time was up and whoever took it has not closed it yet,
    others read what was answered; a quiz that still takes answers is nobody's to read."""
    quiz, now = quiz_or_404(request, code), timezone.now()
    is_own = quiz.hire_id == request.membership.pk
    if quiz.finished_at is None and is_own:
        return redirect("quiz", house=request.venue.slug, code=quiz.code)
    if quiz.finished_at is None and not quiz.is_over(now):
        raise Http404
    key = ("quiz result", quiz.code, is_own)
    kept = kept_page(request.venue, *key, make=lambda: _how_it_went(quiz, menu_now(request)))
    context = {"page": kept.shown, "html": kept.html, "is_own": is_own}
    return render(request, "assessments/quiz_result.html", context)


def quiz_or_404(request: HouseRequest, code: str) -> Quiz:
    """One's own, or anybody's for whoever sees records."""
    quizzes = Quiz.objects.in_house(request.venue).select_related("hire__person", "module", "sheet")
    quiz = get_object_or_404(quizzes, code=code)
    own = quiz.hire_id == request.membership.pk
    if not (own or request.membership.may(May.SEE_RECORDS)):
        raise Http404
    quiz.venue = quiz.hire.venue = request.venue  # saves asking for it once more
    return quiz


@dataclass(frozen=True)
class HowItWent:
    hire: Membership
    title: str
    module: str
    result: QuizResult
    reasons: list[str]
    total: int
    parts: list[tuple[str, Tally]]
    review: list[Review]
    credit: CreditShown | None
    """Of a try-out, which nobody passes or fails."""
    again: dt.datetime | None
    """Of a planned quiz: from when the house lets it be taken again, where it says so."""
    ran_out: dt.datetime | None
    """When its time was up, where nobody has closed it yet."""


def _how_it_went(quiz: Quiz, menu: Menu) -> HowItWent:
    rows = list(quiz.items.select_related("answer"))
    asked = [ItemAsked.from_json(r.asked) for r in rows]
    given = {n: r.answer.given for n, r in enumerate(rows) if _was_answered(r)}
    came, naming = score(asked, given, quiz.pass_mark), Naming.of(menu)
    to_review = sorted({m.item for m in came.mistakes} | {*came.asked, *came.unanswered})
    return HowItWent(
        hire=quiz.hire,
        title=quiz.title,
        module=quiz.module.slug if quiz.module else "",
        result=came,
        reasons=[word(r) for r in came.reasons if r.code != "quiz_passed"],
        total=len(rows),
        parts=[(part_label(p), t) for p, t in came.by_aspect.items()],
        review=[show_review(asked[n], naming, given.get(n)) for n in to_review],
        credit=credit_shown(quiz.try_out, menu) if is_try_out(quiz) else None,
        again=_again(quiz),
        ran_out=None if quiz.finished_at else quiz.ends_at,
    )


def _was_answered(item: Item) -> bool:
    """In time; what lies open in a quiz that nobody has closed has no answer at all."""
    return hasattr(item, "answer") and item.answer.is_in_time


def _again(quiz: Quiz) -> dt.datetime | None:
    if quiz.sheet is None or not quiz.sheet.retake_hours or quiz.sheet.retired_at:
        return None
    return waits_until(quiz.hire, [quiz.sheet]).get(quiz.sheet.pk)
