"""Which revision and which rules hold at a moment, and what they would make impossible later.

Revisions and rules versions overlay each other in time: at any moment the one that took effect
last holds, and of two that take effect at the same moment the higher number.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Protocol, TypeVar

from recipes.grammar.ingredients import Pantry
from recipes.grammar.reasons import Reason
from recipes.grammar.refusals import problems
from recipes.models import Recipe, Revision, RulesVersion


class _Dated(Protocol):
    number: int
    takes_effect_at: dt.datetime


_Row = TypeVar("_Row", bound=_Dated)


def holding_at(rows: Iterable[_Row], at: dt.datetime) -> _Row | None:
    """The row that holds at this moment, or None before the first."""
    begun = [row for row in rows if row.takes_effect_at <= at]
    return max(begun, key=lambda row: (row.takes_effect_at, row.number), default=None)


def waiting(rows: Iterable[_Row], at: dt.datetime) -> list[_Row]:
    """Rows that will hold from some later moment, soonest first; overruled ones left out."""
    later = {row.takes_effect_at for row in rows if row.takes_effect_at > at}
    found = (holding_at(rows, moment) for moment in sorted(later))
    return [row for row in found if row is not None]


def broken_from(
    at: dt.datetime,
    revisions: Mapping[Recipe, Sequence[Revision]],
    versions: Sequence[RulesVersion],
    pantry: Pantry,
) -> tuple[Reason, ...]:
    """Why some of these drinks could not be built at `at` or at any moment after it, up to the one
    from which a drink is retired.

    Each reason names the `drink` by slug, and the number of the `rules` where those are not the
    ones that hold at `at`.
    """
    first = holding_at(versions, at)
    found: dict[Reason, None] = {}
    for recipe, rows in revisions.items():
        for revision, version in _pairs(at, rows, versions, recipe.retires_at):
            extra = {} if version is first else {"rules": version.number}
            for reason in _problems(recipe, revision, version, pantry):
                said = {**reason.values, "drink": recipe.slug, **extra}
                found[Reason.of(reason.code, **said)] = None
    return tuple(found)


def _pairs(
    at: dt.datetime,
    rows: Sequence[Revision],
    versions: Sequence[RulesVersion],
    until: dt.datetime | None,
) -> Iterator[tuple[Revision, RulesVersion]]:
    """Every revision with every version of the rules that it will be built under."""
    dates = {row.takes_effect_at for row in rows} | {row.takes_effect_at for row in versions}
    met = None
    for moment in (at, *sorted(date for date in dates if date > at)):
        if until is not None and moment >= until:
            return
        revision, version = holding_at(rows, moment), holding_at(versions, moment)
        if revision and version and (revision, version) != met:
            met = (revision, version)
            yield met


def _problems(
    recipe: Recipe, revision: Revision, version: RulesVersion, pantry: Pantry
) -> tuple[Reason, ...]:
    alcohol = recipe.module.alcohol
    return problems(revision.build, version.house_rules, pantry, alcohol_module=alcohol)
