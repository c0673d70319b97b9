"""Taking a quiz: one item at a time.

Where it stands is in the database, and its clock is the server's: a closed tab, a dead phone or
a session that has ended loses nothing.
"""

from __future__ import annotations

import datetime as dt
import secrets
from dataclasses import dataclass
from math import ceil

from django.contrib import messages
from django.core import signing
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import record, record_quiz
from assessments.kept_pages import KeptPage, kept_page
from assessments.measures.quiz import ASK, Given, ItemAsked, ItemKind
from assessments.models import Quiz
from assessments.reads_quiz import next_position
from assessments.showing import Naming
from assessments.showing_quiz import ItemShown, show_item
from assessments.tryouts import is_try_out
from assessments.views.finding import item_or_404, menu_now, module_or_404, own_quiz_or_404
from assessments.views.forms import LONGEST_LOOK_MS, NoForm, refusals_beside
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
    if request.method != "POST":
        key = ("quiz", request.membership.pk, code)
        kept = kept_page(request.venue, *key, make=lambda: own_quiz_or_404(request, code))
        return _show(request, kept.shown, NoForm())
    quiz, form, now = own_quiz_or_404(request, code), NoForm({}), timezone.now()
    if quiz.is_over(now) and quiz.finished_at is None:
        return _close(request, quiz, now)
    row = item_or_404(quiz, request.POST.get("item", ""))
    was_answered = hasattr(row, "answer")  # in another tab
    with refusals_beside(form):
        record.answer_item(
            by=request.membership,
            item=row,
            choice=_given(request, ItemAsked.from_json(row.asked)),
            milliseconds=passed_since(request.POST.get("shown", "")),
            at=now,
        )
        if was_answered and not row.answer.is_in_time:
            messages.info(request, _("It had been ended by then. What you had answered counts."))
        elif was_answered:
            messages.info(request, _("You had answered that one already; the first answer counts."))
        return redirect("quiz", house=request.venue.slug, code=quiz.code)
    return _show(request, quiz, form)


def _close(request: HouseRequest, quiz: Quiz, now: dt.datetime) -> HttpResponse:
    """Nobody is scolded for a dead phone: what was answered counts, and why the rest doesn't is
    said."""
    record_quiz.close_quiz(by=request.membership, quiz=quiz, at=now)
    messages.info(
        request,
        _("The time for this quiz was up. What you had answered counts; the rest has no answer."),
    )
    return redirect("quiz_result", house=request.venue.slug, code=quiz.code)


def _show(request: HouseRequest, quiz: Quiz, form: NoForm) -> HttpResponse:
    position, now = next_position(quiz), timezone.now()
    if position is None:
        return redirect("quiz_result", house=request.venue.slug, code=quiz.code)
    if quiz.is_over(now):
        left = quiz.items.filter(answer__isnull=True).count()
        context = {"quiz": quiz, "position": position, "left": left}
        return render(request, "assessments/quiz_over.html", context)
    kept = _kept(request, quiz, position)
    context = {
        "title": kept.shown.title,
        "position": position,
        "item": kept.shown.item,
        "html": kept.html,
        "total": kept.shown.total,
        "would_ask": ASK,
        "form": form,
        "shown": SHOWN.sign(str(now_ms())),
        "ends_early": quiz.try_out.code if is_try_out(quiz) else "",
        "minutes": ceil((quiz.ends_at - now).total_seconds() / 60) if quiz.ends_at else None,
    }
    return render(request, "assessments/quiz_item.html", context)


@dataclass(frozen=True)
class Asked:
    """An item in words, and the quiz that it is of; neither changes once it was asked."""

    title: str
    total: int | None
    """None where nobody knows yet: a try-out ends by what is answered."""
    item: ItemShown


def _kept(request: HouseRequest, quiz: Quiz, position: int) -> KeptPage[Asked]:
    """Kept, but for a form that is shown again: it holds what was typed."""

    def asked() -> Asked:
        item = ItemAsked.from_json(quiz.items.get(position=position).asked)
        naming, typed = Naming.of(menu_now(request)), dict(request.POST.lists())
        total = None if is_try_out(quiz) else quiz.items.count()
        return Asked(quiz.title, total, show_item(item, naming, typed))

    if request.method == "POST":
        return KeptPage(asked(), None)
    return kept_page(request.venue, "quiz item", quiz.code, position, make=asked)


def _given(request: HouseRequest, asked: ItemAsked) -> Given:
    """The answer as the form carries it; what is none becomes one that the verb refuses."""
    said = request.POST.getlist("choice")
    if str(ASK) in said:
        return ASK
    match asked.kind:
        case ItemKind.SEVERAL:
            return tuple(sorted({_number(n) for n in said})) or NO_CHOICE
        case ItemKind.ORDER:
            return _in_order([request.POST.get(f"place-{n}") for n in range(len(asked.choices))])
        case ItemKind.BUILD:
            parts = range(len(asked.parts))
            return tuple(_number(request.POST.get(f"part-{n}")) for n in parts)
    return _number(request.POST.get("choice"))


def _in_order(places: list[str | None]) -> Given:
    """Choices by the places that they were given, counted from 1."""
    numbers = [_number(p) for p in places]
    if sorted(numbers) != list(range(1, len(numbers) + 1)):
        return NO_CHOICE
    return tuple(sorted(range(len(numbers)), key=numbers.__getitem__))


def _number(said: str | None) -> int:
    try:
        return max(NO_CHOICE, min(int(said or ""), 100))
    except ValueError:
        return NO_CHOICE


def now_ms() -> int:
    return int(timezone.now().timestamp() * 1000)


def passed_since(shown: str) -> int | None:
    """Milliseconds from showing to answering as the server saw it; None where the form can't be
    trusted or lay open too long."""
    try:
        passed = now_ms() - int(SHOWN.unsign(shown))
    except (signing.BadSignature, ValueError):
        return None
    return passed if 0 <= passed <= LONGEST_LOOK_MS else None
