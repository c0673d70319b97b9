"""Taking a quiz: one item at a time, then the result with a review of every mistake."""

from __future__ import annotations

import secrets

from django.contrib import messages
from django.core import signing
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import record
from assessments.measures.quiz import ASK, ItemAsked, score
from assessments.models import Quiz
from assessments.showing import Naming
from assessments.showing_quiz import part_label, show_item, show_review
from assessments.views.finding import item_or_404, menu_now, module_or_404, own_quiz_or_404
from assessments.views.forms import LONGEST_LOOK_MS, NoForm, refusals_beside
from assessments.wording import word
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.roles import May

SHOWN = signing.Signer(salt="assessments.item-shown")
NO_CHOICE = -2
"""Stands for an answer that nobody offered; the verb refuses it."""


@member(May.LEARN, methods=SEND)
def start(request: HouseRequest, module: str) -> HttpResponse:
    """A new quiz on the module, or the one still open."""
    row, form = module_or_404(request, module), NoForm({})
    with refusals_beside(form):
        quiz = record.start_quiz(
            by=request.membership, menu=menu_now(request), module=row,
            seed=secrets.randbelow(2**31), at=timezone.now(),
        )  # fmt: skip
        return redirect("quiz", house=request.venue.slug, code=quiz.code)
    return render(request, "assessments/quiz_nothing.html", {"form": form, "module": row})


@member(May.LEARN, methods=READ_AND_SEND)
def item(request: HouseRequest, code: str) -> HttpResponse:
    """The next item without an answer; a closed tab goes on where it was."""
    quiz, form = own_quiz_or_404(request, code), NoForm({})
    if request.method != "POST":
        return _show(request, quiz, NoForm())
    row = item_or_404(quiz, request.POST.get("item", ""))
    was_answered = hasattr(row, "answer")  # in another tab
    with refusals_beside(form):
        record.answer_item(
            by=request.membership,
            item=row,
            choice=_choice(request),
            milliseconds=_passed_since(request.POST.get("shown", "")),
            at=timezone.now(),
        )
        if was_answered:
            messages.info(request, _("You had answered that one already; the first answer counts."))
        return redirect("quiz", house=request.venue.slug, code=quiz.code)
    return _show(request, quiz, form)


def _show(request: HouseRequest, quiz: Quiz, form: NoForm) -> HttpResponse:
    row = quiz.items.filter(answer__isnull=True).first()
    if row is None:
        return redirect("quiz_result", house=request.venue.slug, code=quiz.code)
    context = {
        "quiz": quiz,
        "row": row,
        "item": show_item(ItemAsked.from_json(row.asked), Naming.of(menu_now(request))),
        "total": quiz.items.count(),
        "would_ask": ASK,
        "form": form,
        "shown": SHOWN.sign(str(_now_ms())),
    }
    return render(request, "assessments/quiz_item.html", context)


def _choice(request: HouseRequest) -> int:
    said = request.POST.get("choice", "")
    try:
        return max(NO_CHOICE, min(int(said), 100))
    except ValueError:
        return NO_CHOICE


def _now_ms() -> int:
    return int(timezone.now().timestamp() * 1000)


def _passed_since(shown: str) -> int | None:
    """Milliseconds from showing to answering as the server saw it; None where the form can't be
    trusted or lay open too long."""
    try:
        passed = _now_ms() - int(SHOWN.unsign(shown))
    except (signing.BadSignature, ValueError):
        return None
    return passed if 0 <= passed <= LONGEST_LOOK_MS else None


@member(May.LEARN)
def result(request: HouseRequest, code: str) -> HttpResponse:
    """What came of it, by aspect, and each mistake beside what is right."""
    quiz = own_quiz_or_404(request, code)
    if quiz.finished_at is None:
        return redirect("quiz", house=request.venue.slug, code=quiz.code)
    rows = list(quiz.items.select_related("answer"))
    asked = [ItemAsked.from_json(r.asked) for r in rows]
    given = {n: r.answer.choice for n, r in enumerate(rows)}
    came, naming = score(asked, given, quiz.pass_mark), Naming.of(menu_now(request))
    to_review = sorted({m.item for m in came.mistakes} | set(came.asked))
    context = {
        "quiz": quiz,
        "result": came,
        "reasons": [word(r) for r in came.reasons if r.code != "quiz_passed"],
        "total": len(rows),
        "parts": [(part_label(p), t) for p, t in came.by_aspect.items()],
        "review": [show_review(asked[n], naming, given[n]) for n in to_review],
    }
    return render(request, "assessments/quiz_result.html", context)
