"""Getting the menu or a drink of this house, or 404. There is no other way to one here."""

from __future__ import annotations

import datetime as dt

from django.http import Http404
from django.shortcuts import get_object_or_404
from django.utils import timezone

from barcourse.people.access import HouseRequest
from recipes.menu import Menu, NoRules, menu_at
from recipes.models import Recipe


def menu_or_404(request: HouseRequest, at: dt.datetime | None = None) -> Menu:
    """The menu of a moment, now if none is said; 404 for a house whose course was never loaded."""
    try:
        return menu_at(request.venue, at or timezone.now())
    except NoRules:
        raise Http404 from None


def recipe_or_404(request: HouseRequest, slug: str) -> Recipe:
    recipes = Recipe.objects.in_house(request.venue).select_related("module", "venue")
    return get_object_or_404(recipes, slug=slug)
