"""Names on the till that somebody told, also where a size or a change stands beside them.

Told once that "jd coke" is the house's whiskey and cola, nobody is asked about "jd coke double" or
"large jd coke no ice": the words beside the name change how it is served and not what it is.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from assessments.models.sales import Place
from assessments.sales_reading import ANOTHER, Heard, heard
from recipes.grammar.calls.reading import AskKind, What
from recipes.hearing import hear_on
from recipes.menu import Menu
from recipes.models import Recipe

Meanings = Mapping[str, Recipe | None]
"""What names were told to mean; None is nothing that is taught."""

MAYBE_ANOTHER = ANOTHER | {
    What.WITH, What.SPLASH, What.DASH, What.BACK, What.CALL, What.PREMIUM
}  # fmt: skip
"""Changes with which a name on the till may be another drink: these are asked about."""
TRIED = 3
"""Drinks beside which words are tried that stand by a name of nothing taught."""


def meaning_of(said: str, menu: Menu, told: Meanings) -> tuple[Heard, Recipe | None, bool]:
    """What a name means, its recipe, and whether somebody told so. What was told wins over what
    is read; what is certain by itself over what a told name within it says."""
    if said in told:
        return (*_as_told(told[said]), True)
    one = heard(said, menu)
    if one.place is Place.WAITING and (part := told_within(said, menu, told)):
        return (*_as_told(told[part]), True)
    return one, menu.by_slug[one.recipe].recipe if one.recipe else None, False


def _as_told(recipe: Recipe | None) -> tuple[Heard, Recipe | None]:
    return Heard(Place.MAPPED if recipe else Place.NOT_OURS), recipe


def told_within(said: str, menu: Menu, told: Meanings) -> str:
    """The longest told name in it beside which the rest only says how it is served; else ""."""
    for part, before, after in _parts(said.split()):
        if part in told and _only_served(before, after, menu, told[part]):
            return part
    return ""


def _parts(words: list[str]) -> Iterator[tuple[str, str, str]]:
    """Every run of words that is not all of them, longest first, with what stands around it."""
    for length in range(len(words) - 1, 0, -1):
        for at in range(len(words) - length + 1):
            runs = words[at : at + length], words[:at], words[at + length :]
            part, before, after = (" ".join(run) for run in runs)
            yield part, before, after


def _only_served(before: str, after: str, menu: Menu, recipe: Recipe | None) -> bool:
    if recipe is not None:
        return recipe.slug in menu.by_slug and _is_served(before, after, menu, recipe.slug)
    return any(_is_served(before, after, menu, i.drink.slug) for i in menu.items[:TRIED])


def _is_served(before: str, after: str, menu: Menu, slug: str) -> bool:
    """Whether the words around a drink leave it that drink, one of it, and are all placed."""
    reading = hear_on(f"{before} {menu.by_slug[slug].drink.name} {after}".strip(), menu)
    asks = any(q.kind is AskKind.IDENTITY for q in reading.ask)
    if len(reading.drinks) != 1 or reading.unplaced or reading.read_as or asks:
        return False
    [drink] = reading.drinks
    plain = not any(c.what in MAYBE_ANOTHER for c in drink.changes)
    return drink.recipe == slug and drink.count == 1 and plain
