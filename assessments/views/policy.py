"""What ready takes, by station and kind of shift; and who stands for one shift all the same."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from assessments import record_policy
from assessments.measures.policy_sense import doubts
from assessments.measures.ready_facts import ReadyPolicy
from assessments.measures.sales_mix import ShiftKind
from assessments.models import PolicyVersion
from assessments.policy import EVERYWHERE, Book, Scope, book_at, concerns, in_force_at
from assessments.policy_preview import Preview, preview
from assessments.shifts import Shift
from assessments.views.finding import menu_now
from assessments.views.forms import refusals_beside
from assessments.views.forms_policy import PolicyForm
from assessments.views.looks import board_address, when_or_404
from assessments.wording import word
from assessments.wording_practical import SHIFTS
from assessments.wording_ready import policy_words, task_policy_words
from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.models import Station, Venue
from barcourse.people.roles import May
from recipes.grammar.aspects import fingerprint

NEWEST = 20
"""Versions that stand on the page (our own number)."""

LONGEST = 9
"""Digits of a version's number that are read."""


@dataclass(frozen=True)
class Chosen:
    """What the page is about: one station or all, one kind of shift or all."""

    station: Station | None
    shift: ShiftKind | None
    book: Book

    @property
    def scope(self) -> Scope:
        return (self.station.pk if self.station else None, str(self.shift or ""))

    @property
    def now(self) -> ReadyPolicy:
        return self.book.at(self.scope)

    @property
    def takes_orders(self) -> bool:
        return self.station is None or self.station.takes_orders

    @property
    def is_own(self) -> bool:
        return self.scope in self.book.policies

    @property
    def may_follow(self) -> bool:
        return self.is_own and self.scope != EVERYWHERE


def _chosen(request: HouseRequest, at: dt.datetime) -> Chosen:
    """`?station= &shift=`; without one it is about all of them, and a `day=` says only which shift
    the board goes on being asked for. 404 for what there is none of."""
    slug, when = request.GET.get("station", ""), when_or_404(request)
    station = next((s for s in request.venue.stations.all() if s.slug == slug), None)
    if slug and station is None:
        raise Http404
    return Chosen(
        station, when.kind if isinstance(when, Shift) else None, book_at(request.venue, at)
    )


@member(May.SET_READY, methods=READ_AND_SEND)
def page(request: HouseRequest) -> HttpResponse:
    """Typed, looked at on today's people, then saved: only what was looked at is."""
    at = menu_now(request).at
    chosen = _chosen(request, at)
    form = PolicyForm(request.POST or None, now=chosen.now, takes_orders=chosen.takes_orders)
    found, follows = None, "follow" in request.POST
    if request.method == "POST" and (follows or form.is_valid()):
        policy = None if follows else form.policy
        from_day = None if follows else form.cleaned_data["from_day"]
        seen = fingerprint([repr(policy), str(from_day), list(chosen.scope)])
        newer = _newer(request)
        if "save" in request.POST and request.POST.get("seen") == seen and not newer:
            with refusals_beside(form):
                return _save(request, chosen, policy, from_day, at)
        else:
            with refusals_beside(form):
                record_policy.refuse_start(from_day, request.venue.business_day(at))
                found = preview(request.venue, chosen.scope, policy, at, from_day)
        return _shown(request, chosen, form, found, seen=seen, follows=follows, newer=newer)
    return _shown(request, chosen, form)


def _newer(request: HouseRequest) -> list[dict[str, Any]]:
    """What others have set since the page was opened or last looked at."""
    rows = PolicyVersion.objects.in_house(request.venue).after(_opened_upon(request))
    return [_version(request.venue, row) for row in rows.newest_first()[:NEWEST]]


def _opened_upon(request: HouseRequest) -> int:
    """The number of the version that was the newest then; 0 where there was none."""
    said = request.POST.get("newest", "")
    return int(said) if said.isascii() and said.isdecimal() and len(said) <= LONGEST else 0


def _save(
    request: HouseRequest, chosen: Chosen, policy: ReadyPolicy | None, from_day: dt.date | None,
    at: dt.datetime,
) -> HttpResponse:  # fmt: skip
    record_policy.set_policy(
        by=request.membership, station=chosen.station, shift=chosen.shift, policy=policy,
        from_day=from_day, upon=_opened_upon(request), at=at,
    )  # fmt: skip
    messages.success(request, _("Saved."))
    return redirect(request.get_full_path())


def _shown(
    request: HouseRequest, chosen: Chosen, form: PolicyForm, found: Preview | None = None,
    **said: Any,
) -> HttpResponse:  # fmt: skip
    venue = request.venue
    at = menu_now(request).at
    policies = PolicyVersion.objects.in_house(venue)
    newest, coming = policies.newest_first().first(), list(policies.yet_to_begin(at))
    standing = in_force_at(venue, at)
    stands = {row.pk for row in standing.values()}
    about = [row for row in policies.newest_first() if concerns(chosen.scope, row.scope)]
    here = chosen.book.scope_of(*chosen.scope)
    parts = chosen.book.counting(chosen.scope, [s.pk for s in venue.stations.all()]) - {here}
    asked = form.policy if found and not said["follows"] else chosen.now
    context = {
        "chosen": chosen,
        "board": board_address(request, chosen.station),
        "form": form,
        "stations": list(venue.stations.all()),
        "shifts": [(kind.value, SHIFTS[kind]) for kind in ShiftKind],
        "takes": _words(chosen.now, takes_orders=chosen.takes_orders),
        "set_at": _scope_words(venue, chosen.book.scope_of(*chosen.scope)),
        "preview": found,
        "later": bool(found and found.at > at),
        "newest": newest.number if newest else 0,
        "doubts": [word(r) for r in doubts(asked)] if chosen.takes_orders else [],
        "coming": [_version(venue, row) | {"instead": _instead(row, coming)} for row in coming],
        "standing": standing.get(here),
        "parts": [_version(venue, standing[s]) for s in standing if s in parts],
        "versions": [
            _version(venue, row) for row in about if row.begins_at <= at and row.pk not in stands
        ][:NEWEST],
        **said,
    }
    return render(request, "assessments/ready_policy.html", context)


def _words(policy: ReadyPolicy, *, takes_orders: bool) -> list[str]:
    return policy_words(policy) if takes_orders else task_policy_words(policy)


def _version(venue: Venue, row: PolicyVersion) -> dict[str, Any]:
    takes_orders = row.station is None or row.station.takes_orders
    return {
        "row": row,
        "about": _scope_words(venue, row.scope),
        "takes": [] if row.follows else _words(row.policy, takes_orders=takes_orders),
    }


def _instead(row: PolicyVersion, coming: Sequence[PolicyVersion]) -> PolicyVersion | None:
    """What was set later for the same day and the same part of the house, and counts in its
    place."""
    same = [r for r in coming if (r.scope, r.begins_at) == (row.scope, row.begins_at)]
    last = max(same, key=lambda r: r.number)
    return None if last.pk == row.pk else last


def _scope_words(venue: Venue, scope: Scope) -> str:
    names = {s.pk: s.name for s in venue.stations.all()}
    station = _("Every station") if scope[0] is None else names[scope[0]]
    shift = SHIFTS[ShiftKind(scope[1])] if scope[1] else _("every shift")
    return _("%(station)s, %(shift)s") % {"station": station, "shift": shift}
