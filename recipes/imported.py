"""What became of a sheet of recipes, row by row."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

from barcourse.people.reasons import Reason as PeopleReason
from recipes.grammar.course import fold
from recipes.grammar.reasons import Reason
from recipes.menu import Menu
from recipes.models import Ingredient


class Outcome(StrEnum):
    ADDED = "added"
    CHANGED = "changed"
    UNCHANGED = "unchanged"
    REFUSED = "refused"


@dataclass(frozen=True)
class Taken:
    """What became of one row. `slug` is empty where it was refused, for the `reasons`; `near` are
    then the drinks whose names are nearly its own. `glass` was chosen where the row names none and
    the usual one is too small. `spec` is what was published."""

    line: int
    name: str
    outcome: Outcome
    slug: str = ""
    reasons: tuple[Reason | PeopleReason, ...] = ()
    glass: str = ""
    near: tuple[str, ...] = ()
    spec: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Imported:
    """What became of a sheet, and the menu as it was, and as it is with it (or would be)."""

    rows: tuple[Taken, ...]
    ingredients: tuple[Ingredient, ...]
    ignored: tuple[str, ...]
    menu: Menu
    before: Menu

    def of(self, outcome: Outcome) -> tuple[Taken, ...]:
        return tuple(row for row in self.rows if row.outcome is outcome)

    @property
    def refused(self) -> tuple[Taken, ...]:
        return self.of(Outcome.REFUSED)

    @property
    def unknown(self) -> tuple[str, ...]:
        """Ingredients that the house doesn't have, as the sheet writes them, each once."""
        said = {
            fold(name): name
            for row in self.refused
            for reason in row.reasons
            if reason.code in ("unknown_ingredient", "kind_untold")
            for name in (str(dict(reason.params).get("ingredient") or dict(reason.params)["said"]),)
        }
        return tuple(said.values())


class CannotImport(ValueError):  # noqa: N818  # it is no error of the program
    """A sheet with rows that can't be taken in; nothing of it was."""

    def __init__(self, imported: Imported) -> None:
        super().__init__(f"{len(imported.refused)} rows refused")
        self.imported = imported
