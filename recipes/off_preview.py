"""What would be served tonight if a bottle were said to be out, before anybody says it."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from django.db import transaction

from barcourse.people.models import Membership
from recipes import off_words, publish_off
from recipes.allergen_sheet import LabelSheet, label_sheet
from recipes.grammar.stand_ins import Nearness, nearness
from recipes.menu import MenuDrink
from recipes.models import Ingredient
from recipes.off_tonight import OffDrink, Tonight, standing
from recipes.words_tonight import another_kind


@dataclass(frozen=True)
class OffPreview:
    """`warning` is empty where the two are near each other. `label` is what the house knows of the
    allergens in what stands in."""

    title: str
    warning: str
    poured: str
    taken_off: str
    changed: tuple[off_words.ChangedSheet, ...]
    off: tuple[off_words.OffSheet, ...]
    label: LabelSheet


def preview(
    *, by: Membership, tonight: Tonight, out: Ingredient, use: Ingredient, at: dt.datetime
) -> OffPreview:
    """Raises `CannotBuild` where it can't be said like this. Nothing stays written."""
    after = rehearse(by=by, tonight=tonight, out=out, use=use, at=at)
    met = touched(tonight, after)
    changed = [served for served in met if isinstance(served, MenuDrink)]
    off = [served for served in met if isinstance(served, OffDrink)]
    far = nearness(out.facts(), use.facts()) is Nearness.ANOTHER
    return OffPreview(
        title=off_words.instead(out.facts(), use.facts()),
        warning=another_kind(out.facts(), use.facts()) if far else "",
        poured=off_words.named([item.drink.name for item in changed], most=len(changed)),
        taken_off=off_words.named([drink.item.drink.name for drink in off], most=len(off)),
        changed=tuple(off_words.changed_sheet(item, after) for item in changed),
        off=tuple(off_words.off_sheet(item, after) for item in off),
        label=label_sheet(use, stands_in=True),
    )


def rehearse(
    *, by: Membership, tonight: Tonight, out: Ingredient, use: Ingredient, at: dt.datetime
) -> Tonight:
    with transaction.atomic():
        publish_off.say_bottle_out(by=by, ingredient=out, substitute=use, at=at)
        rows = standing(by.venue)
        transaction.set_rollback(True)
    return Tonight(tonight.menu, rows)


def touched(before: Tonight, after: Tonight) -> tuple[MenuDrink | OffDrink, ...]:
    """Drinks that are served otherwise after it than before, as they are served then."""
    met = []
    for item in after.menu.items:
        then, now = before.serve(item), after.serve(item)
        if _served(then) != _served(now):
            met.append(now)
    return tuple(met)


def _served(drink: MenuDrink | OffDrink) -> object:
    return drink.why if isinstance(drink, OffDrink) else drink.drink.spec
