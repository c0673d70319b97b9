"""Spirits that are sold by a stamped measure go by whole measures of it.

Where pours are stamped, a spirit by itself or with one other thing is one measure or a multiple;
mixes of three or more liquids are exempt. So it is in Great Britain for gin, rum, vodka and whisky
(SI 1988/2039, read in trade briefings); elsewhere local law decides.
"""

from __future__ import annotations

from recipes.grammar.house_spec import HousePart, HouseSpec
from recipes.grammar.ingredients import Kind, Pantry
from recipes.grammar.rules import HouseRules, MeasuredBy
from recipes.grammar.spec import How

BY_MEASURE = frozenset({Kind.GIN, Kind.RUM, Kind.VODKA, Kind.WHISKEY})
EXEMPT_FROM = 3
"""So many liquids make a mix that may hold any amount."""
_OFF = 0.02
"""Of a measure: 35.5 ml written as 1.2 fl oz is meant to be one."""


def off_measure(spec: HouseSpec, rules: HouseRules, pantry: Pantry) -> tuple[HousePart, ...]:
    """The parts of a drink that are no whole measure of the house, though they have to be."""
    if sum(part.ml is not None or part.how is How.TOP for part in spec.parts) >= EXEMPT_FROM:
        return ()
    return tuple(part for part in spec.parts if _is_off(part, rules, pantry))


def _is_off(part: HousePart, rules: HouseRules, pantry: Pantry) -> bool:
    item = pantry[part.ingredient]
    if part.measured_by is not MeasuredBy.STAMPED or item.kind not in BY_MEASURE or not part.ml:
        return False
    measures = part.ml / rules.pours[item.liquor_class].ml
    return measures < 1 - _OFF or abs(measures - round(measures)) > _OFF
