"""Call practice: the program calls, the hire builds. Where a run stands is in the database, so a
closed tab goes on where it was; a tablet without scripts sends one form a call."""

from __future__ import annotations

import datetime as dt
import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from django.core import signing
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone

from assessments import record_calls
from assessments.calls_whole import is_answered
from assessments.measures.call_marking import DrinkAsked, DrinkGiven
from assessments.measures.call_parts import CallPart, Picked
from assessments.measures.call_writing import CallAsked, CallKind
from assessments.models import Call, CallResult, CallRun
from assessments.models.calls import RUSH_LASTS, RunKind
from assessments.record_calls import Given
from assessments.showing import Naming
from assessments.showing_calls import (
    NOTHING,
    ask_field,
    count_field,
    field,
    show_call,
    show_missing,
)
from assessments.telling_calls import CallTold, tally, tell_call
from assessments.views.finding import ended_run_or_404, menu_now
from assessments.views.forms import LONGEST_LOOK_MS, NoForm, refusals_beside
from assessments.views.quiz import now_ms
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes.grammar.calls import About

STRAY: Picked = frozenset({-1})
"""Stands for a choice that nobody offered; the verb refuses it."""
MOST_DIGITS = 3
LATEST = 5
LIE_OPEN = 5
"""So many calls that went wrong are shown with what was missed; of more the rest is folded."""
AWAY = dt.timedelta(minutes=1)
"""Without an answer for longer, a page of a rush says that the clock went on (our own number)."""


@member(May.LEARN)
def practice(request: HouseRequest) -> HttpResponse:
    """What can be practised, what lies open, and how the last runs went."""
    menu_now(request)
    return _practice(request, NoForm())


def _practice(request: HouseRequest, form: NoForm) -> HttpResponse:
    hire = request.membership
    now = timezone.now()
    still_open = {r.kind for r in CallRun.objects.of(hire).open() if not r.is_over(now)}
    results = CallResult.objects.of(hire).select_related("run").with_unanswered()
    context = {
        "kinds": [(kind, kind.value in still_open) for kind in RunKind],
        "results": results.newest_first()[:LATEST],
        "lasts": RUSH_LASTS // dt.timedelta(minutes=1),
        "form": form,
    }
    return render(request, "assessments/call_practice.html", context)


@member(May.LEARN, methods=SEND)
def start(request: HouseRequest) -> HttpResponse:
    """New calls of a kind, or those that lie open."""
    form = NoForm({})
    try:
        kind = CallKind(request.POST.get("kind", ""))
    except ValueError:
        raise Http404 from None
    with refusals_beside(form):
        run = record_calls.start_calls(
            by=request.membership, menu=menu_now(request), kind=kind,
            seed=secrets.randbelow(2**31), at=timezone.now(),
        )  # fmt: skip
        return redirect("call_run", house=request.venue.slug, code=run.code)
    return _practice(request, form)


@member(May.LEARN, methods=READ_AND_SEND)
def run(request: HouseRequest, code: str) -> HttpResponse:
    """The next call without an answer. `?told=` first says what came of that one, save in a rush,
    where nobody has the time. What was built on the page of one call is never an answer to
    another: 409, and nothing is marked."""
    going, form, now = _run_or_404(request, code), NoForm({}), timezone.now()
    if request.method != "POST":
        return _told(request, going) or _show(request, going, NoForm())
    if going.is_over(now) and going.finished_at is None:
        return _close(request, going, now)
    row = _call_of(going, request.POST.get("call", ""))
    since = _shown_since(row, request.POST.get("shown", "")) if row else None
    if row is None or since is None or hasattr(row, "answer"):
        context = {"run": going, "is_answered": hasattr(row, "answer")}
        return render(request, "assessments/call_answered.html", context, status=409)
    given = _given(request, CallAsked.from_json(row.asked))
    with refusals_beside(form):
        record_calls.answer_call(
            by=request.membership,
            call=row,
            given=given,
            milliseconds=_passed(since),
            at=now,
        )
        answer = redirect("call_run", house=request.venue.slug, code=code)
        if not going.is_rush:
            answer["Location"] += f"?told={row.position}"
        return answer
    return _show(request, going, form, given)


def _close(request: HouseRequest, going: CallRun, now: dt.datetime) -> HttpResponse:
    """As with quizzes, nobody is scolded: what was answered counts, and what was not is told."""
    record_calls.close_calls(by=request.membership, run=going, at=now)
    return redirect("call_result", house=request.venue.slug, code=going.code)


def _run_or_404(request: HouseRequest, code: str) -> CallRun:
    runs = CallRun.objects.of(request.membership).select_related("venue")
    return get_object_or_404(runs, code=code)


def _call_of(going: CallRun, position: str) -> Call | None:
    """None where the run has no such call."""
    if not (position.isascii() and position.isdecimal() and len(position) <= MOST_DIGITS):
        return None
    return going.calls.select_related("run", "answer").filter(position=position).first()


def _stamp_of(row: Call) -> signing.Signer:
    """Says since when a page lies open, of this call alone."""
    return signing.Signer(salt=f"assessments.call-shown.{row.run.code}.{row.position}")


