"""Allergens at the bar: two taps from anywhere, for whoever is asked by a guest."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.shortcuts import render

from barcourse.people.access import HouseRequest, member
from barcourse.people.roles import May
from recipes import allergen_sheet as sheet
from recipes.off_tonight import Tonight, standing
from recipes.shelves import plain
from recipes.views.finding import menu_or_404


@member(May.LEARN)
def allergens(request: HouseRequest) -> HttpResponse:
    """`?find=` a drink or an ingredient, `?drink=` one drink, `?allergen=` one allergen."""
    tonight = Tonight(menu_or_404(request), standing(request.venue))
    rows = sheet.stock(request.venue)
    choices = sheet.choices(request.venue.country, rows)
    find = request.GET.get("find", "").strip()[:80]
    context: dict[str, object] = {
        "find": find,
        "choices": choices,
        "law": sheet.law_words(request.venue.country),
    }
    if slug := request.GET.get("drink"):
        context["drink"] = _drink(slug, tonight, rows)
    elif slug := request.GET.get("allergen"):
        if slug not in dict(choices):
            raise Http404
        context |= {"allergen": sheet.by_allergen(slug, tonight, rows), "chosen": slug}
    elif find:
        context |= _found(find, tonight, rows)
        context["by_allergen"] = sheet.allergens_found(choices, find)
    return render(request, "recipes/allergens.html", context)


def _drink(slug: str, tonight: Tonight, rows: sheet.Stock) -> sheet.DrinkLabels:
    if slug not in tonight.menu.by_slug:
        raise Http404
    return sheet.drink_labels(tonight.menu.by_slug[slug], tonight, rows)


def _found(find: str, tonight: Tonight, rows: sheet.Stock) -> dict[str, object]:
    """A drink found alone is shown at once."""
    drinks = sheet.drinks_found(tonight, find)
    items = sheet.ingredients_found(rows, tonight.menu.rules, find)
    exact = [item for item in drinks if plain(item.drink.name) == plain(find)]
    shown = exact or (drinks if not items else [])
    return {
        "drink": sheet.drink_labels(shown[0], tonight, rows) if len(shown) == 1 else None,
        "drinks": [item.drink for item in drinks if [item] != shown],
        "ingredients": [sheet.label_sheet(row) for row in items],
        "nothing": not drinks and not items,  # an allergen of that name is offered all the same
    }
