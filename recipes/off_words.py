"""What is out tonight, in words: the slip that everybody sees, and the page behind it."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from django.utils.translation import gettext as _

from recipes.drink_sheet import Difference, differences
from recipes.menu import MenuDrink
from recipes.models import OffTonight
from recipes.off_tonight import OffDrink, Tonight, ingredients_of
from recipes.saying import sentences


@dataclass(frozen=True)
class OutSheet:
    """One thing that is out. `code` names it on the form that lifts it."""

    code: str
    said: str
    who: str
    at: dt.datetime


@dataclass(frozen=True)
class OffSheet:
    slug: str
    name: str
    why: tuple[str, ...]


@dataclass(frozen=True)
class ChangedSheet:
    """A drink that is built otherwise tonight, and how: `here` the book, `there` tonight."""

    slug: str
    name: str
    differences: tuple[Difference, ...]


def out_sheets(tonight: Tonight) -> list[OutSheet]:
    return [
        OutSheet(code_of(row), said_of(row, tonight), row.said_by.name, row.said_at)
        for row in tonight.rows
    ]


def code_of(row: OffTonight) -> str:
    return f"bottle:{row.ingredient.slug}" if row.ingredient else f"drink:{_drink(row)[0]}"


def name_of(row: OffTonight) -> str:
    return row.ingredient.name if row.ingredient else _drink(row)[1]


def said_of(row: OffTonight, tonight: Tonight) -> str:
    """ "gin is out: use vodka." """
    if row.ingredient is None:
        return _("%(drink)s is off.") % {"drink": _drink(row)[1]}
    told = {"bottle": row.ingredient.name, "use": row.substitute.name if row.substitute else ""}
    if row.substitute is None:
        return _("%(bottle)s is out; nothing stands in.") % told
    if tonight.swaps[row.ingredient.slug] is None:
        return _("%(bottle)s is out, and %(use)s, which stood in, is out too.") % told
    return _("%(bottle)s is out: use %(use)s.") % told


def off_sheets(tonight: Tonight) -> list[OffSheet]:
    return [off_sheet(off, tonight) for off in tonight.off]


def off_sheet(off: OffDrink, tonight: Tonight) -> OffSheet:
    drink = off.item.drink
    return OffSheet(drink.slug, drink.name, tuple(sentences(off.why, tonight.menu)))


def changed_sheets(tonight: Tonight) -> list[ChangedSheet]:
    return [changed_sheet(item, tonight) for item in tonight.changed]


def changed_sheet(served: MenuDrink, tonight: Tonight) -> ChangedSheet:
    book = tonight.menu.by_slug[served.drink.slug]
    found = differences(book, served, tonight.menu)
    return ChangedSheet(served.drink.slug, served.drink.name, found)


def swapped(book: MenuDrink, tonight: Tonight) -> list[str]:
    """For one drink: what of it is out and what is used or left off instead."""
    used = ingredients_of(book.drink.spec)
    names = tonight.menu.names
    said = []
    for slug, use in tonight.swaps.items():
        if slug in used:
            told = {"bottle": names[slug], "use": names[use] if use else ""}
            text = _("%(use)s instead of %(bottle)s") if use else _("without %(bottle)s")
            said.append(text % told)
    return said


def line_of(item: MenuDrink, tonight: Tonight) -> str:
    """One line about a drink for a paper: "Gimlet: off tonight." Empty where nothing is out."""
    served = tonight.serve(item)
    if served is item:
        return ""
    off = isinstance(served, OffDrink)
    said = _("off tonight") if off else "; ".join(swapped(item, tonight))
    return _("%(drink)s: %(said)s.") % {"drink": item.drink.name, "said": said}


def _drink(row: OffTonight) -> tuple[str, str]:
    return (row.recipe.slug, row.recipe.name) if row.recipe else ("", "")
