"""One drink of the house book, and a new revision of it."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes import drink_sheet
from recipes.cost_sheet import cost_sheet
from recipes.forms.drink import DrinkForm
from recipes.grammar.reasons import CannotBuild
from recipes.in_effect import holding_at, waiting
from recipes.menu import Menu, drink_of
from recipes.models import Recipe, Revision
from recipes.publish import publish_revision
from recipes.saying import sentences
from recipes.views.finding import menu_or_404, recipe_or_404
from recipes.views.overtaken import joined, of_drink, opened
from recipes.views.previewing import preview_change
from recipes.views.two_steps import put_refusals, seen_digest, wants_to_publish


@member(May.SEE_BOOK)
def drink(request: HouseRequest, slug: str) -> HttpResponse:
    recipe, menu = recipe_or_404(request, slug), menu_or_404(request)
    context = {
        "recipe": recipe,
        "menu": menu,
        "revisions": drink_sheet.revisions(recipe, menu.at),
        "retired": recipe.is_retired(menu.at),
        **_build(menu, recipe),
    }
    if "item" not in context:
        context |= _to_come(request, recipe, menu)
    return render(request, "recipes/drink.html", context)


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def drink_change(request: HouseRequest, slug: str) -> HttpResponse:
    """Type, look at the steps that come of it, publish. Whoever was overtaken by a colleague sees
    what was published meanwhile first, and may take it over."""
    recipe, menu = recipe_or_404(request, slug), menu_or_404(request)
    rows = list(recipe.revisions.with_publisher())
    holding = holding_at(rows, menu.at)
    sent = _joined(request, menu, rows) if "onto" in request.POST else request.POST
    form = DrinkForm(sent or None, menu=menu, build=holding.build if holding else None)
    context: dict[str, object] = {
        "recipe": recipe,
        "form": form,
        "opened": opened(form.data, len(rows)),
    }
    if request.method == "POST" and form.is_valid():
        context["overtaken"] = of_drink(form, rows, recipe)
        try:
            if wants_to_publish(form.data, len(rows)):
                return _publish(request, recipe, form)
            context |= preview_change(request, recipe, form)
            context["seen"] = seen_digest(form.data, len(rows))
        except CannotBuild as bad:
            put_refusals(form, bad.reasons, menu)
    return render(request, "recipes/drink_change.html", context)


def _joined(request: HouseRequest, menu: Menu, rows: list[Revision]) -> QueryDict:
    known = opened(request.POST, len(rows))
    base = holding_at([row for row in rows if row.number <= known], menu.at)
    newest = max(rows, key=lambda row: row.number, default=None)
    if base is None or newest is None:
        return request.POST
    then, now = (DrinkForm(menu=menu, build=row.build) for row in (base, newest))
    return joined(request.POST, then, now, len(rows))


def _to_come(request: HouseRequest, recipe: Recipe, menu: Menu) -> dict[str, object]:
    """A drink that counts only later is shown as it will be: whoever teaches it needs it now."""
    rows = list(recipe.revisions.all())
    coming = waiting(rows, menu.at)
    if not coming or holding_at(rows, menu.at):
        return {}
    when = coming[0].takes_effect_at
    then = menu_or_404(request, when)
    return {**_build(then, recipe), "menu": then, "counts_from": when}


def _build(menu: Menu, recipe: Recipe) -> dict[str, object]:
    """What the book says of how the drink is built; or why today's rules can't build it."""
    try:
        item = drink_of(menu, recipe)
    except CannotBuild as bad:
        return {"why_not": sentences(bad.reasons, menu)}
    except LookupError:
        return {"why_not": [_("No revision of this drink has taken effect yet.")]}
    return {
        "item": item,
        "off_measure": drink_sheet.off_measure(item, menu),
        "on_the_list": drink_sheet.on_the_list(item),
        "aspects": drink_sheet.aspects(item, menu),
        "steps": drink_sheet.steps(item, menu),
        "cost": cost_sheet(item.drink.spec, menu, recipe.price),
        "alike": drink_sheet.alike(item, menu),
        "twins": drink_sheet.same_as(item, menu),
    }


def _publish(request: HouseRequest, recipe: Recipe, form: DrinkForm) -> HttpResponse:
    revision = publish_revision(
        by=request.membership,
        recipe=recipe,
        spec=form.spec(),
        at=timezone.now(),
        takes_effect_at=form.takes_effect,
    )
    messages.success(request, _published(revision, recipe))
    return redirect("drink", house=request.venue.slug, slug=recipe.slug)


def _published(revision: Revision, recipe: Recipe) -> str:
    told = {"drink": recipe.name, "number": revision.number}
    if revision.takes_effect_at == revision.published_at:
        return _("%(drink)s: revision %(number)s is published and counts from now.") % told
    told["when"] = date_format(timezone.localtime(revision.takes_effect_at), "DATETIME_FORMAT")
    return _("%(drink)s: revision %(number)s is published; from %(when)s it counts.") % told
