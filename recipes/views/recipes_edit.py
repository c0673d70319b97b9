"""Drinks are added, copied, renamed, retired and brought back."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.reasons import Refused
from barcourse.people.roles import May
from recipes.forms.card import CardForm, NewCardForm, RetireForm
from recipes.forms.drink import DrinkForm
from recipes.grammar.reasons import CannotBuild
from recipes.menu import Menu
from recipes.models import Recipe
from recipes.proposed import sign_revision
from recipes.publish_recipes import (
    add_recipe,
    bring_back,
    change_card,
    retire,
    take_back_revision,
)
from recipes.rehearsal import as_built
from recipes.saying import sentences
from recipes.views.finding import menu_or_404, recipe_or_404
from recipes.views.meeting import hold_where_sent, reopened, say_saved
from recipes.views.overtaken import of_drink
from recipes.views.previewing import Shown, as_seen, preview_change, preview_new
from recipes.views.two_steps import put_refusals, seen_digest, wants_to_publish
from recipes.words_editing import beside, say


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def drink_new(request: HouseRequest) -> HttpResponse:
    """Type, look at the steps that come of it, add. `?like=` begins with the build of another."""
    menu = menu_or_404(request)
    like = _like(request)
    card, form = _forms_of_new(request, menu, like)
    context: Shown = {"card": card, "form": form, "like": like}
    if request.method == "POST" and card.is_valid() and form.is_valid():
        drinks = Recipe.objects.in_house(request.venue).count()
        try:
            with beside(card):
                if wants_to_publish(request.POST, drinks):
                    return _add(request, card, form)
                context |= preview_new(request, card, form)
                context["seen"] = seen_digest(request.POST, drinks)
        except CannotBuild as bad:
            put_refusals(form, bad.reasons, menu)
    return render(request, "recipes/drink_new.html", context)


@member(May.EDIT_BOOK, methods=SEND)
def drink_new_preview(request: HouseRequest) -> HttpResponse:
    """The fragment that follows the typing; nothing of it is kept."""
    menu = menu_or_404(request)
    card, form = _forms_of_new(request, menu, None)
    context: Shown = {"form": form, "fragment": True}
    if form.is_valid():
        try:
            context |= _new_while_typing(request, menu, card, form)
        except CannotBuild as bad:
            context["why_not"] = sentences(bad.reasons, menu)
        except Refused as no:
            context["why_not"] = [say(no.reason)]
    return render(request, "recipes/drink_preview.html", context)


@member(May.EDIT_BOOK, methods=SEND)
def drink_preview(request: HouseRequest, slug: str) -> HttpResponse:
    """The fragment that follows the typing; nothing of it is kept."""
    recipe, menu = recipe_or_404(request, slug), menu_or_404(request)
    form = DrinkForm(request.POST, menu=menu, build=None)
    rows = list(recipe.revisions.with_publisher())
    context: Shown = {"form": form, "recipe": recipe, "fragment": True}
    if form.is_valid():
        context["overtaken"] = of_drink(form, rows, recipe)
        try:
            context |= preview_change(request, recipe, form)
            context["seen"] = seen_digest(request.POST, len(rows))
            context["proposed"] = sign_revision(recipe, form.spec(), form.takes_effect)
        except CannotBuild as bad:
            context["why_not"] = sentences(bad.reasons, menu)
    return render(request, "recipes/drink_preview.html", context)


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def drink_card(request: HouseRequest, slug: str) -> HttpResponse:
    """Name, other names, module, share and price."""
    hold_where_sent(request)
    recipe, menu = recipe_or_404(request, slug), menu_or_404(request)
    form, since = reopened(request, CardForm, venue=request.venue, recipe=recipe)
    if request.method == "POST" and form.is_valid():
        try:
            with beside(form):
                change_card(
                    by=request.membership, recipe=recipe, card=form.card(), at=timezone.now()
                )
                say_saved(request, _("The card is saved."), since)
                return redirect("drink", house=request.venue.slug, slug=recipe.slug)
        except CannotBuild as bad:
            form.add_error("module", sentences(bad.reasons, menu))
    context = {"recipe": recipe, "form": form, "since": since}
    return render(request, "recipes/drink_card.html", context)


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def drink_retire(request: HouseRequest, slug: str) -> HttpResponse:
    recipe = recipe_or_404(request, slug)
    form = RetireForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        with beside(form):
            row = retire(
                by=request.membership, recipe=recipe, at=timezone.now(), retires_at=form.moment
            )
            messages.success(request, _retired(row))
            return redirect("drink", house=request.venue.slug, slug=recipe.slug)
    return render(request, "recipes/drink_retire.html", {"recipe": recipe, "form": form})


@member(May.EDIT_BOOK, methods=SEND)
def drink_bring_back(request: HouseRequest, slug: str) -> HttpResponse:
    recipe, menu = recipe_or_404(request, slug), menu_or_404(request)
    was_gone = recipe.is_retired(menu.at)
    try:
        row = bring_back(by=request.membership, recipe=recipe, at=timezone.now())
        messages.success(request, _back(row, was_gone=was_gone))
    except Refused as no:
        messages.error(request, say(no.reason))
    except CannotBuild as bad:
        for sentence in sentences(bad.reasons, menu):
            messages.error(request, sentence)
    return redirect("drink", house=request.venue.slug, slug=recipe.slug)


@member(May.EDIT_BOOK, methods=SEND)
def drink_take_back(request: HouseRequest, slug: str) -> HttpResponse:
    """A revision that waits, by its number."""
    recipe, menu = recipe_or_404(request, slug), menu_or_404(request)
    said = request.POST.get("number", "")
    number = int(said) if said.isdecimal() and len(said) < 7 else 0
    try:
        take_back_revision(by=request.membership, recipe=recipe, number=number, at=timezone.now())
        told = {"drink": recipe.name, "number": number}
        messages.success(request, _("%(drink)s: number %(number)s is taken back.") % told)
    except Refused as no:
        messages.error(request, say(no.reason))
    except CannotBuild as bad:
        for sentence in sentences(bad.reasons, menu):
            messages.error(request, sentence)
    return redirect("drink", house=request.venue.slug, slug=recipe.slug)


def _like(request: HouseRequest) -> Recipe | None:
    slug = request.GET.get("like", "")
    return recipe_or_404(request, slug) if slug else None


def _forms_of_new(
    request: HouseRequest, menu: Menu, like: Recipe | None
) -> tuple[NewCardForm, DrinkForm]:
    typed = request.POST or None
    holding = like and like.revisions.in_effect(menu.at).newest_first().first()
    begun = {"module": like.module.slug, "share": f"{like.share:g}"} if like else {}
    card = NewCardForm(typed, venue=request.venue, initial=begun)
    return card, DrinkForm(typed, menu=menu, build=holding.build if holding else None)


def _new_while_typing(
    request: HouseRequest, menu: Menu, card: NewCardForm, form: DrinkForm
) -> Shown:
    """The build alone while the card isn't complete; else what adding it would do."""
    if card.is_valid():
        drinks = Recipe.objects.in_house(request.venue).count()
        shown = preview_new(request, card, form)
        return {**shown, "adding": True, "seen": seen_digest(request.POST, drinks)}
    module = card.cleaned_data.get("module")
    alcohol = module.alcohol if module else True
    item = as_built(form.spec(), menu, alcohol_module=alcohol)
    return as_seen(item, menu, card.cleaned_data.get("price"))