def _shown_since(row: Call, shown: str) -> int | None:
    """In milliseconds; None where the page was not one of this call."""
    try:
        return int(_stamp_of(row).unsign(shown))
    except (signing.BadSignature, ValueError):
        return None


def _passed(since: int) -> int | None:
    """None where the page lay open too long to say how fast somebody was."""
    passed = now_ms() - since
    return passed if 0 <= passed <= LONGEST_LOOK_MS else None


def _given(request: HouseRequest, asked: CallAsked) -> list[DrinkGiven | None]:
    if "would_ask" in request.POST:
        return [None] * len(asked.drinks)
    return [_built(request, number, drink) for number, drink in enumerate(asked.drinks)]


def _built(request: HouseRequest, number: int, drink: DrinkAsked) -> DrinkGiven:
    said = request.POST
    asks = {a.value: a for a in About}
    return DrinkGiven(
        tuple(_picked(said.getlist(field(number, part)), part) for part in drink.parts),
        frozenset(asks[a] for a in said.getlist(ask_field(number)) if a in asks),
        _counted(said.get(count_field(number), "")),
    )


def _counted(said: str) -> int:
    """0 where nothing was chosen, which the verb refuses where it is asked."""
    return int(said) if said.isascii() and said.isdecimal() and len(said) < 3 else 0


def _picked(said: list[str], part: CallPart) -> Picked | None:
    """None where nothing was chosen: that waits for an answer. Nothing beside something is no
    answer."""
    if not said:
        return None
    if said == [NOTHING] and part.takes_several:
        return frozenset()
    plain = all(n.isascii() and n.isdecimal() and len(n) < 3 for n in said)
    return frozenset(int(n) for n in said) if plain else STRAY


def _show(
    request: HouseRequest, going: CallRun, form: NoForm, given: Given | None = None
) -> HttpResponse:
    row = going.calls.filter(answer__isnull=True).select_related("run").first()
    if row is None or going.finished_at:
        return redirect("call_result", house=request.venue.slug, code=going.code)
    if going.is_over(timezone.now()):
        left = going.calls.filter(answer__isnull=True).count()
        return render(request, "assessments/call_over.html", {"run": going, "left": left})
    asked, typed = CallAsked.from_json(row.asked), dict(request.POST.lists())
    if request.POST.get("call") != str(row.position):
        typed = {}
    context = {
        "run": going,
        "row": row,
        "total": going.calls.count(),
        "text": asked.text,
        "drinks": show_call(asked, Naming.of(menu_now(request)), typed),
        "form": form,
        "missing": show_missing(asked, given) if given else [],
        "shown": _stamp_of(row).sign(str(now_ms())),
        "clock": _clock(going) if going.is_rush else None,
        "was_away": going.is_rush and request.method == "GET" and _was_away(going),
    }
    return render(request, "assessments/call_run.html", context)


def _was_away(going: CallRun) -> bool:
    return timezone.now() - going.last_heard_of > AWAY


@dataclass(frozen=True)
class Clock:
    """Since when a rush runs, by the clock of the server; a script goes on counting from there."""

    seconds: int

    @property
    def words(self) -> str:
        return f"{self.seconds // 60}:{self.seconds % 60:02d}"


def _clock(going: CallRun) -> Clock:
    until = going.finished_at or timezone.now()
    return Clock(max(0, int((until - going.started_at).total_seconds())))


def _told(request: HouseRequest, going: CallRun) -> HttpResponse | None:
    if "told" not in request.GET or going.is_rush:
        return None
    row = _call_of(going, request.GET["told"])
    if row is None:
        raise Http404
    if not hasattr(row, "answer"):
        return None
    context = {
        "run": going,
        "told": tell_call(row, Naming.of(menu_now(request))),
        "total": going.calls.count(),
        "left": going.calls.filter(answer__isnull=True).count(),
    }
    return render(request, "assessments/call_told.html", context)


@member(May.LEARN)
def result(request: HouseRequest, code: str) -> HttpResponse:
    """How the run went, by aspect, and every call that was not built right; whoever sees records
    reads it as well, once it is over."""
    going = ended_run_or_404(request, code)
    if going.finished_at is None:
        return redirect("call_run", house=request.venue.slug, code=code)
    naming = Naming.of(menu_now(request))
    rows = list(going.calls.select_related("answer"))
    told = [tell_call(row, naming) for row in rows if is_answered(row)]
    missed = [call for call in told if call.came != "right"]
    context = {
        "run": going,
        "is_own": going.hire_id == request.membership.pk,
        "result": going.result,
        "total": len(rows),
        "unanswered": [CallAsked.from_json(r.asked).text for r in rows if not is_answered(r)],
        "clock": _clock(going) if going.is_rush else None,
        "parts": tally(told),
        "seconds_a_call": _seconds_a_call(told),
        "review": [(call, n < LIE_OPEN) for n, call in enumerate(missed)],
        "right": [call for call in told if call.came == "right"],
    }
    return render(request, "assessments/call_result.html", context)


def _seconds_a_call(told: Sequence[CallTold]) -> int | None:
    """The middle one of the times that are known: a call looked at over a glass of water should
    not count for all the others. Whole seconds."""
    known = [call.milliseconds for call in told if call.milliseconds is not None]
    return round(median(known) / 1000) if known else None
