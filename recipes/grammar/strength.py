"""How much is in the glass and how strong it is.

Estimates for training, never a ground to serve or to drive. Ethanol weighs 0.789 g/ml at 20 °C
(OIML R 22:1975 gives 789.24 kg/m3; 0.785 is the density at 25 °C). Volumes add linearly, which
overstates a spirit-forward drink by at most about 3.7 %.
"""

from dataclasses import dataclass

from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import Pantry
from recipes.grammar.spec import How, Method

ETHANOL_G_PER_ML = 0.789

STANDARD_DRINK_G: dict[str, float] = {
    # Grams of ethanol in one standard drink; sources beside the test of each.
    "us": 14.0,
    "gb": 10 * ETHANOL_G_PER_ML,  # a unit is 10 ml
    "ie": 10.0,
    "au": 10.0,
    "nz": 10.0,
    "ca": 13.45,
    "es": 10.0,
    "pl": 10.0,
    "dk": 12.0,
    "at": 20.0,
}
MODAL_STANDARD_DRINK_G = 10.0
"""The most common of 37 countries (Kalinowski and Humphreys 2016)."""

IN_THE_TIN = (How.MEASURED, How.DASH, How.MUDDLED)
"""What is shaken, stirred or blended together; floats, top-ups and first-ins are not."""


@dataclass(frozen=True)
class Strength:
    """Liquid in the glass without its ice (ml), percent by volume, grams, standard drinks."""

    volume_ml: float
    abv_percent: float
    ethanol_g: float
    standard_drinks: float


def melted_ml(house: HouseSpec, pantry: Pantry) -> float:
    """Water that shaking, stirring or blending brings in; what goes in before the ice or on top
    of the finished drink never met it."""
    return dilution(house, pantry) * sum(p.ml or 0.0 for p in house.how(*IN_THE_TIN))


def dilution(house: HouseSpec, pantry: Pantry) -> float:
    """Melt water as a fraction of the volume in the tin, the mixing glass or the blender.

    Shaken and stirred: the published quadratics in the starting strength (D. Arnold, Liquid
    Intelligence, 2014; from memory). Blended: all of the ice, about the pours again (common
    practice, no source). Built, layered, poured: none counted.
    """
    mixed = house.how(*IN_THE_TIN)
    volume = sum(p.ml or 0.0 for p in mixed)
    if house.method not in (Method.SHAKE, Method.STIR, Method.BLEND) or not volume:
        return 0.0
    if house.method is Method.BLEND:
        return 1.0
    a = sum((p.ml or 0.0) * pantry[p.ingredient].abv / 100 for p in mixed) / volume
    if house.method is Method.STIR:
        return -1.21 * a**2 + 1.246 * a + 0.145
    return -1.567 * a**2 + 1.742 * a + 0.203


def poured_ethanol_ml(house: HouseSpec, pantry: Pantry) -> float:
    return sum((p.ml or 0.0) * pantry[p.ingredient].abv / 100 for p in house.parts)


def strength(house: HouseSpec, pantry: Pantry, country: str = "us") -> Strength:
    """What one serving holds, mixers to the top of the iced glass included."""
    liquid = house.poured_ml + melted_ml(house, pantry)
    mixer = max(0.0, house.room_ml - liquid) if house.mixers else 0.0
    topped = sum(mixer * p.share * pantry[p.ingredient].abv / 100 for p in house.mixers)
    ethanol = poured_ethanol_ml(house, pantry) + topped
    volume = liquid + mixer
    grams = ethanol * ETHANOL_G_PER_ML
    per_drink = STANDARD_DRINK_G.get(country, MODAL_STANDARD_DRINK_G)
    return Strength(volume, 100 * ethanol / volume if volume else 0.0, grams, grams / per_drink)
