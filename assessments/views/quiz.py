"""Taking a quiz: one item at a time, then the result with a review of every mistake."""

from __future__ import annotations

import secrets

from django.core import signing
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone

from assessments import record
from assessments.measures.quiz import ASK, ItemAsked, score
from assessments.models import Item, Quiz
from assessments.showing import House, part_label, show_item
from assessments.views.finding import menu_now, module_or_404, own_quiz_or_404
from assessments.wording import word
from assessments.wording_refusals import say
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.reasons import Refused
from barcourse.people.roles import May

SHOWN = signing.Signer(salt="assessments.item-shown")
LONGEST_MS = 10 * 60 * 1000


@member(May.LEARN, methods=SEND)
def start(request: HouseRequest, module: str) -> HttpResponse:
    """A new quiz on the module, or the one still open."""
    row = module_or_404(request, module)
    seed = secrets.randbelow(2**31)
    try:
        quiz = record.start_quiz(
            by=request.membership, menu=menu_now(request), module=row, seed=seed,
            at=timezone.now(),
        )  # fmt: skip
    except Refused as refused:
        context = {"sentence": say(refused.reason), "module": row}
        return render(request, "assessments/quiz_nothing.html", context, status=409)
    return redirect("quiz", house=request.venue.slug, code=quiz.code)


@member(May.LEARN, methods=READ_AND_SEND)
def item(request: HouseRequest, code: str) -> HttpResponse:
    """The next item without an answer; a closed tab goes on where it was."""
    quiz = own_quiz_or_404(request, code)
    if request.method == "POST":
        return _answer(request, quiz)
    return _show(request, quiz)


def _show(request: HouseRequest, quiz: Quiz, sentence: str = "") -> HttpResponse:
    row = quiz.items.filter(answer__isnull=True).first()
    if row is None:
        return redirect("quiz_result", house=request.venue.slug, code=quiz.code)
    house = House.of(menu_now(request))
    context = {
        "quiz": quiz,
        "row": row,
        "item": show_item(ItemAsked.from_json(row.asked), house),
        "total": quiz.items.count(),
        "would_ask": ASK,
        "sentence": sentence,
        "shown": SHOWN.sign(str(_now_ms())),
    }
    return render(request, "assessments/quiz_item.html", context, status=400 if sentence else 200)


def _answer(request: HouseRequest, quiz: Quiz) -> HttpResponse:
    row = _item_or_404(quiz, request.POST.get("item", ""))
    try:
        record.answer_item(
            by=request.membership,
            item=row,
            choice=_choice(request),
            milliseconds=_milliseconds(request.POST.get("shown", "")),
            at=timezone.now(),
        )
    except Refused as refused:
        return _show(request, quiz, say(refused.reason))
    return redirect("quiz", house=request.venue.slug, code=quiz.code)


def _item_or_404(quiz: Quiz, position: str) -> Item:
    if not position.isdecimal() or len(position) > 4:
        raise Http404
    return get_object_or_404(quiz.items, position=int(position))


def _choice(request: HouseRequest) -> int:
    """The choice sent, or one that nobody offered, which the verb refuses."""
    said = request.POST.get("choice", "")
    try:
        return max(-2, min(int(said), 100))
    except ValueError:
        return -2


def _now_ms() -> int:
    return int(timezone.now().timestamp() * 1000)


def _milliseconds(shown: str) -> int | None:
    """From showing to answering as the server saw it; None where the form can't be trusted.

    What lay open for over ten minutes says nothing about how fast somebody knows.
    """
    try:
        passed = _now_ms() - int(SHOWN.unsign(shown))
    except (signing.BadSignature, ValueError):
        return None
    return passed if 0 <= passed <= LONGEST_MS else None


@member(May.LEARN)
def result(request: HouseRequest, code: str) -> HttpResponse:
    """What came of it, by aspect, and each mistake beside what is right."""
    quiz = own_quiz_or_404(request, code)
    if quiz.finished_at is None:
        return redirect("quiz", house=request.venue.slug, code=quiz.code)
    rows = list(quiz.items.select_related("answer"))
    asked = [ItemAsked.from_json(r.asked) for r in rows]
    given = {n: r.answer.choice for n, r in enumerate(rows)}
    came = score(asked, given, quiz.pass_mark)
    house = House.of(menu_now(request))
    to_review = sorted({m.item for m in came.mistakes} | set(came.asked))
    context = {
        "quiz": quiz,
        "result": came,
        "reasons": [word(r) for r in came.reasons],
        "parts": [(part_label(p), t) for p, t in came.by_aspect.items()],
        "review": [show_item(asked[n], house, given[n]) for n in to_review],
    }
    return render(request, "assessments/quiz_result.html", context)
