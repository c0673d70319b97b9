"""Stock that went into training, for the count: builds and pour checks not made with water."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from dataclasses import dataclass

from assessments.models import PourCheck, WatchedBuild
from barcourse.people.models import Venue
from recipes.menu import Menu, pantry_of, resolve_all


@dataclass(frozen=True)
class Used:
    """What went of one ingredient, in millilitres, and of bottles where their size is known."""

    name: str
    ml: float
    bottles: float | None


def used_since(venue: Venue, since: dt.datetime, menu: Menu) -> list[Used]:
    """Most first. Voided builds used their stock all the same. Mixers count by the room that they
    fill; garnish and ice are not counted."""
    total: dict[str, float] = defaultdict(float)
    builds = WatchedBuild.objects.in_house(venue).with_stock_since(since)
    pantry = pantry_of(venue)
    for build in builds:
        rules = build.rules_version.house_rules
        for item in resolve_all([(build.recipe, build.revision)], rules, pantry):
            for part in item.drink.spec.parts:
                room = item.drink.spec.mixer_ml * part.share
                total[part.ingredient] += part.ml or room
    for check in PourCheck.objects.in_house(venue).with_stock_since(since):
        if check.ingredient:
            total[check.ingredient.slug] += sum(check.pours_ml)
    sizes = {i.slug: i.bottle_ml for i in venue.ingredients.all()}
    found = [
        Used(menu.names.get(s, s), ml, ml / size if (size := sizes.get(s)) else None)
        for s, ml in total.items()
        if ml > 0
    ]
    return sorted(found, key=lambda u: -u.ml)
