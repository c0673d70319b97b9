"""What leaves the house book for other programs: every recipe as a sheet, one drink as data."""

from __future__ import annotations

import json

from django.http import Http404, HttpResponse
from django.utils import timezone

from barcourse.people.access import HouseRequest, member
from barcourse.people.roles import May
from recipes.exporting import recipes_sheet
from recipes.grammar.reasons import CannotBuild
from recipes.menu import drink_of
from recipes.recipe_data import recipe_data
from recipes.views.finding import menu_or_404, recipe_or_404


@member(May.SEE_BOOK)
def book_export(request: HouseRequest) -> HttpResponse:
    """With a byte-order mark: spreadsheets take the text for another encoding without it."""
    at = timezone.now()
    sheet = recipes_sheet(request.venue, at).encode("utf-8-sig")
    answer = HttpResponse(sheet, content_type="text/csv; charset=utf-8")
    name = f"{request.venue.slug}-{request.venue.business_day(at)}.csv"
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer


@member(May.SEE_BOOK)
def drink_data(request: HouseRequest, slug: str) -> HttpResponse:
    """The drink as a schema.org Recipe. 404 where today's rules can't build it."""
    recipe, menu = recipe_or_404(request, slug), menu_or_404(request)
    try:
        item = drink_of(menu, recipe)
    except (CannotBuild, LookupError):
        raise Http404 from None
    said = json.dumps(recipe_data(item, menu), ensure_ascii=False, indent=2)
    return HttpResponse(said, content_type="application/ld+json")
