"""What a millilitre weighs: pours are checked on a scale as well as in a cylinder.

Ethanol and water at 20 °C: OIML R 22:1975 (Council Directive 76/766/EEC, Annex), density as a
polynomial in the mass fraction. A scale in a warm bar is off by less than it can show.
"""

from enum import StrEnum
from functools import lru_cache

from recipes.grammar.ingredients import Ingredient, Kind, LiquorClass

_A = (
    9.982012300e2, -1.929769495e2, 3.891238958e2, -1.668103923e3, 1.352215441e4, -8.829278388e4,
    3.062874042e5, -6.138381234e5, 7.470172998e5, -5.478461354e5, 2.234460334e5, -3.903285426e4,
)  # fmt: skip

WATER = _A[0] / 1000
"""g/ml at 20 °C."""


def density_of_mixture(mass_fraction: float) -> float:
    """g/ml of ethanol and water, by the share of ethanol in their mass, 0 to 1."""
    if not 0 <= mass_fraction <= 1:
        raise ValueError(f"no share of a mass: {mass_fraction}")
    return sum(a * mass_fraction**k for k, a in enumerate(_A)) / 1000


ETHANOL = density_of_mixture(1.0)


@lru_cache(maxsize=256)
def mass_fraction(abv: float) -> float:
    """The share of ethanol in the mass, 0 to 1, of a spirit of `abv` percent by volume."""
    if not 0 <= abv <= 100:
        raise ValueError(f"no strength: {abv}")
    low, high = 0.0, 1.0
    for _ in range(60):  # what is in a litre rises with the share, so halving finds it
        middle = (low + high) / 2
        if middle * density_of_mixture(middle) / ETHANOL < abv / 100:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def spirit_density(abv: float) -> float:
    """g/ml of a spirit of `abv` percent by volume without sugar in it."""
    return density_of_mixture(mass_fraction(abv))


class By(StrEnum):
    """How a density is known."""

    STATED = "stated"
    STRENGTH = "strength"
    WATER = "water"


_DRY = frozenset({Kind.WINE, Kind.SPARKLING, Kind.DASH_BITTERS})


def density_of(liquid: Ingredient | None) -> tuple[float, By]:
    """g/ml, and how it is known: what the house typed in, else from the strength where there is
    hardly any sugar, else as water, which is too light for anything sweet. None is water."""
    if liquid is not None and liquid.density is not None:
        return liquid.density, By.STATED
    if liquid is not None and (liquid.liquor_class is LiquorClass.SPIRIT or liquid.kind in _DRY):
        return spirit_density(liquid.abv), By.STRENGTH
    return WATER, By.WATER
