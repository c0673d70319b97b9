"""A try-out: offered by a trainer, taken by a hire, read by both."""

from __future__ import annotations

import secrets
from dataclasses import dataclass

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import record_quiz, record_set
from assessments.kept_pages import kept_page, minute_of
from assessments.measures.tryout import MINUTES
from assessments.models import TryOut
from assessments.models.sheet import Stands
from assessments.showing_credit import credit_shown
from assessments.views.finding import hire_here_or_404, menu_now, page_or_404
from assessments.views.forms import NoForm, refusals_beside
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.models import Membership
from barcourse.people.roles import May
from recipes.menu import Menu
from recipes.models import Module

AT_ONCE = 50


@member(May.WATCH, methods=READ_AND_SEND)
def hire(request: HouseRequest, code: str) -> HttpResponse:
    """What the last try-out of a hire showed, and a button to offer one."""
    person, form = hire_here_or_404(request, code), NoForm({})
    if request.method == "POST":
        with refusals_beside(form):
            record_set.offer_try_out(by=request.membership, hire=person, at=timezone.now())
            messages.success(request, _("Offered. It waits on their next shift."))
            return redirect("try_out", house=request.venue.slug, code=person.code)
    key = ("try-out", person.code, minute_of(timezone.now()))
    kept = kept_page(request.venue, *key, make=lambda: _showed(person, menu_now(request)))
    context = {
        **kept.shown,
        "html": kept.html,
        "form": form if request.method == "POST" else NoForm(),
    }
    return render(request, "assessments/try_out.html", context)


def _showed(person: Membership, menu: Menu) -> dict[str, object]:
    """Offered, begun and ended, a try-out is in the house's log; its time runs by the clock."""
    rows = list(TryOut.objects.of(person).with_all().newest_first())
    last = next((r for r in rows if credit_shown(r, menu)), None)
    return {
        "hire": person,
        "open": next((_line(r, menu) for r in rows if r.finished_at is None), None),
        "credit": credit_shown(last, menu) if last else None,
        "gates": list(Module.objects.in_house(menu.venue).gates()),
        "minutes": MINUTES,
    }


@dataclass(frozen=True)
class Line:
    """A try-out in a list, and where it stands."""

    row: TryOut
    stands: Stands


def _line(row: TryOut, menu: Menu) -> Line:
    return Line(row, row.stands(menu.at))


@member(May.WATCH)
def listed(request: HouseRequest) -> HttpResponse:
    """Every try-out of the house, the newest first."""
    menu = menu_now(request)
    rows = TryOut.objects.in_house(request.venue).with_all().newest_first()
    page = page_or_404(request, [_line(row, menu) for row in rows], AT_ONCE)
    return render(request, "assessments/try_outs.html", {"page": page})


@member(May.LEARN, methods=SEND)
def end(request: HouseRequest, tried: str) -> HttpResponse:
    """One's own that runs, or anybody's for whoever may offer one: ended, or taken back."""
    rows = TryOut.objects.in_house(request.venue).with_all()
    row, me, form = get_object_or_404(rows, code=tried), request.membership, NoForm({})
    is_own = row.hire_id == me.pk
    if not (is_own or me.may(May.WATCH)):
        raise Http404
    with refusals_beside(form):
        record_quiz.end_try_out(by=me, try_out=row, at=timezone.now())
        said = _("Ended. What was answered counts.") if row.quiz else _("Taken back.")
        messages.success(request, said)
    for error in form.non_field_errors():
        messages.info(request, str(error))
    if is_own and row.quiz:
        return redirect("quiz_result", house=request.venue.slug, code=row.quiz.code)
    if is_own:
        return redirect("next_shift", house=request.venue.slug)
    return redirect("try_out", house=request.venue.slug, code=row.hire.code)


@member(May.LEARN, methods=SEND)
def start(request: HouseRequest, code: str) -> HttpResponse:
    """A hire's own try-out, begun or gone on with."""
    mine = TryOut.objects.of(request.membership).select_related("quiz")
    row, form = get_object_or_404(mine, code=code), NoForm({})
    with refusals_beside(form):
        quiz = record_quiz.start_try_out(
            by=request.membership, menu=menu_now(request), try_out=row,
            seed=secrets.randbelow(2**31), at=timezone.now(),
        )  # fmt: skip
        return redirect("quiz", house=request.venue.slug, code=quiz.code)
    messages.info(request, " ".join(str(e) for e in form.non_field_errors()))
    return redirect("next_shift", house=request.venue.slug)
