"""`{% load drinks %}`: notes in Markdown, and the drawing of a drink."""

from __future__ import annotations

from importlib import import_module, util

from django import template
from django.utils.safestring import SafeString

from recipes.markdown import notes_html
from recipes.menu import Menu, MenuDrink

register = template.Library()


@register.filter
def notes(text: str, below: int = 1) -> SafeString:
    """`{{ lesson.body|notes }}`: headings begin at h2, or below the level that is given."""
    return notes_html(text, below)


@register.simple_tag
def drawing(item: MenuDrink, menu: Menu) -> SafeString:
    """`{% drawing item menu %}`: the drink in its glass, as an SVG that says the same as the words
    beside it."""
    if util.find_spec("recipes.grammar.drawing") is None:
        return SafeString("")
    draw = import_module("recipes.grammar.drawing").draw
    return SafeString(draw(item.drink.spec, menu.pantry))
