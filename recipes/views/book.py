"""The house book: its modules and drinks, and which of them are poured."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes import shelves
from recipes.based_on import WAS, meet, read_was, write_was
from recipes.grammar.reasons import CannotBuild
from recipes.menu_words import changed_words, overtaken_words, standing_words
from recipes.models import Recipe
from recipes.publish import OnMenu, set_menu, standing_of
from recipes.saying import sentences
from recipes.views.finding import menu_or_404
from recipes.views.meeting import hold_where_sent

QUICK: dict[str, Callable[[Mapping[str, OnMenu]], dict[str, OnMenu]]] = {
    "must_knows": shelves.only_must_knows,
    "everything": shelves.everything,
    "clear": shelves.nothing,
}
"""What the quick ways make of the marks on the form. Clearing saves nothing."""


@member(May.SEE_BOOK)
def book(request: HouseRequest) -> HttpResponse:
    find = request.GET.get("find", "").strip()[:80]
    found = shelves.shelves(request.venue, timezone.now(), find)
    near = shelves.nearly(request.venue, find) if find and not found else []
    return render(request, "recipes/book.html", {"find": find, "shelves": found, "near": near})


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def menu_marks(request: HouseRequest) -> HttpResponse:
    """One form for the whole menu. The quick ways start from the marks as the form has them."""
    hold_where_sent(request)
    shown = shelves.shelves(request.venue, timezone.now())
    recipes = [recipe for shelf in shown for recipe in shelf.here]
    names = {recipe.slug: recipe.name for recipe in recipes}
    marks = stands = {recipe.slug: standing_of(recipe) for recipe in recipes}
    wrong: list[str] = []
    if request.method == "POST":
        try:
            marks = shelves.read_marks(request.POST, recipes)
        except shelves.NotAStanding as bad:
            wrong = [_("%(drink)s: choose one of the three.") % {"drink": bad}]
        met = meet(_marks_then(request), stands, marks)
        marks = met.kept
        wrong += [overtaken_words(names[slug], stands[slug], marks[slug]) for slug in met.clashes]
        quick = request.POST.get("quick", "")
        marks = QUICK.get(quick, dict)(marks)
        if quick != "clear" and not wrong:
            wrong = _save(request, marks, names)
            if not wrong:
                return redirect("menu_marks", house=request.venue.slug)
    was = write_was({slug: (mark.value,) for slug, mark in stands.items()})
    context = {"shelves": _marked(shown, marks), "wrong": wrong, "was": was}
    return render(request, "recipes/menu_marks.html", context)


def _marks_then(request: HouseRequest) -> dict[str, OnMenu]:
    """How the menu stood when the form was opened, as far as it says."""
    known = {way.value: way for way in OnMenu}
    said = read_was(request.POST.get(WAS, ""))
    return {slug: known[some[0]] for slug, some in said.items() if some and some[0] in known}


def _save(
    request: HouseRequest, marks: Mapping[str, OnMenu], names: Mapping[str, str]
) -> list[str]:
    """Set the menu and say what changed; or say why not."""
    if all(mark is OnMenu.OFF for mark in marks.values()):
        return [_("Leave at least one drink on the menu.")]
    try:
        changed = set_menu(by=request.membership, standing=marks, at=timezone.now())
    except CannotBuild as bad:
        return sentences(bad.reasons, menu_or_404(request), names)
    messages.success(request, changed_words(changed))
    return []


def _marked(shown: list[shelves.Shelf], marks: Mapping[str, OnMenu]) -> list[dict[str, object]]:
    """Shelves for the form: each drink with its field's name and the three choices."""
    return [
        {
            "module": shelf.module,
            "drinks": [_choices(recipe, marks[recipe.slug]) for recipe in shelf.here],
            "poured": sum(marks[r.slug] is not OnMenu.OFF for r in shelf.here),
            "must_know": sum(marks[r.slug] is OnMenu.MUST_KNOW for r in shelf.here),
        }
        for shelf in shown
        if shelf.here
    ]


def _choices(recipe: Recipe, mark: OnMenu) -> dict[str, object]:
    return {
        "name": recipe.name,
        "field": shelves.field_name(recipe),
        "choices": [(way.value, standing_words(way), way is mark) for way in OnMenu],
    }
