"""What was put on record about hands, taken back with a reason: one page for every kind."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments.models import WatchedBuild
from assessments.models.kinds import OfHands, kind_of
from assessments.record_taken_back import may_take_back, take_back_hand
from assessments.showing_entries import came, find, heading
from assessments.views.forms import VoidForm, refusals_beside
from assessments.voids import void_of
from assessments.wording_practical import OF_HANDS
from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.roles import May


@member(May.WATCH, methods=READ_AND_SEND)
def take_back(request: HouseRequest, code: str) -> HttpResponse:
    """Why a mark, a check or a round no longer counts."""
    row, form = _row_or_404(request, code), VoidForm(request.POST or None)
    if form.is_valid():
        with refusals_beside(form):
            reason = form.cleaned_data["reason"]
            take_back_hand(by=request.membership, row=row, reason=reason, at=timezone.now())
            messages.success(request, _("Taken back. It stays on record and no longer counts."))
            return redirect("hire_record", house=request.venue.slug, code=row.hire.code)
    kind = kind_of(row)
    context = {
        "row": row,
        "kind": kind,
        "what": OF_HANDS[kind],
        "about": heading(row),
        "came": came(row),
        "void": void_of(row),
        "may_take_back": may_take_back(request.membership, row),
        "form": form,
    }
    return render(request, "assessments/take_back.html", context)


def _row_or_404(request: HouseRequest, code: str) -> OfHands:
    row = find(request.venue, code)
    if row is None or isinstance(row, WatchedBuild):
        raise Http404
    return row
