"""What names on the till mean, as somebody says it on the page of the sales mix."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments import record_sales, sales_names
from assessments.sales_in_force import InForce, in_force
from assessments.sales_words import hours_left_words
from assessments.views.finding import menu_now
from assessments.views.sales import FORGET, NOTHING_TAUGHT, show
from barcourse.people.access import SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes.menu import Menu


@dataclass(frozen=True)
class _Typed:
    """A name with what was picked from the list or ticked, and what it meant when that was shown;
    None for a form that didn't say."""

    said: str
    picked: str
    ticked: str
    was: str | None

    @property
    def to(self) -> str:
        return self.picked or self.ticked

    def is_gone(self, menu: Menu) -> bool:
        return self.to not in ("", NOTHING_TAUGHT, FORGET) and self.to not in menu.by_slug


@member(May.TAKE_IN_SALES, methods=SEND)
def names(request: HouseRequest) -> HttpResponse:
    """What names mean, or that one is asked about once more: those left open stay so. Where a drink
    is sold no longer nothing is told, and all stands there as it was typed."""
    menu, typed = menu_now(request), list(_typed(request))
    if not sales_names.are_known(menu, [one.said for one in typed if one.to]):
        raise Http404
    if any(one.is_gone(menu) for one in typed):
        force = in_force(request.venue, menu.at)
        return show(request, menu, force, [_again(one, menu, force) for one in typed])
    told = {one.said: _meant(one.to) for one in typed if one.to}
    seen = {one.said: _meant(one.was) for one in typed if one.was is not None}
    done = record_sales.tell_names(
        by=request.membership, told=told, seen=seen, menu=menu, at=timezone.now()
    )
    _say(request, done, forgotten=set(told.values()) == {record_sales.FORGET})
    return redirect("sales_mix", house=request.venue.slug)


def _say(request: HouseRequest, done: record_sales.NamesTold, *, forgotten: bool) -> None:
    for name in done.meanwhile:
        messages.error(request, _("Somebody has told “%(said)s” meanwhile: it stays as below. "
                                  "Say otherwise there.") % {"said": name})  # fmt: skip
    if done.hours_left:
        messages.error(request, hours_left_words(done.hours_left))
    if forgotten and done.names:
        messages.success(request, _("Forgotten. It is asked about where it is not clear."))
    elif done.names or not done.meanwhile:
        n = done.names
        messages.success(request, ngettext("%(n)s name told.", "%(n)s names told.", n) % {"n": n})


def _typed(request: HouseRequest) -> Iterator[_Typed]:
    said, drinks, was = (request.POST.getlist(name) for name in ("said", "drink", "was"))
    ticks = dict(t.split(":", 1) for t in request.POST.getlist("yes") if ":" in t)
    for n, (name, drink) in enumerate(zip(said, drinks, strict=False)):
        yield _Typed(name, drink, ticks.get(str(n), ""), was[n] if n < len(was) else None)


def _meant(to: str) -> str | None:
    """As `tell_names` takes it."""
    return None if to == NOTHING_TAUGHT else record_sales.FORGET if to == FORGET else to


def _again(one: _Typed, menu: Menu, force: InForce) -> sales_names.Asked:
    asked = sales_names.asked(one.said, sales_names.sold(one.said, force), menu)
    ticked = bool(one.ticked) and asked.likely and asked.proposed[0][0] == one.ticked
    gone, was = one.is_gone(menu), _meant(one.was or "")
    return replace(asked, picked="" if gone else one.picked, ticked=ticked, gone=gone, was=was)
