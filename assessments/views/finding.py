"""Getting a row of this house by its code or slug, or 404. There is no other way to one here."""

from __future__ import annotations

from django.http import Http404
from django.shortcuts import get_object_or_404
from django.utils import timezone

from assessments.models import Quiz, WatchedBuild
from barcourse.people.access import HouseRequest
from barcourse.people.models import Membership
from recipes.menu import Menu, MenuDrink, NoRules, menu_at
from recipes.models import Module


def menu_now(request: HouseRequest) -> Menu:
    """Today's menu; 404 for a house whose course was never loaded."""
    try:
        return menu_at(request.venue, timezone.now())
    except NoRules:
        raise Http404 from None


def module_or_404(request: HouseRequest, slug: str) -> Module:
    return get_object_or_404(Module.objects.in_house(request.venue), slug=slug)


def drink_or_404(menu: Menu, slug: str) -> MenuDrink:
    try:
        return menu.by_slug[slug]
    except KeyError:
        raise Http404 from None


def hire_or_404(request: HouseRequest, code: str) -> Membership:
    """Somebody of this house, here or gone: records of those who left stay readable."""
    people = Membership.objects.in_house(request.venue).select_related("person", "venue")
    return get_object_or_404(people, code=code)


def own_quiz_or_404(request: HouseRequest, code: str) -> Quiz:
    quizzes = Quiz.objects.of(request.membership).select_related("module", "venue")
    return get_object_or_404(quizzes, code=code)


def build_or_404(request: HouseRequest, code: str) -> WatchedBuild:
    builds = WatchedBuild.objects.in_house(request.venue).with_all()
    return get_object_or_404(builds, code=code)
