"""What somebody else changed of the drinks while a pasted menu was looked over."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from django.utils.translation import gettext as _

from recipes.menu_words import standing_words
from recipes.models import Recipe
from recipes.publish import standing_of

Stands = dict[str, tuple[str, ...]]


def stands(recipes: Iterable[Recipe]) -> Stands:
    """What a paste may write over: each drink's price and how it stands on the menu, by slug."""
    return {r.slug: (_price(r), standing_of(r).value) for r in recipes}


def changed_since(was: Mapping[str, tuple[str, ...]], recipes: Iterable[Recipe]) -> Iterator[str]:
    """A sentence for each drink that stands otherwise now; what `was` doesn't name is new."""
    for recipe in recipes:
        now = stands([recipe])[recipe.slug]
        if recipe.slug in was and was[recipe.slug] != now:
            told = {
                "drink": recipe.name,
                "price": recipe.price if recipe.price is not None else _("no price"),
                "standing": standing_words(standing_of(recipe)),
            }
            yield _("%(drink)s was changed by somebody else: %(price)s, %(standing)s.") % told


def _price(recipe: Recipe) -> str:
    return "" if recipe.price is None else f"{recipe.price:.2f}"
