"""What is out tonight, in words: the slip that everybody sees, and the page behind it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from recipes.drink_sheet import Difference, differences
from recipes.grammar.ingredients import Ingredient, LiquorClass
from recipes.grammar.tonight import CODES
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


MOST_NAMED = 8
"""Drinks named in a sentence before the rest is only counted."""


@dataclass(frozen=True)
class OffSheet:
    """A drink that is off. `because` is what the house rules have against a substitute."""

    slug: str
    name: str
    why: tuple[str, ...]
    because: tuple[str, ...] = ()


@dataclass(frozen=True)
class ChangedSheet:
    """A drink that is built otherwise tonight, why, and how: `here` the book, `there` tonight."""

    slug: str
    name: str
    why: tuple[str, ...]
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
    plain = [reason for reason in off.why if reason.code in CODES]
    refused = [reason for reason in off.why if reason.code not in CODES]
    why = sentences(plain, tonight.menu)
    if refused:
        why += [unfit(out, use) for out, use in swaps_in(off.item, tonight) if use]
    because = tuple(sentences(refused, tonight.menu))
    return OffSheet(drink.slug, drink.name, tuple(why), because)


def changed_sheets(tonight: Tonight) -> list[ChangedSheet]:
    """Those that are changed for the same reason together, otherwise in the menu's order."""
    of: dict[tuple[str, ...], list[ChangedSheet]] = {}
    for item in tonight.changed:
        sheet = changed_sheet(item, tonight)
        of.setdefault(sheet.why, []).append(sheet)
    return [sheet for alike in of.values() for sheet in alike]


def changed_sheet(served: MenuDrink, tonight: Tonight) -> ChangedSheet:
    book = tonight.menu.by_slug[served.drink.slug]
    found = differences(book, served, tonight.menu)
    why = tuple(f"{instead(out, use)}." for out, use in swaps_in(book, tonight))
    return ChangedSheet(served.drink.slug, served.drink.name, why, found)


def swaps_in(book: MenuDrink, tonight: Tonight) -> list[tuple[Ingredient, Ingredient | None]]:
    """For one drink: each thing of it that is out, and what stands in for it."""
    used, pantry = ingredients_of(book.drink.spec), tonight.menu.pantry
    return [
        (pantry[slug], pantry[use] if use else None)
        for slug, use in tonight.swaps.items()
        if slug in used
    ]


def swapped(book: MenuDrink, tonight: Tonight) -> list[str]:
    """For one drink: what of it is out and what is used or left off instead, in a few words."""
    said = []
    for out, use in swaps_in(book, tonight):
        text = _("%(use)s instead of %(bottle)s") if use else _("without %(bottle)s")
        said.append(text % {"bottle": out.name, "use": use.name if use else ""})
    return said


def instead(out: Ingredient, use: Ingredient | None) -> str:
    """ "Vodka is out: poured with gin". What isn't poured is served with it."""
    if use is None:
        said = _("%(bottle)s is out: nothing stands in")
    elif out.liquor_class is LiquorClass.SOLID:
        said = _("%(bottle)s is out: served with %(use)s")
    else:
        said = _("%(bottle)s is out: poured with %(use)s")
    return _upper(said % {"bottle": out.name, "use": use.name if use else ""})


def would_stand_in(out: Ingredient, use: str) -> str:
    """For a drink that is off all the same."""
    said = _("%(bottle)s is out, and %(use)s would stand in.")
    return _upper(said % {"bottle": out.name, "use": use})


def unfit(out: Ingredient, use: Ingredient) -> str:
    told = {"bottle": out.name, "use": use.name}
    return _upper(_("%(bottle)s is out, and %(use)s can't take its place in this one.") % told)


def named(names: list[str], most: int = MOST_NAMED) -> str:
    """ "Cape codder, Madras and 3 more"."""
    said, more = ", ".join(names[:most]), len(names) - most
    if more <= 0:
        return said
    text = ngettext("%(names)s and %(n)s more", "%(names)s and %(n)s more", more)
    return text % {"names": said, "n": more}


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]


def said_after(touched: Iterable[MenuDrink | OffDrink]) -> str:
    """What follows for the drinks, by name, once it has been said."""
    met = list(touched)
    off = [x.item.drink.name for x in met if isinstance(x, OffDrink)]
    changed = [x.drink.name for x in met if isinstance(x, MenuDrink)]
    said = [_("Everybody on shift sees it now.")]
    if off:
        said.append(_("Off tonight: %(drinks)s.") % {"drinks": named(off)})
    if changed:
        said.append(_("Poured otherwise: %(drinks)s.") % {"drinks": named(changed)})
    if not met:
        said.append(_("No drink on the menu is touched by it."))
    return " ".join(said)


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
