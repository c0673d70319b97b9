"""`{% load tonight %}`: what is out, on whatever page it belongs; and the strength of a drink."""

from __future__ import annotations

from typing import Any

from django import template
from django.template import Context
from django.utils import timezone

from recipes import off_words
from recipes.allergen_sheet import drink_labels, stock
from recipes.grammar.aspects import Aspect
from recipes.menu import Menu, MenuDrink, NoRules, menu_at
from recipes.models import OffTonight
from recipes.off_tonight import OffDrink, Tonight, standing
from recipes.strength_sheet import strength_sheet
from recipes.wording import aspect_words

register = template.Library()
MOST_NAMED = 6
"""Drinks named on the slip before the rest is only counted."""


@register.inclusion_tag("recipes/out_tonight.html", takes_context=True)
def out_tonight(context: Context) -> dict[str, Any]:
    """`{% out_tonight %}`: the slip of this house; nothing at all where nothing is out."""
    tonight = _tonight(context)
    if tonight is None:
        return {}
    names = [off.item.drink.name for off in tonight.off]
    return {
        "request": context["request"],
        "out": [off_words.said_of(row, tonight) for row in tonight.rows if row.ingredient],
        "off": names[:MOST_NAMED],
        "more": max(0, len(names) - MOST_NAMED),
    }


@register.inclusion_tag("recipes/tonight_of.html", takes_context=True)
def tonight_of(context: Context, item: MenuDrink) -> dict[str, Any]:
    """`{% tonight_of item %}`: that this drink is off or served otherwise tonight. Nothing on a
    page about a menu to come (`coming` in its context); `otherwise` there says that the page shows
    it as tonight, not as the book has it."""
    tonight = None if context.get("coming") else _tonight(context)
    if tonight is None:
        return {}
    served = tonight.serve(item)
    if isinstance(served, OffDrink):
        return {"off": off_words.off_sheet(served, tonight)}
    changed = off_words.swapped(item, tonight) if served is not item else []
    return {"changed": changed, "poured": context.get("otherwise")}


@register.simple_tag(takes_context=True)
def poured_tonight(context: Context, item: MenuDrink, aspect: Aspect) -> list[str]:
    """`{% poured_tonight item aspect as lines %}`: what of this part is otherwise tonight than in
    the book. Nothing where it is as the book says, is off, or belongs to a menu to come."""
    tonight = None if context.get("coming") else _tonight(context)
    served = tonight.serve(item) if tonight else item
    if tonight is None or served is item or isinstance(served, OffDrink):
        return []
    book, poured = (_lines(i, aspect, tonight.menu) for i in (item, served))
    return [line for line in poured if line not in book]


def _lines(item: MenuDrink, aspect: Aspect, menu: Menu) -> list[str]:
    content = item.drink.contents[aspect]
    return aspect_words(aspect, content, menu.names, menu.glass_names, menu.rules.country)


def _rows(context: Context) -> tuple[OffTonight, ...]:
    """Asked for once a page, however many blocks speak of it."""
    kept = context["request"].__dict__
    if "off_tonight" not in kept:
        kept["off_tonight"] = standing(context["request"].venue)
    rows: tuple[OffTonight, ...] = kept["off_tonight"]
    return rows


def _tonight(context: Context) -> Tonight | None:
    """None where nothing is out: that is one query, and most evenings the only one."""
    venue, rows = context["request"].venue, _rows(context)
    try:
        return Tonight(menu_at(venue, timezone.now()), rows) if rows else None
    except NoRules:
        return None


@register.inclusion_tag("recipes/strength_block.html")
def strength_block(item: MenuDrink, menu: Menu) -> dict[str, Any]:
    """`{% strength_block item menu %}`: volumes, strength, and why ice and glass change it."""
    return {"sheet": strength_sheet(item, menu)}


@register.inclusion_tag("recipes/allergen_block.html", takes_context=True)
def allergen_block(context: Context, item: MenuDrink, menu: Menu) -> dict[str, Any]:
    """`{% allergen_block item menu %}`: what the house knows for everything in it."""
    tonight = Tonight(menu, _rows(context))
    rows = stock(menu.venue)
    return {
        "request": context["request"],
        "may": context.get("may"),
        "drink": drink_labels(item, tonight, rows),
    }
