"""`{% load drinks %}`: notes in Markdown, how a drink stands, and its drawing."""

from __future__ import annotations

from django import template
from django.utils import timezone
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from recipes.drawing_words import describe
from recipes.grammar.drawing import draw
from recipes.markdown import notes_html
from recipes.menu import Menu, MenuDrink
from recipes.menu_words import standing_words
from recipes.models import Recipe
from recipes.publish import standing_of
from recipes.rules_in_notes import with_rules

register = template.Library()


@register.filter
def notes(text: str, below: int = 1) -> SafeString:
    """`{{ lesson.body|notes }}`: headings begin at h2, or below the level that is given."""
    return notes_html(text, below)


@register.filter
def house_rules(text: str, menu: Menu) -> str:
    """`{{ lesson.body|house_rules:menu|notes }}`: the rules where it asks for them."""
    return with_rules(text, menu)


@register.filter
def standing(recipe: Recipe) -> str:
    """`{{ recipe|standing }}`: retired, not poured, poured or must-know."""
    if recipe.is_retired(timezone.now()):
        return _("retired")
    return standing_words(standing_of(recipe))


@register.simple_tag
def drawing(item: MenuDrink, menu: Menu, height: int = 140) -> SafeString:
    """`{% drawing item menu %}`: the drink in its glass, as an SVG that says in its title what is
    to be seen. `height` in pixels. Once a drink and page: its title has an id."""
    spec, pantry = item.drink.spec, menu.pantry
    title = describe(spec, pantry, menu.names, menu.glass_names)
    svg = draw(spec, pantry, title=title, prefix=f"{item.drink.slug}-", height=height)
    return SafeString(svg)  # safe: our own drawing, which escapes the one text in it
