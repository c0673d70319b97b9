"""What a drink costs the house, from what its bottles hold and cost.

Money is `Decimal` and never rounded here: whoever shows it rounds. Only what is measured or tops
the drink up is reckoned; what is counted (a wedge, six leaves) and the garnish have no price here.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import Pantry
from recipes.grammar.spec import How
from recipes.grammar.strength import dilution


@dataclass(frozen=True)
class Bottle:
    """What a bottle holds (ml, above 0) and what the house pays for it."""

    ml: float
    price: Decimal

    def of(self, ml: float) -> Decimal:
        """What so many millilitres of it cost."""
        return self.price * Decimal(repr(ml)) / Decimal(repr(self.ml))


Bottles = Mapping[str, Bottle]
"""By the slug of the ingredient; one without size or price is not in it."""


@dataclass(frozen=True)
class PartCost:
    """`cost` is None where nothing is known of the bottle."""

    ingredient: str
    ml: float
    cost: Decimal | None


@dataclass(frozen=True)
class Cost:
    """`uncounted` went in by the piece, or lies on top, and is not in the total."""

    parts: tuple[PartCost, ...]
    uncounted: tuple[str, ...]

    @property
    def missing(self) -> tuple[str, ...]:
        """Ingredients whose bottle has no size or price."""
        return tuple(p.ingredient for p in self.parts if p.cost is None)

    @property
    def known(self) -> Decimal:
        return sum((p.cost for p in self.parts if p.cost is not None), Decimal(0))

    @property
    def total(self) -> Decimal | None:
        """None while a part of it is unknown: a sum that leaves something out is no cost."""
        return None if self.missing else self.known


def cost(house: HouseSpec, pantry: Pantry, bottles: Bottles) -> Cost:
    """Of one drink as the house builds it, mixers by the room that they fill."""
    poured = [(p.ingredient, p.ml) for p in house.parts if p.ml]
    room = house.room_ml - house.poured_ml * (1 + dilution(house, pantry))
    topped = [(p.ingredient, max(0.0, room) * p.share) for p in house.mixers]
    counted = [p.ingredient for p in house.parts if p.ml is None and p.how is not How.TOP]
    counted += [g.item for g in house.garnish] + ([house.rim.item] if house.rim else [])
    parts = (
        PartCost(slug, ml, bottles[slug].of(ml) if slug in bottles else None)
        for slug, ml in (*poured, *topped)
    )
    return Cost(tuple(parts), tuple(dict.fromkeys(counted)))


def pour_cost(spent: Decimal, price: Decimal) -> Decimal | None:
    """The share of the price that went into the glass, 0 and up; None for a drink given away."""
    return spent / price if price > 0 else None


def pours_per_bottle(bottle_ml: float, pour_ml: float) -> int:
    """Whole pours, without the heel that is left. Raises ValueError for a pour of nothing."""
    if pour_ml <= 0:
        raise ValueError("a pour of nothing")
    return math.floor(bottle_ml / pour_ml + 1e-9)