def _add(request: HouseRequest, card: NewCardForm, form: DrinkForm) -> HttpResponse:
    recipe = add_recipe(
        by=request.membership,
        card=card.card(),
        spec=form.spec(),
        at=timezone.now(),
        takes_effect_at=form.takes_effect,
        must_know=card.cleaned_data["must_know"],
    )
    if form.takes_effect:
        when = date_format(timezone.localtime(form.takes_effect), "DATETIME_FORMAT")
        told = {"drink": recipe.name, "when": when}
        messages.success(request, _("%(drink)s is added; from %(when)s it is poured.") % told)
    else:
        messages.success(request, _("%(drink)s is added and poured.") % {"drink": recipe.name})
    return redirect("drink", house=request.venue.slug, slug=recipe.slug)


def _back(recipe: Recipe, *, was_gone: bool) -> str:
    if not recipe.is_poured:
        said = _("%(drink)s stays in the book, off the menu.")
    elif was_gone:
        said = _("%(drink)s is on the menu again.")
    else:
        said = _("%(drink)s stays on the menu.")
    return said % {"drink": recipe.name}


def _retired(recipe: Recipe) -> str:
    told = {"drink": recipe.name}
    if recipe.is_retired(timezone.now()):
        return _("%(drink)s has left the menu. What is on record of it stays.") % told
    when = timezone.localtime(recipe.retires_at)
    told["when"] = date_format(when, "DATETIME_FORMAT")
    return _("On %(when)s %(drink)s leaves the menu.") % told
