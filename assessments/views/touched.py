"""The last look before a change counts: whose sign-offs and memory it touches."""

from __future__ import annotations

from django.core.exceptions import BadRequest
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from assessments import ahead, board
from assessments.touched import touched
from assessments.views.finding import menu_now
from barcourse.people.access import SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes import proposed
from recipes.grammar.reasons import CannotBuild
from recipes.menu import Menu
from recipes.models import Recipe
from recipes.rehearsal import rehearse_menus
from recipes.saying import sentences

NOT_TYPED = {"csrfmiddlewaretoken", "form_key", "form_by", "proposed", "look", "publish"}


@member(May.EDIT_BOOK)
def waiting(request: HouseRequest, moment: str) -> HttpResponse:
    """What is published already and waits for its moment."""
    today = menu_now(request)
    when = ahead.waiting_moment(request.venue, today.at, moment)
    if when is None:
        raise Http404
    coming = ahead.coming_at(today, when)
    context = _context(request, coming.before, coming.menu)
    return render(request, "assessments/touched.html", {**context, "coming": coming})


@member(May.EDIT_BOOK, methods=SEND)
def typed(request: HouseRequest) -> HttpResponse:
    """What somebody has typed in the house book and looked at; nothing of it is saved here."""
    try:
        change = proposed.read(request.POST.get("proposed", ""), request.membership)
    except proposed.NotProposed:
        raise BadRequest("Not a change that was shown.") from None
    context: dict[str, object] = {"change": change, "typed": _typed(request)}
    at = timezone.now()
    moment = max(at, change.takes_effect_at or at)
    try:
        before, after = rehearse_menus(
            request.venue, moment, lambda: change.publish(request.membership, at)
        )
    except CannotBuild as bad:
        context["refused"] = sentences(bad.reasons, menu_now(request))
    except Recipe.DoesNotExist:
        raise Http404 from None
    else:
        context |= _context(request, before, after)
    return render(request, "assessments/touched.html", context)


def _typed(request: HouseRequest) -> list[tuple[str, str]]:
    """The fields of the form in the book, to be sent on as they came."""
    lists = [(name, values) for name, values in request.POST.lists() if name not in NOT_TYPED]
    return [(name, str(value)) for name, values in lists for value in values]


def _context(request: HouseRequest, before: Menu, after: Menu) -> dict[str, object]:
    hires = board.hires_here(request.venue, timezone.now())
    coming = ahead.Coming(before, after)
    return {
        "touched": touched(before, after, hires),
        "hires": len(hires),
        "drinks": len(coming.changes),
        "new": coming.new,
        "leaving": coming.leaving,
    }
