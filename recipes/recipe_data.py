"""A drink as a schema.org Recipe, for programs that read those (schema.org/Recipe)."""

from __future__ import annotations

from typing import Any

from django.utils.translation import get_language
from django.utils.translation import gettext as _

from recipes.grammar.spec import How
from recipes.grammar.steps import build_steps
from recipes.menu import Menu, MenuDrink
from recipes.wording import name_of, part_words, step_words


def recipe_data(item: MenuDrink, menu: Menu) -> dict[str, Any]:
    """As it is built in this house at the menu's moment, in the reader's language."""
    said = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": item.recipe.name,
        "alternateName": list(item.recipe.aliases),
        "recipeCategory": item.recipe.module.name,
        "recipeYield": _("1 drink"),
        "recipeIngredient": _ingredients(item, menu),
        "recipeInstructions": _instructions(item, menu),
        "datePublished": item.revision.takes_effect_at.date().isoformat(),
        "inLanguage": get_language(),
    }
    return {key: value for key, value in said.items() if value}


def _ingredients(item: MenuDrink, menu: Menu) -> list[str]:
    """What goes in, then what goes on it."""
    spec, country = item.drink.spec, menu.rules.country
    lines = []
    for part in spec.parts:
        name = name_of(part.ingredient, menu.names)
        if part.how is How.TOP or part.amount is None:
            lines.append(name)
        else:
            lines.append(part_words(part.amount, part.unit.value, name, part.ml, country))
    lines += [name_of(spec.rim.item, menu.names)] if spec.rim else []
    return lines + [name_of(g.item, menu.names) for g in spec.garnish]


def _instructions(item: MenuDrink, menu: Menu) -> list[dict[str, str]]:
    steps = build_steps(item.drink.spec, menu.pantry)
    words = (
        step_words(step, glass_names=menu.glass_names, country=menu.rules.country)[0]
        for step in steps
    )
    return [{"@type": "HowToStep", "text": text} for text in words]
