"""Which answers say the same, so that no item has two right ones.

Compared is what a bartender would do, not how it is stored: "1 pour" and "1 fl oz" of the same
bottle are one answer where a house pour is that much. Where in doubt, two answers are the same.
"""

from typing import Any

from recipes.grammar.aspects import Aspect, Content
from recipes.grammar.drink import Drink
from recipes.grammar.spec import How, Method
from recipes.grammar.units import COUNTED, Unit

SAME_POUR_ML = 1.5
"""Two amounts of one bottle nearer than this are one answer (our own choice, no source: about a
twentieth of a fluid ounce, less than a free pour's tolerance)."""

BY_COUNT = frozenset(u.value for u in (Unit.DASH, Unit.SPLASH, Unit.TSP, Unit.BARSPOON, *COUNTED))
"""Small measures that a bartender counts: two dashes are not three, though hardly more."""


def same_answer(aspect: Aspect, one: Content, other: Content) -> bool:
    """Whether two contents of an aspect are the same thing to do."""
    if aspect is Aspect.POURS:
        return _same_pours(one["poured"], other["poured"])
    if aspect is Aspect.METHOD:
        return _seen_method(one) == _seen_method(other)
    return one == other


def same_whole(one: Content, other: Content) -> bool:
    """Whether two whole builds, contents by aspect name, are the same thing to do."""
    return all(same_answer(a, one[a.value], other[a.value]) for a in Aspect)


def same_name(one: Drink, other: Drink) -> bool:
    """Whether a guest could mean either drink by one name."""
    return bool(_names(one) & _names(other))


def _names(drink: Drink) -> set[str]:
    return {n.casefold() for n in (drink.name, *drink.aliases)}


def _seen_method(content: Content) -> list[Any]:
    """The part of a method that somebody reads; what follows from the rest is left out."""
    method = content["method"]
    placed = {How.FLOAT.value, How.FIRST_IN.value}
    if method == Method.LAYER.value:
        placed.add(How.MEASURED.value)
    ice = None if method == Method.BLEND.value else content["ice"]  # blended ice is in the drink
    places = [list(p) for p in content["places"] if p[1] in placed]
    return [ice, method, content["muddled"], places]


def _same_pours(one: list[list[str]], other: list[list[str]]) -> bool:
    if [p[0] for p in one] != [p[0] for p in other]:
        return False
    return all(_same_amount(a, b) for a, b in zip(one, other, strict=True))


def _same_amount(one: list[str], other: list[str]) -> bool:
    """One entry of an aspect's pours: ingredient, amount, unit, ml, measured by."""
    _, amount, unit, ml, _ = one
    _, other_amount, other_unit, other_ml, _ = other
    counted = unit == other_unit and unit in BY_COUNT
    if counted or not ml or not other_ml:
        return (unit, amount) == (other_unit, other_amount)
    return abs(float(ml) - float(other_ml)) < SAME_POUR_ML
