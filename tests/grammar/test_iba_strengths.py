"""Strengths of drinks of the international bartenders' list (IBA), list of 2023.

Volumes are those of the list. The strengths are reckoned by hand from them, with spirits and
triple sec at 40 %, red aperitif 25 %, vermouth 16 %, sparkling wine 11 % by volume, before ice
thins anything.
"""

from pathlib import Path

import pytest

from recipes.grammar.coursefile import read_course
from recipes.grammar.house_spec import resolve
from recipes.grammar.spec import BuildSpec, Part
from recipes.grammar.strength import ETHANOL_G_PER_ML, strength
from recipes.grammar.units import Unit

COURSE = read_course(Path(__file__).parents[2] / "fixtures" / "course")

ABV = {
    "vodka": 40,
    "gin": 40,
    "tequila": 40,
    "orange-liqueur": 40,
    "red-bitter": 25,
    "sweet-vermouth": 16,
    "sparkling-wine": 11,
}

# drink: (millilitres of each part, ethanol in ml, percent by volume)
IBA_2023 = {
    "Sea Breeze": (
        {"vodka": 40, "cranberry-juice": 120, "grapefruit-juice": 30},
        16.0,
        8.4,
    ),
    "Tequila Sunrise": ({"tequila": 45, "orange-juice": 90, "grenadine": 15}, 18.0, 12.0),
    "Moscow Mule": ({"vodka": 45, "ginger-beer": 120, "lime-juice": 10}, 18.0, 10.3),
    "Negroni": ({"gin": 30, "red-bitter": 30, "sweet-vermouth": 30}, 24.3, 27.0),
    "Margarita": ({"tequila": 50, "orange-liqueur": 20, "lime-juice": 15}, 28.0, 32.9),
    "Mimosa": ({"sparkling-wine": 75, "orange-juice": 75}, 8.25, 5.5),
}


@pytest.mark.parametrize(("slug", "abv"), ABV.items())
def test_the_shipped_ingredients_are_as_strong_as_the_reckoning_takes_them(slug, abv):
    assert COURSE.pantry[slug].abv == abv


@pytest.mark.parametrize(("parts", "ethanol_ml", "percent"), IBA_2023.values(), ids=IBA_2023)
def test_strength_of_a_listed_drink_before_ice_thins_it(parts, ethanol_ml, percent):
    measured = tuple(Part(ingredient=i, amount=ml, unit=Unit.ML) for i, ml in parts.items())
    house = resolve(BuildSpec(glass="pint", parts=measured), COURSE.rules, COURSE.pantry)

    found = strength(house, COURSE.pantry)

    assert found.volume_ml == pytest.approx(sum(parts.values()))
    assert found.ethanol_g / ETHANOL_G_PER_ML == pytest.approx(ethanol_ml, abs=0.005)
    assert round(found.abv_percent, 1) == percent
