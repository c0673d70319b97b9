"""Getting a row of this house by its code or slug, or 404. There is no other way to one here."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from django.core.paginator import InvalidPage, Page, Paginator
from django.http import Http404
from django.shortcuts import get_object_or_404
from django.utils import timezone

from assessments import ahead
from assessments.models import CallRun, Item, Quiz, WatchedBuild
from assessments.sales import as_sold_now
from barcourse.people.access import HouseRequest
from barcourse.people.models import Membership, Station
from barcourse.people.roles import May
from recipes.menu import Menu, MenuDrink, NoRules, menu_at
from recipes.models import Module

Row = TypeVar("Row")


def menu_now(request: HouseRequest) -> Menu:
    """Today's menu, weighed by what sells; 404 for a house whose course was never loaded."""
    try:
        return as_sold_now(menu_at(request.venue, timezone.now()))
    except NoRules:
        raise Http404 from None


def coming_or_none(request: HouseRequest, today: Menu) -> ahead.Coming | None:
    """The coming menu that `?as_of=` names; None for today's.

    A moment that has just passed means today's, so that a form on its way at that moment isn't
    lost. Any other moment is 404.
    """
    said = request.GET.get("as_of")
    if said is None:
        return None
    moment = ahead.waiting_moment(request.venue, today.at, said)
    if moment:
        return ahead.coming_at(today, moment)
    passed = ahead.moment_of(said)
    if passed is None or passed > today.at:
        raise Http404
    return None


def module_or_404(request: HouseRequest, slug: str) -> Module:
    return get_object_or_404(Module.objects.in_house(request.venue), slug=slug)


def drink_or_404(menu: Menu, slug: str) -> MenuDrink:
    try:
        return menu.by_slug[slug]
    except KeyError:
        raise Http404 from None


def hire_or_404(request: HouseRequest, code: str) -> Membership:
    """Somebody of this house, here or gone: records of those who left stay readable."""
    people = Membership.objects.in_house(request.venue).select_related("person")
    hire = get_object_or_404(people, code=code)
    hire.venue = request.venue  # saves asking for it once more
    return hire


def hire_here_or_404(request: HouseRequest, code: str) -> Membership:
    """Somebody who still works here."""
    hire = hire_or_404(request, code)
    if not hire.is_here(request.venue.business_day(timezone.now())):
        raise Http404
    return hire


def own_quiz_or_404(request: HouseRequest, code: str) -> Quiz:
    quiz = get_object_or_404(Quiz.objects.of(request.membership), code=code)
    quiz.venue = request.venue  # saves asking for it once more
    return quiz


def ended_run_or_404(request: HouseRequest, code: str) -> CallRun:
    """One's own, or an ended one of anybody for whoever sees records."""
    runs = CallRun.objects.in_house(request.venue).select_related("hire__person")
    run = get_object_or_404(runs, code=code)
    if run.hire_id == request.membership.pk:
        return run
    if run.finished_at is None or not request.membership.may(May.SEE_RECORDS):
        raise Http404
    return run


def item_or_404(quiz: Quiz, position: str) -> Item:
    number = number_or_404(position)
    return get_object_or_404(quiz.items.select_related("quiz"), position=number)


def build_or_404(request: HouseRequest, code: str) -> WatchedBuild:
    builds = WatchedBuild.objects.in_house(request.venue).with_all()
    return get_object_or_404(builds, code=code)


def own_build_or_404(request: HouseRequest, code: str) -> WatchedBuild:
    return get_object_or_404(WatchedBuild.objects.of(request.membership).with_all(), code=code)


def station_or_404(request: HouseRequest, stations: Sequence[Station]) -> Station:
    """The station named in the address, else the first."""
    wanted = request.GET.get("station")
    for station in stations:
        if wanted in (None, station.slug):
            return station
    raise Http404


def page_or_404(request: HouseRequest, rows: Sequence[Row], at_once: int) -> Page[Row]:
    """The page of a long list that `?page=` names, else the first."""
    number = number_or_404(request.GET.get("page", "1"))
    try:
        return Paginator(rows, at_once).page(number)
    except InvalidPage:
        raise Http404 from None


def number_or_404(said: str) -> int:
    """A whole number as an address or a form carries it; nobody counts to five digits here."""
    if not (said.isascii() and said.isdecimal() and len(said) <= 4):
        raise Http404
    return int(said)
