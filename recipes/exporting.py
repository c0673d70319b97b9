"""The recipes of a house as a sheet that `importing` reads back without a change."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

from barcourse.people.models import Venue
from recipes.grammar.sheet_rows import written_row
from recipes.grammar.sheet_standing import Standing
from recipes.grammar.sheet_text import write_sheet
from recipes.menu import pantry_of, revisions_at
from recipes.models import Recipe


def recipes_sheet(venue: Venue, at: dt.datetime) -> str:
    """CSV of every drink, poured or not, as it is built at this moment."""
    return write_sheet(_rows(venue, at))


def _rows(venue: Venue, at: dt.datetime) -> Iterator[dict[str, str]]:
    pantry, current = pantry_of(venue), revisions_at(venue, at)
    for recipe in Recipe.objects.in_house(venue).select_related("module"):
        if recipe.pk in current:
            build = current[recipe.pk].build
            standing = Standing(recipe.price, recipe.share, recipe.must_know, recipe.is_poured)
            yield written_row(
                recipe.name, recipe.module.slug, recipe.aliases, build, pantry, standing
            )
