"""Any two revisions of a drink, side by side."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.shortcuts import render

from barcourse.people.access import HouseRequest, member
from barcourse.people.roles import May
from recipes import comparing
from recipes.forms.compare import THEN, CompareForm
from recipes.views.finding import menu_or_404, recipe_or_404


@member(May.SEE_BOOK)
def drink_compare(request: HouseRequest, slug: str) -> HttpResponse:
    """`?a=1&b=3&rules=then`; a revision that there isn't is said beside its field."""
    recipe, menu = recipe_or_404(request, slug), menu_or_404(request)
    revisions = list(recipe.revisions.with_publisher().newest_first())
    for row in revisions:
        row.recipe = recipe  # saves asking for it, and for its module, once more
    if not revisions:
        raise Http404
    form = CompareForm(request.GET, revisions=revisions)
    context: dict[str, object] = {"recipe": recipe, "form": form}
    if form.is_valid():
        said, by_number = form.cleaned_data, {row.number: row for row in revisions}
        left, right = (
            comparing.side(
                by_number[said[name]],
                menu,
                under_rules_of_then=said["rules"] == THEN,
                mark=name,
            )
            for name in ("a", "b")
        )
        found = comparing.pairs(left, right)
        differing = sum(pair.differs for pair in found)
        context |= {"sides": (left, right), "pairs": found, "differing": differing}
    return render(request, "recipes/drink_compare.html", context)
