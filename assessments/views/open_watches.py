"""Taps on a page of watching are kept as they come, and the watch can be dropped."""

from __future__ import annotations

import json
import uuid
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.core.exceptions import BadRequest
from django.http import HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import record_open_watch
from assessments.views.finding import hire_here_or_404
from assessments.watch_places import Place, address, place_of
from assessments.wording_refusals import say
from barcourse.people.access import SEND, HouseRequest, member
from barcourse.people.models import Venue
from barcourse.people.reasons import Refused
from barcourse.people.roles import May

LARGEST = 40_000
"""Bytes. A round of eight with a note and every place takes a tenth."""
MOST_FORMS = 2
PUT = ("PUT",)


@dataclass(frozen=True)
class Sent:
    """What the page's script sends: the page, the keys of its forms, what is tapped (None where it
    is begun afresh), and the code that it was kept under before."""

    place: Place
    forms: list[uuid.UUID]
    kept: dict[str, Any] | None
    after: str


@member(May.WATCH, methods=PUT)
def keep(request: HouseRequest) -> HttpResponse:
    """Kept in place of what was tapped before; 409 where that is on record by now."""
    sent, at = _read(request.venue, request.body), timezone.now()
    for hire in sent.place.hires:
        hire_here_or_404(request, hire)
    if sent.kept is None:
        record_open_watch.end_watch(by=request.membership, where=sent.place.where, at=at)
        return HttpResponse(status=204)
    row = record_open_watch.keep_watch(
        by=request.membership, place=sent.place, forms=sent.forms, kept=sent.kept, at=at,
        after=sent.after,
    )  # fmt: skip
    return HttpResponse(row.code, "text/plain") if row else HttpResponse(status=409)


def _read(venue: Venue, body: bytes) -> Sent:
    if len(body) > LARGEST:
        raise BadRequest("More than a page of watching holds.")
    try:
        said = json.loads(body)
        place = place_of(venue, said["where"])
        forms = [uuid.UUID(key) for key in said["forms"][:MOST_FORMS]]
        kept, after = said["kept"], said["after"]
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        raise BadRequest("No taps of a page of watching.") from None
    if place is None or not isinstance(kept, dict | None) or not isinstance(after, str):
        raise BadRequest("No taps of a page of watching.")
    return Sent(place, list(dict.fromkeys(forms)), kept, after)


@member(May.WATCH, methods=SEND)
def drop(request: HouseRequest) -> HttpResponse:
    """From the list of what is under way."""
    record_open_watch.drop_watch(
        by=request.membership, code=request.POST.get("watch", ""), at=timezone.now()
    )
    messages.success(request, _("Dropped. Nothing of it went on record."))
    return redirect("watch", house=request.venue.slug)


@member(May.SEE_LOG, methods=SEND)
def drop_left(request: HouseRequest) -> HttpResponse:
    """From the manager's page: begun by somebody who no longer watches here."""
    try:
        record_open_watch.drop_left_watch(
            by=request.membership, code=request.POST.get("watch", ""), at=timezone.now()
        )
        messages.success(request, _("Dropped. Nothing of it went on record."))
    except Refused as refused:
        messages.error(request, say(refused.reason))
    return redirect("to_look_at", house=request.venue.slug)


def put_on_record(request: HouseRequest) -> None:
    """What was tapped on this page is on record now."""
    where = address(request.path, request.META["QUERY_STRING"])
    record_open_watch.end_watch(by=request.membership, where=where, at=timezone.now())
