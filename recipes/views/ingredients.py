"""What the house stocks: read, added, changed, its labels read, removed."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from barcourse.people import log
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.reasons import Refused
from barcourse.people.roles import May
from recipes import publish_ingredients as publish
from recipes import stock
from recipes.based_on import Since
from recipes.cost_sheet import currency_of
from recipes.forms.ingredient import IngredientForm, LabelForm
from recipes.grammar.reasons import CannotBuild
from recipes.menu import Menu
from recipes.models import Ingredient, Recipe
from recipes.saying import sentences
from recipes.uses import drinks_with
from recipes.views.finding import menu_or_404
from recipes.views.meeting import hold_where_sent, reopened, say_saved
from recipes.views.two_steps import seen_digest, wants_to_publish
from recipes.words_editing import beside, say


@member(May.SEE_BOOK)
def ingredients(request: HouseRequest) -> HttpResponse:
    find = request.GET.get("find", "").strip()[:80]
    shelves = stock.stock(request.venue, currency_of(menu_or_404(request)), find)
    return render(request, "recipes/ingredients.html", {"find": find, "shelves": shelves})


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def ingredient_new(request: HouseRequest) -> HttpResponse:
    form = IngredientForm(request.POST or None, menu=menu_or_404(request))
    if request.method == "POST" and form.is_valid():
        with beside(form):
            row = publish.add_ingredient(
                by=request.membership, stock=form.stock(), at=timezone.now()
            )
            messages.success(request, _("%(item)s is in the stock.") % {"item": row.name})
            return redirect("ingredient", house=request.venue.slug, ingredient=row.slug)
    return render(request, "recipes/ingredient_new.html", {"form": form})


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def ingredient(request: HouseRequest, ingredient: str) -> HttpResponse:
    """Type; where drinks would change, see which; save."""
    hold_where_sent(request)
    row, menu = _row(request, ingredient), menu_or_404(request)
    form, since = reopened(request, IngredientForm, menu=menu, row=row)
    context: dict[str, object] = {
        "row": row,
        "form": form,
        "since": since,
        "label": stock.label_words(row),
        "allergens": stock.allergens_said(row),
        "drinks": drinks_with(request.venue, row.slug, menu.at),
    }
    if request.method == "POST" and form.is_valid():
        seen = log.head(request.venue).number
        try:
            with beside(form):
                changes = _changes(request, row, form)
                if not changes or wants_to_publish(form.data, seen):
                    return _save(request, row, form, since)
                context |= {"changes": changes, "seen": seen_digest(form.data, seen)}
        except CannotBuild as bad:
            form.add_error(None, _sentences(request, bad, menu))
    return render(request, "recipes/ingredient.html", context)


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def ingredient_label(request: HouseRequest, ingredient: str) -> HttpResponse:
    row = _row(request, ingredient)
    form = LabelForm(request.POST or None, row=row)
    if request.method == "POST" and form.is_valid():
        with beside(form):
            publish.read_label(
                by=request.membership,
                ingredient=row,
                allergens=form.cleaned_data["allergens"],
                at=timezone.now(),
            )
            messages.success(request, _("Noted, with your name and today's date."))
            return redirect("ingredient", house=request.venue.slug, ingredient=row.slug)
    context = {"row": row, "form": form, "label": stock.label_words(row)}
    return render(request, "recipes/ingredient_label.html", context)


@member(May.EDIT_BOOK, methods=SEND)
def ingredient_remove(request: HouseRequest, ingredient: str) -> HttpResponse:
    row = _row(request, ingredient)
    try:
        publish.remove_ingredient(by=request.membership, ingredient=row, at=timezone.now())
    except Refused as no:
        messages.error(request, say(no.reason))
        return redirect("ingredient", house=request.venue.slug, ingredient=row.slug)
    messages.success(request, _("%(item)s is gone from the stock.") % {"item": row.name})
    return redirect("ingredients", house=request.venue.slug)


def _row(request: HouseRequest, slug: str) -> Ingredient:
    stocked = Ingredient.objects.in_house(request.venue).with_checker()
    return get_object_or_404(stocked, slug=slug)


def _changes(
    request: HouseRequest, row: Ingredient, form: IngredientForm
) -> list[stock.DrinkChange]:
    at = timezone.now()

    def change() -> object:
        return publish.change_ingredient(
            by=request.membership,
            ingredient=row,
            stock=form.stock(),
            at=at,
            another_bottle=form.cleaned_data["another_bottle"],
        )

    return stock.drinks_changed(request.venue, at, change)


def _save(
    request: HouseRequest, row: Ingredient, form: IngredientForm, since: Since | None
) -> HttpResponse:
    changed = publish.change_ingredient(
        by=request.membership,
        ingredient=row,
        stock=form.stock(),
        at=timezone.now(),
        another_bottle=form.cleaned_data["another_bottle"],
    )
    said = _("Saved.") if changed else _("Nothing changed: it stood there like this already.")
    if "bottle_changed_at" in changed:
        said = _("Saved. It counts as another bottle: read its label, and say what it names.")
    say_saved(request, said, since)
    return redirect("ingredient", house=request.venue.slug, ingredient=row.slug)


def _sentences(request: HouseRequest, bad: CannotBuild, menu: Menu) -> list[str]:
    names = {recipe.slug: recipe.name for recipe in Recipe.objects.in_house(request.venue)}
    return sentences(bad.reasons, menu, names)
