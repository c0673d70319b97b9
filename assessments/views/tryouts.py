"""A try-out: offered by a trainer, taken by a hire, read by both."""

from __future__ import annotations

import secrets

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import record_quiz, record_set
from assessments.kept_pages import kept_page
from assessments.measures.tryout import MINUTES
from assessments.models import TryOut
from assessments.showing_credit import credit_shown
from assessments.views.finding import hire_here_or_404, menu_now
from assessments.views.forms import NoForm, refusals_beside
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.models import Membership
from barcourse.people.roles import May
from recipes.menu import Menu
from recipes.models import Module


@member(May.WATCH, methods=READ_AND_SEND)
def hire(request: HouseRequest, code: str) -> HttpResponse:
    """What the last try-out of a hire showed, and a button to offer one."""
    person, form = hire_here_or_404(request, code), NoForm({})
    if request.method == "POST":
        with refusals_beside(form):
            record_set.offer_try_out(by=request.membership, hire=person, at=timezone.now())
            messages.success(request, _("Offered. It waits on their next shift."))
            return redirect("try_out", house=request.venue.slug, code=person.code)
    kept = kept_page(
        request.venue, "try-out", person.code, make=lambda: _showed(person, menu_now(request))
    )
    context = {
        **kept.shown,
        "html": kept.html,
        "form": form if request.method == "POST" else NoForm(),
    }
    return render(request, "assessments/try_out.html", context)


def _showed(person: Membership, menu: Menu) -> dict[str, object]:
    """Offered and ended, a try-out is in the house's log."""
    rows = TryOut.objects.of(person).select_related("quiz").newest_first()
    last = next((r for r in rows if r.finished_at), None)
    return {
        "hire": person,
        "waits": any(r.finished_at is None for r in rows),
        "credit": credit_shown(last, menu) if last else None,
        "gates": list(Module.objects.in_house(menu.venue).gates()),
        "minutes": MINUTES,
    }


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
