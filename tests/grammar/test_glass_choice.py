"""Which glass a drink goes into where its recipe names none."""

from functools import cache
from pathlib import Path

import pytest

from recipes.grammar.coursefile import Course, read_course
from recipes.grammar.glass_fit import fitted_glass, in_fitted_glass
from recipes.grammar.house_spec import resolve
from recipes.grammar.lines import read_parts
from recipes.grammar.refusals import problems, read_spec
from recipes.grammar.rules_preset import PRESETS
from recipes.grammar.spec import BuildSpec, Ice, Method

COURSE = Path(__file__).parents[2] / "fixtures" / "course"


@cache
def under(preset: str) -> Course:
    return read_course(COURSE, preset)


def built(text: str, method: Method = Method.BUILD, preset: str = "us-classic") -> BuildSpec:
    parts = read_parts(text, under(preset).pantry)
    return BuildSpec.model_validate({"parts": parts, "method": method})


@pytest.mark.parametrize("preset", PRESETS)
@pytest.mark.parametrize(
    ("parts", "glass"),
    [
        ("1 pour red wine", "wine"),
        ("1 pour sparkling wine", "flute"),
        ("1 pour nitro stout", "pint"),
        ("1 pour dry cider", "pint"),
    ],
)
def test_wine_and_beer_by_themselves_stand_in_their_own_glass_without_ice(preset, parts, glass):
    rules, pantry = under(preset).rules, under(preset).pantry
    spec = read_spec({"parts": read_parts(parts, pantry)}, rules, pantry)
    made = resolve(spec, rules, pantry)

    assert (made.glass, made.ice) == (glass, Ice.NONE)


@pytest.mark.parametrize(
    ("parts", "glass", "ice"),
    [
        ("75 ml orange juice; 75 ml sparkling wine", "flute", Ice.NONE),
        ("1 pour red bitter aperitif; top sparkling wine", "highball", Ice.FULL),
        ("30 ml gin; 60 ml red wine", "rocks", Ice.FULL),
        ("1 pour sweet vermouth", "rocks", Ice.FULL),
    ],
)
def test_what_is_mixed_stands_in_the_glass_of_its_family(parts, glass, ice):
    course = under("us-classic")
    made = resolve(built(parts), course.rules, course.pantry)

    assert (made.glass, made.ice) == (glass, ice)


def test_a_house_without_flutes_takes_the_glass_of_the_family():
    course = under("us-classic")
    glasses = {k: g for k, g in course.rules.glasses.items() if k != "flute"}
    rules = course.rules.model_copy(update={"glasses": glasses})

    assert resolve(built("60 ml sparkling wine"), rules, course.pantry).glass == "rocks"


@pytest.mark.parametrize(
    ("parts", "method", "glass"),
    [
        # Rocks glass 9 fl oz, half of it ice: 133 ml of room; double rocks 177, highball 148,
        # collins 177, pint 237.
        ("60 ml gin; 30 ml lemon juice", Method.BUILD, None),
        ("45 ml tequila; 90 ml orange juice; 15 ml grenadine", Method.BUILD, "double-rocks"),
        ("45 ml vodka; 120 ml ginger beer; 10 ml lime juice", Method.BUILD, "collins"),
        ("40 ml vodka; 120 ml cranberry juice; 30 ml grapefruit juice", Method.BUILD, "pint"),
        ("1.5 fl oz tequila; 1 fl oz orange liqueur; 1 fl oz lime juice", Method.SHAKE,
         "double-rocks"),
        # A short one takes the bigger short glass, though the highball glass is smaller.
        ("50 ml tequila; 20 ml orange liqueur; 15 ml lime juice", Method.SHAKE, "double-rocks"),
        ("60 ml gin; 120 ml red bitter aperitif; 120 ml sweet vermouth", Method.SHAKE, None),
    ],
)  # fmt: skip
def test_the_smallest_glass_of_its_use_that_holds_it(parts, method, glass):
    course = under("us-classic")
    spec = built(parts, method)

    assert fitted_glass(spec, course.rules, course.pantry) == glass
    if glass:
        fitted = in_fitted_glass(spec, course.rules, course.pantry)
        assert problems(fitted, course.rules, course.pantry) == ()


def test_what_is_measured_long_stands_in_a_long_glass_even_where_a_short_one_would_do():
    """151 ml fits the double rocks glass (177 ml of room); a long drink is no short one."""
    course = under("us-classic")
    spec = built("50 ml vodka; 101 ml cranberry juice")

    assert fitted_glass(spec, course.rules, course.pantry) == "collins"


def test_a_glass_that_the_recipe_names_stays():
    course = under("us-classic")
    spec = built("90 ml gin; 90 ml lemon juice").model_copy(update={"glass": "rocks"})

    assert fitted_glass(spec, course.rules, course.pantry) is None
