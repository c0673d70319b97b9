"""The house book as it is read: modules with their drinks, and finding one by name."""

from __future__ import annotations

import datetime as dt
import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rapidfuzz import fuzz, process

from barcourse.people.models import Venue
from recipes.models import Module, Recipe
from recipes.publish import OnMenu, standing_of

_ALIKE = 70.0
"""Likeness (0 to 100) from which a name is worth offering to who has misspelt another."""


@dataclass(frozen=True)
class Shelf:
    """A module and those of its drinks that are to be shown."""

    module: Module
    recipes: tuple[Recipe, ...]
    at: dt.datetime

    @property
    def here(self) -> tuple[Recipe, ...]:
        """Without the retired ones: a menu is made of these."""
        return tuple(r for r in self.recipes if not r.is_retired(self.at))

    @property
    def poured(self) -> int:
        return sum(r.is_poured for r in self.here)

    @property
    def must_know(self) -> int:
        return sum(r.must_know for r in self.here)


def shelves(venue: Venue, at: dt.datetime, find: str = "") -> list[Shelf]:
    """Every module in its order; with `find` only modules and drinks that answer to it."""
    of: dict[int, list[Recipe]] = defaultdict(list)
    for recipe in Recipe.objects.in_house(venue).select_related("module"):
        if answers_to(recipe, find):
            of[recipe.module_id].append(recipe)
    modules = Module.objects.in_house(venue)
    return [Shelf(m, tuple(of[m.pk]), at) for m in modules if of[m.pk] or not find.strip()]


def answers_to(recipe: Recipe, find: str) -> bool:
    """Whether the words stand in its name or in one of its other names; no words: yes."""
    return any(plain(find) in plain(name) for name in (recipe.name, *recipe.aliases))


def nearly(venue: Venue, find: str, count: int = 3) -> list[Recipe]:
    """Drinks whose name is spelt much like this, likeliest first."""
    recipes = {plain(r.name): r for r in Recipe.objects.in_house(venue)}
    hits = process.extract(plain(find), list(recipes), scorer=fuzz.WRatio, limit=count)
    return [recipes[name] for name, likeness, _place in hits if likeness >= _ALIKE]


def plain(text: str) -> str:
    """Without case, accents and surplus space: what two spellings have in common."""
    parts = unicodedata.normalize("NFKD", text.casefold())
    return " ".join("".join(c for c in parts if not unicodedata.combining(c)).split())


def field_name(recipe: Recipe) -> str:
    """The name of its field on the form that sets the menu."""
    return f"on-{recipe.slug}"


class NotAStanding(ValueError):  # noqa: N818  # an answer to who sent it, no error of the program
    """A form said something of a drink that is not one of the three ways to stand on a menu."""


def read_marks(sent: Mapping[str, str], recipes: Iterable[Recipe]) -> dict[str, OnMenu]:
    """What the form says of each drink, by slug; a drink that it doesn't name stays as it is."""
    marks = {}
    for recipe in recipes:
        said = sent.get(field_name(recipe), standing_of(recipe).value)
        try:
            marks[recipe.slug] = OnMenu(said)
        except ValueError as bad:
            raise NotAStanding(recipe.name) from bad
    return marks


def only_must_knows(marks: Mapping[str, OnMenu]) -> dict[str, OnMenu]:
    return {s: m if m is OnMenu.MUST_KNOW else OnMenu.OFF for s, m in marks.items()}


def everything(marks: Mapping[str, OnMenu]) -> dict[str, OnMenu]:
    return {s: OnMenu.POURED if m is OnMenu.OFF else m for s, m in marks.items()}


def nothing(marks: Mapping[str, OnMenu]) -> dict[str, OnMenu]:
    return dict.fromkeys(marks, OnMenu.OFF)
