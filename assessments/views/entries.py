"""One entry of a record on a page of its own: read by whom it is about and by trainers, answered,
settled."""

from __future__ import annotations

from django import forms
from django.contrib import messages
from django.http import Http404, HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import record_entries, showing_entries
from assessments.models import Answered, WatchedBuild
from assessments.models.kinds import Entry, kind_of
from assessments.record_second import SECOND_WITHIN
from assessments.to_look_at import is_blind
from assessments.views.forms import AnswerForm, refusals_beside
from assessments.views.second_look import decided
from assessments.voids import void_of
from assessments.wording_refusals import say
from barcourse.people.access import SEND, HouseRequest, member
from barcourse.people.reasons import Refused
from barcourse.people.roles import May


def entry_or_404(request: HouseRequest, code: str) -> Entry:
    """Of oneself, or of anybody for whoever sees records."""
    entry = showing_entries.find(request.venue, code)
    own = entry is not None and entry.hire_id == request.membership.pk
    if entry is None or not (own or request.membership.may(May.SEE_RECORDS)):
        raise Http404
    return entry


@member(May.LEARN)
def page(request: HouseRequest, code: str) -> HttpResponse:
    return _show(request, entry_or_404(request, code))


@member(May.LEARN, methods=SEND)
def answer(request: HouseRequest, code: str) -> HttpResponse:
    entry, form = entry_or_404(request, code), AnswerForm(request.POST)
    if entry.hire_id != request.membership.pk:
        raise Http404
    if form.is_valid():
        disagrees = form.cleaned_data["disagrees"]
        with refusals_beside(form):
            record_entries.answer(
                by=request.membership, entry=entry, words=form.cleaned_data["words"],
                disagrees=disagrees, at=timezone.now(),
            )  # fmt: skip
            said = _("Said. A manager will look at it.") if disagrees else _("Said.")
            messages.success(request, said)
            return _back(request, code)
    return _show(request, entry, answering=form)


@member(May.LEARN, methods=SEND)
def erase(request: HouseRequest, code: str) -> HttpResponse:
    entry = entry_or_404(request, code)
    try:
        record_entries.erase_said(
            by=request.membership, entry=entry, code=request.POST.get("words", ""),
            at=timezone.now(),
        )  # fmt: skip
        messages.success(request, _("Erased. That they were there stays on record."))
    except Refused as refused:
        messages.error(request, say(refused.reason))
    return _back(request, code)


@member(May.SEE_LOG, methods=SEND)
def settle(request: HouseRequest, code: str) -> HttpResponse:
    said = get_object_or_404(Answered.objects.in_house(request.venue), code=code)
    try:
        record_entries.settle(by=request.membership, answer=said, at=timezone.now())
        messages.success(request, decided(said.entry))
    except Refused as refused:
        messages.error(request, say(refused.reason))
    return redirect("to_look_at", house=request.venue.slug)


def _back(request: HouseRequest, code: str) -> HttpResponseRedirect:
    return redirect("entry", house=request.venue.slug, code=code)


def _show(
    request: HouseRequest,
    entry: Entry,
    *,
    answering: forms.Form | None = None,
) -> HttpResponse:
    blind = isinstance(entry, WatchedBuild) and is_blind(
        request.membership, entry, timezone.now(), SECOND_WITHIN
    )
    context = {
        "kind": kind_of(entry),
        "entry": entry,
        "title": showing_entries.heading(entry),
        "came": showing_entries.came(entry),
        "void": None if isinstance(entry, WatchedBuild) else void_of(entry),
        "answers": () if blind else showing_entries.answers_to(entry, request.membership),
        "may_answer": entry.hire_id == request.membership.pk,
        "answering": answering or AnswerForm(),
    }
    return render(request, "assessments/entry.html", context)
