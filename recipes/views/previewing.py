"""How a drink would be built, before anything of it is saved: for the second step of publishing,
and for the fragment that follows the typing."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from barcourse.people.access import HouseRequest
from recipes import drink_sheet
from recipes.cost_sheet import cost_sheet
from recipes.forms.card import NewCardForm
from recipes.forms.drink import DrinkForm
from recipes.menu import Menu, MenuDrink, drink_of, menu_at
from recipes.models import Recipe, Revision
from recipes.proposed import sign_revision
from recipes.publish import publish_revision
from recipes.publish_recipes import add_recipe
from recipes.rehearsal import rehearse_drink

Shown = dict[str, object]


def preview_change(request: HouseRequest, recipe: Recipe, form: DrinkForm) -> Shown:
    """Raises `CannotBuild` where it could not be published like this."""
    at = timezone.now()

    def publish() -> Revision:
        return publish_revision(
            by=request.membership,
            recipe=recipe,
            spec=form.spec(),
            at=at,
            takes_effect_at=form.takes_effect,
        )

    menu, before, after = rehearse_drink(recipe, _moment(at, form), publish)
    differences = drink_sheet.differences(before, after, menu) if before else ()
    proposed = sign_revision(recipe, form.spec(), form.takes_effect)
    seen = as_seen(after, menu, recipe.price)
    rows = [*recipe.revisions.all(), after.revision]
    later = drink_sheet.changing(rows, _moment(at, form))
    return {**seen, "differences": differences, "proposed": proposed, "later": later}


def preview_new(request: HouseRequest, card: NewCardForm, form: DrinkForm) -> Shown:
    """Raises `CannotBuild` or `Refused` where it could not be added like this."""
    at = timezone.now()
    with transaction.atomic():
        recipe = add_recipe(
            by=request.membership,
            card=card.card(),
            spec=form.spec(),
            at=at,
            takes_effect_at=form.takes_effect,
            must_know=card.cleaned_data["must_know"],
        )
        menu = menu_at(request.venue, _moment(at, form))
        after = drink_of(menu, recipe)
        transaction.set_rollback(True)
    return as_seen(after, menu, recipe.price)


def as_seen(item: MenuDrink, menu: Menu, price: Decimal | None) -> Shown:
    return {
        "menu": menu,
        "preview": item,
        "aspects": drink_sheet.aspects(item, menu),
        "steps": drink_sheet.steps(item, menu),
        "strong": drink_sheet.strong(item, menu),
        "twins": drink_sheet.same_as(item, menu),
        "cost": cost_sheet(item.drink.spec, menu, price),
    }


def _moment(at: dt.datetime, form: DrinkForm) -> dt.datetime:
    return max(at, form.takes_effect or at)
