"""Measures against `pint`, a general library of units, and against the published definitions."""

import pint
import pytest

from recipes.grammar.units import COUNTED, IMPERIAL_FLOZ_ML, ML, US_FLOZ_ML, Unit, to_ml

UREG = pint.UnitRegistry()

KNOWN_TO_PINT = {
    Unit.ML: "milliliter",
    Unit.CL: "centiliter",
    Unit.FLOZ: "fluid_ounce",
    Unit.IMPERIAL_FLOZ: "imperial_fluid_ounce",
    Unit.US_PINT: "pint",
    Unit.IMPERIAL_PINT: "imperial_pint",
    Unit.TSP: "teaspoon",
}


@pytest.mark.parametrize(("unit", "name"), KNOWN_TO_PINT.items())
@pytest.mark.parametrize("amount", [1, 0.125, 1.5, 25])
def test_a_measure_agrees_with_pint(unit, name, amount):
    assert to_ml(amount, unit) == pytest.approx(
        UREG.Quantity(amount, name).to("milliliter").magnitude
    )


@pytest.mark.parametrize(
    ("unit", "ml"),
    [
        # NIST Handbook 44, appendix C.
        (Unit.FLOZ, 29.5735295625),
        (Unit.US_PINT, 473.176473),
        # Weights and Measures Act 1985.
        (Unit.IMPERIAL_FLOZ, 28.4130625),
        (Unit.IMPERIAL_PINT, 568.26125),
    ],
)
def test_a_measure_is_as_defined(unit, ml):
    assert to_ml(1, unit) == pytest.approx(ml, abs=1e-6)


@pytest.mark.parametrize(
    ("unit", "of_a_fluid_ounce"),
    [
        # Common practice, no source.
        (Unit.DASH, 1 / 32),
        (Unit.SPLASH, 1 / 4),
        (Unit.BARSPOON, 1 / 6),
    ],
)
def test_bar_measures_are_parts_of_a_us_fluid_ounce(unit, of_a_fluid_ounce):
    assert to_ml(1, unit) == pytest.approx(US_FLOZ_ML * of_a_fluid_ounce)


@pytest.mark.parametrize(
    ("bottle_ml", "pour", "unit", "whole_pours"),
    [
        # Reckoned from the definitions above: whole pours in a bottle.
        (750, 1, Unit.FLOZ, 25),
        (750, 1.25, Unit.FLOZ, 20),
        (750, 1.5, Unit.FLOZ, 16),
        (750, 2, Unit.FLOZ, 12),
        (1000, 1, Unit.FLOZ, 33),
        (700, 25, Unit.ML, 28),
        (700, 35, Unit.ML, 20),
        # A half barrel of 15.5 US gallons, 58.67 litres (a keg maker's guide).
        (58673.9, 12, Unit.FLOZ, 165),
        (58673.9, 1, Unit.US_PINT, 124),
    ],
)
def test_pours_in_a_bottle_and_in_a_keg(bottle_ml, pour, unit, whole_pours):
    assert int(bottle_ml / to_ml(pour, unit) + 1e-3) == whole_pours


def test_the_two_fluid_ounces_are_not_one():
    ratio = US_FLOZ_ML / IMPERIAL_FLOZ_ML

    assert ratio == pytest.approx(1.0408, abs=1e-4)


@pytest.mark.parametrize("unit", [Unit.POUR, *sorted(COUNTED)])
def test_what_is_no_measure_has_no_millilitres(unit):
    with pytest.raises(KeyError):
        to_ml(1, unit)


def test_every_unit_is_a_measure_a_count_or_the_house_pour():
    assert set(ML) | COUNTED | {Unit.POUR} == set(Unit)
