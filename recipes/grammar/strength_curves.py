"""Why less ice is weaker, and why a short double tastes stronger than a tall one.

Pure geometry of the glass: the less room the ice leaves, the less mixer thins what was poured.
Estimates for training, as in `strength`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from recipes.grammar.house_spec import LIGHT_ICE, HousePart, HouseSpec
from recipes.grammar.ingredients import Pantry
from recipes.grammar.refusals import LEAST_TOP_ML, LOW_ABV
from recipes.grammar.rules import Family, HouseRules
from recipes.grammar.spec import How, Ice, Method
from recipes.grammar.strength import Strength, melted_ml, poured_ethanol_ml, strength

CURVE_POINTS = 24
"""Stretches of the drawn curve; more can't be told apart on a phone."""


class Size(StrEnum):
    """How a highball is ordered."""

    SINGLE = "single"
    SHORT_DOUBLE = "short_double"
    TALL_DOUBLE = "tall_double"


class NoCurve(StrEnum):
    """Why ice doesn't change how strong a drink is."""

    NO_ALCOHOL = "no_alcohol"
    NO_TOP = "no_top"
    STRONG_TOP = "strong_top"  # what fills the glass holds alcohol itself
    BLENDED = "blended"
    NO_ICE = "no_ice"
    NO_ROOM = "no_room"


Curve = tuple[tuple[float, float], ...]
"""(share of the glass that ice takes, percent by volume), from no ice up."""


@dataclass(frozen=True)
class Volumes:
    """Millilitres in the glass, its ice left out: what was measured, the water that mixing brought
    in, the top-ups. `before_abv` is the strength in percent before any water or mixer."""

    poured: float
    melted: float
    mixer: float
    before_abv: float

    @property
    def finished(self) -> float:
        return self.poured + self.melted + self.mixer


@dataclass(frozen=True)
class AtIce:
    """The drink with this much of the glass taken by ice (0 to 1)."""

    ice: Ice
    ice_share: float
    strength: Strength


@dataclass(frozen=True)
class AtSize:
    size: Size
    glass: str
    strength: Strength


def volumes(house: HouseSpec, pantry: Pantry) -> Volumes:
    poured, melted = house.poured_ml, melted_ml(house, pantry)
    mixer = max(0.0, house.room_ml - poured - melted) if house.mixers else 0.0
    ethanol = poured_ethanol_ml(house, pantry)
    return Volumes(poured, melted, mixer, 100 * ethanol / poured if poured else 0.0)


def is_thinned_by_room(house: HouseSpec, pantry: Pantry) -> bool:
    """Whether a mixer without any alcohol fills what the ice leaves: then room is what thins it."""
    tops = house.mixers
    strong = poured_ethanol_ml(house, pantry) > 0
    return strong and bool(tops) and all(pantry[p.ingredient].abv == 0 for p in tops)


def by_ice(
    house: HouseSpec, rules: HouseRules, pantry: Pantry, country: str = "us"
) -> tuple[AtIce, ...]:
    """No ice, light, full; empty where ice changes nothing that is in the glass."""
    full = _full_ice(house, rules)
    if not is_thinned_by_room(house, pantry) or house.method is Method.BLEND or not full:
        return ()
    shares = {Ice.NONE: 0.0, Ice.LIGHT: full * LIGHT_ICE, Ice.FULL: full}
    return tuple(
        AtIce(ice, share, strength(_iced(house, ice, share), pantry, country))
        for ice, share in shares.items()
        if _takes(_iced(house, ice, share), pantry)
    )


def why_no_curve(house: HouseSpec, rules: HouseRules, pantry: Pantry) -> NoCurve | None:
    """None where `by_ice` has something to show."""
    if by_ice(house, rules, pantry):
        return None
    if not poured_ethanol_ml(house, pantry) and not any(
        pantry[p.ingredient].abv for p in house.mixers
    ):
        return NoCurve.NO_ALCOHOL
    if house.method is Method.BLEND:
        return NoCurve.BLENDED
    if not house.mixers:
        return NoCurve.NO_TOP
    thinned = is_thinned_by_room(house, pantry)
    if not _full_ice(house, rules) or (house.ice is Ice.NONE and not thinned):
        return NoCurve.NO_ICE
    return NoCurve.NO_ROOM if thinned else NoCurve.STRONG_TOP


