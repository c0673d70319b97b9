"""Measures in millilitres.

US and imperial measures: NIST Handbook 44 appendix C and the Weights and Measures Act 1985.
Dash and splash have no standard; common practice, no source: a dash is 1/32 and a splash
1/4 of a US fluid ounce. A bar spoon is taken as a US teaspoon (common practice, no source).
"""

from enum import StrEnum

US_FLOZ_ML = 29.5735295625
IMPERIAL_FLOZ_ML = 28.4130625


class Unit(StrEnum):
    POUR = "pour"  # what the house pours: its rules say how much
    ML = "ml"
    CL = "cl"
    FLOZ = "floz"
    IMPERIAL_FLOZ = "imperial_floz"
    US_PINT = "us_pint"
    IMPERIAL_PINT = "imperial_pint"
    TSP = "tsp"
    BARSPOON = "barspoon"
    DASH = "dash"
    SPLASH = "splash"
    PIECE = "piece"  # a wedge, a cube, a berry
    LEAF = "leaf"


ML: dict[Unit, float] = {
    Unit.ML: 1.0,
    Unit.CL: 10.0,
    Unit.FLOZ: US_FLOZ_ML,
    Unit.IMPERIAL_FLOZ: IMPERIAL_FLOZ_ML,
    Unit.US_PINT: 16 * US_FLOZ_ML,
    Unit.IMPERIAL_PINT: 20 * IMPERIAL_FLOZ_ML,
    Unit.TSP: US_FLOZ_ML / 6,
    Unit.BARSPOON: US_FLOZ_ML / 6,
    Unit.DASH: US_FLOZ_ML / 32,
    Unit.SPLASH: US_FLOZ_ML / 4,
}

COUNTED = frozenset({Unit.PIECE, Unit.LEAF})


def to_ml(amount: float, unit: Unit) -> float:
    """Millilitres of an absolute amount; raises KeyError for a house pour or a counted thing."""
    return amount * ML[unit]
