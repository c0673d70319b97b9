"""The stock of the house as it is read, and what a change to it would do to drinks."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from django.db import transaction
from django.utils.formats import date_format, number_format
from django.utils.timezone import localtime
from django.utils.translation import gettext as _

from barcourse.people.models import Venue
from recipes.cost_sheet import money_words
from recipes.grammar.aspects import Aspect
from recipes.grammar.ingredients import Kind, Step
from recipes.grammar.strength import strength
from recipes.menu import Menu, menu_at
from recipes.models import Ingredient
from recipes.shelves import plain
from recipes.wording import allergen_words, label


@dataclass(frozen=True)
class StockLine:
    row: Ingredient
    note: str
    said: str


@dataclass(frozen=True)
class StockShelf:
    kind: str
    lines: tuple[StockLine, ...]


@dataclass(frozen=True)
class DrinkChange:
    """What would be otherwise in one drink, in words; `before` and `after` are strengths."""

    name: str
    before: str
    after: str
    aspects: str


def stock(venue: Venue, currency: str, find: str = "") -> list[StockShelf]:
    """By kind in the grammar's order, by name in it; with `find` only what answers to it."""
    of: dict[str, list[StockLine]] = defaultdict(list)
    rows = list(Ingredient.objects.in_house(venue).with_checker().by_name())
    names = {row.slug: row.name for row in rows}
    for row in rows:
        if any(plain(find) in plain(name) for name in (row.name, *row.aliases)):
            note = _note(row, currency, names)
            of[row.kind].append(StockLine(row, note, label_words(row)))
    return [StockShelf(label(kind), tuple(of[kind.value])) for kind in Kind if of[kind.value]]


def label_words(row: Ingredient) -> str:
    """Who read the label and when; or that nobody of the house has."""
    if row.checked_by is None or row.checked_at is None:
        return _("label not read")
    told = {"who": row.checked_by.name, "day": date_format(localtime(row.checked_at))}
    if row.label_is_older:
        return _("label of the bottle before read by %(who)s, %(day)s") % told
    return _("label read by %(who)s, %(day)s") % told


def allergens_said(row: Ingredient) -> str:
    """What may be said of it. That none have been entered is said only where somebody read the
    label. Of another bottle than the one that was read, that it is unread comes first."""
    said = allergen_words(None if row.allergens is None else tuple(row.allergens))
    if row.checked_by_id is None:
        unknown = allergen_words(None)
        told = {"said": said, "unknown": unknown}
        return _("%(said)s %(unknown)s") % told if row.allergens else unknown
    if not row.label_is_older:
        return said
    unread = _("It is another bottle now, and nobody has read its label: fetch the manager.")
    return _("%(unread)s Of the bottle before: %(said)s") % {"unread": unread, "said": said}


def drinks_changed(
    venue: Venue, at: dt.datetime, change: Callable[[], object]
) -> list[DrinkChange]:
    """The poured drinks whose strength or build would be otherwise; nothing stays written. What
    `change` raises comes through."""
    before = menu_at(venue, at)
    with transaction.atomic():
        change()
        after = menu_at(venue, at)
        transaction.set_rollback(True)
    found = (_changed(slug, before, after) for slug in after.by_slug)
    return [change for change in found if change]


def _changed(slug: str, before: Menu, after: Menu) -> DrinkChange | None:
    if slug not in before.by_slug:
        return None
    then, now = before.by_slug[slug].drink, after.by_slug[slug].drink
    aspects = [a for a in Aspect if then.fingerprints[a] != now.fingerprints[a]]
    weak, strong = _abv(before, slug), _abv(after, slug)
    if weak == strong and not aspects:
        return None
    return DrinkChange(now.name, weak, strong, ", ".join(label(a) for a in aspects))


def _abv(menu: Menu, slug: str) -> str:
    found = strength(menu.by_slug[slug].drink.spec, menu.pantry, menu.venue.country)
    return _("%(n)s %%") % {"n": number_format(f"{found.abv_percent:.1f}")}


def _note(row: Ingredient, currency: str, names: Mapping[str, str]) -> str:
    said = []
    if row.bottle_of:
        told = {"step": label(Step(row.step)), "item": names.get(row.bottle_of, row.bottle_of)}
        said.append(_("%(step)s, a bottle of %(item)s") % told)
    if row.abv:
        said.append(_("%(n)s %%") % {"n": number_format(f"{row.abv:g}")})
    if row.bottle_ml:
        said.append(_("%(n)s ml") % {"n": number_format(f"{row.bottle_ml:g}")})
    if row.bottle_price is not None:
        said.append(money_words(row.bottle_price, currency))
    return ", ".join(said)