def ice_curve(house: HouseSpec, rules: HouseRules, pantry: Pantry) -> Curve:
    """From no ice to as much as leaves room for the mixer, at most what full ice takes."""
    found = by_ice(house, rules, pantry)
    if not found:
        return ()
    most = found[-1].ice_share
    shares = [most * step / CURVE_POINTS for step in range(CURVE_POINTS + 1)]
    return tuple(
        (share, strength(_iced(house, Ice.FULL, share), pantry).abv_percent) for share in shares
    )


def by_size(
    house: HouseSpec, rules: HouseRules, pantry: Pantry, country: str = "us"
) -> tuple[AtSize, ...]:
    """A highball as a single and as its doubles; empty for any other drink.

    A double that runs over, or a tall glass that the house hasn't got or that isn't taller, is
    left out.
    """
    return tuple(
        AtSize(size, spec.glass, strength(spec, pantry, country))
        for size, spec in _sizes(house, rules, pantry).items()
    )


def size_curves(house: HouseSpec, rules: HouseRules, pantry: Pantry) -> dict[Size, Curve]:
    """How strong each size of a highball is with this much ice; empty for any other drink."""
    found = {
        size: ice_curve(spec, rules, pantry) for size, spec in _sizes(house, rules, pantry).items()
    }
    return {size: curve for size, curve in found.items() if curve}


def _sizes(house: HouseSpec, rules: HouseRules, pantry: Pantry) -> dict[Size, HouseSpec]:
    if house.family is not Family.HIGHBALL or not is_thinned_by_room(house, pantry):
        return {}
    built = {
        Size.SINGLE: house,
        Size.SHORT_DOUBLE: doubled(house, rules, pantry, tall=False),
        Size.TALL_DOUBLE: doubled(house, rules, pantry, tall=True),
    }
    return {size: spec for size, spec in built.items() if spec is not None}


def doubled(house: HouseSpec, rules: HouseRules, pantry: Pantry, *, tall: bool) -> HouseSpec | None:
    """The drink with every measured spirit poured as often as the house's double says.

    Short: the same glass; tall: the house's tall glass, as full of ice as this one. None where
    there is nothing to double, no such glass or no room left for the mixer.
    """
    parts = tuple(_times(p, rules.doubles.pours, pantry) for p in house.parts)
    if parts == house.parts:
        return None
    big = replace(house, parts=parts)
    if tall:
        glass = rules.glasses.get(rules.doubles.tall_glass)
        if glass is None or glass.ml <= house.glass_ml:
            return None
        slug, share = rules.doubles.tall_glass, _share_in(rules, rules.doubles.tall_glass, house)
        big = replace(big, glass=slug, glass_ml=glass.ml, ice_share=share)
    return big if _takes(big, pantry) else None


def _times(part: HousePart, pours: int, pantry: Pantry) -> HousePart:
    """Only what is measured and strong is doubled: not the splash, the float or the mixer."""
    if part.how is not How.MEASURED or part.ml is None or pantry[part.ingredient].abv <= LOW_ABV:
        return part
    return replace(part, amount=(part.amount or 0.0) * pours, ml=part.ml * pours)


def _full_ice(house: HouseSpec, rules: HouseRules) -> float:
    glass = rules.glasses.get(house.glass)
    return glass.ice_share if glass else 0.0


def _share_in(rules: HouseRules, glass: str, house: HouseSpec) -> float:
    if house.ice is Ice.NONE:
        return 0.0
    share = rules.glasses[glass].ice_share
    return share * LIGHT_ICE if house.ice is Ice.LIGHT else share


def _iced(house: HouseSpec, ice: Ice, share: float) -> HouseSpec:
    return replace(house, ice=ice, ice_share=share)


def _takes(house: HouseSpec, pantry: Pantry) -> bool:
    """Whether the glass leaves room to top it up."""
    left = house.room_ml - house.poured_ml - melted_ml(house, pantry)
    return left >= LEAST_TOP_ML * len(house.mixers)
