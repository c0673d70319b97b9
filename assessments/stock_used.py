"""Stock that went into training, for the count: builds and pour checks not made with water."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from assessments.models import PourCheck, WatchedBuild
from assessments.slips import slips_since
from barcourse.people.models import Venue
from recipes.grammar.house_spec import HousePart, HouseSpec
from recipes.grammar.ingredients import Kind, Pantry
from recipes.grammar.spec import Method
from recipes.menu import Menu, pantry_of, resolve_all

_KEGS = frozenset({Kind.BEER, Kind.CIDER})


class Served(StrEnum):
    """How it is counted: poured from a bottle, drawn from a keg, or in pieces as it was opened."""

    POURED = "poured"
    DRAWN = "drawn"
    OPENED = "opened"


@dataclass(frozen=True)
class Used:
    """What went of one ingredient: millilitres, and of bottles where their size is known; of what
    is served in its bottle or can so many `pieces` of the book's glass `piece`."""

    name: str
    served: Served
    ml: float = 0.0
    bottles: float | None = None
    pieces: int = 0
    piece: str = ""


Key = tuple[str, Served, str]
"""Ingredient, how it is counted, and the glass that is counted."""


def used_since(venue: Venue, since: dt.datetime, menu: Menu) -> list[Used]:
    """What is opened first, then most first. Voided builds used their stock all the same; a slip
    of the thumb used none, what was made is put on record after it. Mixers count by the room that
    they fill; garnish and ice are not counted."""
    total: dict[Key, float] = defaultdict(float)
    pantry = pantry_of(venue)
    slipped = slips_since(venue, since)
    builds = WatchedBuild.objects.in_house(venue).with_stock_since(since)
    for build in builds.exclude(void__in=slipped):
        rules = build.rules_version.house_rules
        for item in resolve_all([(build.recipe, build.revision)], rules, pantry):
            for key, amount in _used(item.drink.spec, pantry):
                total[key] += amount
    for check in PourCheck.objects.in_house(venue).with_stock_since(since):
        if check.ingredient:
            total[check.ingredient.slug, Served.POURED, ""] += sum(check.pours_ml)
    sizes = {i.slug: i.bottle_ml for i in venue.ingredients.all()}
    found = [_shown(key, amount, menu, sizes) for key, amount in total.items() if amount > 0]
    return sorted(found, key=lambda u: (-u.pieces, -u.ml, u.name))


def _used(spec: HouseSpec, pantry: Pantry) -> Iterator[tuple[Key, float]]:
    """Pieces of what is opened, millilitres of all else."""
    for part in spec.parts:
        if spec.method is Method.OPEN:
            yield (part.ingredient, Served.OPENED, spec.glass), 1.0
        else:
            yield (part.ingredient, _served(spec, part, pantry), ""), _ml(spec, part)


def _served(spec: HouseSpec, part: HousePart, pantry: Pantry) -> Served:
    draws = spec.method in (Method.DRAUGHT, Method.TWO_PART)
    return Served.DRAWN if draws and pantry[part.ingredient].kind in _KEGS else Served.POURED


def _ml(spec: HouseSpec, part: HousePart) -> float:
    return part.ml or spec.mixer_ml * part.share


def _shown(key: Key, amount: float, menu: Menu, sizes: dict[str, float | None]) -> Used:
    slug, served, glass = key
    name = menu.names.get(slug, slug)
    if served is Served.OPENED:
        return Used(name, served, pieces=round(amount), piece=menu.glass_names.get(glass, glass))
    size = sizes.get(slug) if served is Served.POURED else None
    return Used(name, served, ml=amount, bottles=amount / size if size else None)
