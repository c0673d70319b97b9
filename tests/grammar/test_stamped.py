"""Spirits under a stamped measure: whole measures, but for mixes of three liquids or more.

SI 1988/2039 as told in trade briefings; common practice elsewhere, no source.
"""

import pytest

from recipes import shipped
from recipes.grammar.house_spec import resolve
from recipes.grammar.stamped import off_measure
from recipes.grammar.units import Unit
from tests.grammar.kitchen import PANTRY, RULES, build, dashed, pour, top

BRITISH = RULES.model_copy(update={"pours": shipped.shipped_rules("great-britain").pours})


def ml(item, amount):
    return pour(item, amount, Unit.ML)


@pytest.mark.parametrize(
    ("parts", "off"),
    [
        ((pour("vodka"), top("cola")), []),
        ((ml("vodka", 50), top("cola")), []),
        ((ml("vodka", 45), top("cola")), ["vodka"]),
        ((ml("gin", 12.5),), ["gin"]),
        ((ml("gin", 25.3),), []),  # written in another unit, meant to be one
        ((ml("bourbon", 60), dashed("bitters")), ["bourbon"]),
        ((ml("tequila", 45), top("cola")), []),  # the law names gin, rum, vodka and whisky
        ((ml("gin", 45), ml("sweet-vermouth", 20), top("cola")), []),
        ((ml("vodka", 20), ml("gin", 20)), ["vodka", "gin"]),
    ],
)
def test_what_has_to_be_a_whole_measure(parts, off):
    spec = resolve(build(*parts), BRITISH, PANTRY)

    assert [part.ingredient for part in off_measure(spec, BRITISH, PANTRY)] == off


def test_a_jigger_pours_what_the_recipe_says():
    assert off_measure(resolve(build(ml("vodka", 45)), RULES, PANTRY), RULES, PANTRY) == ()
