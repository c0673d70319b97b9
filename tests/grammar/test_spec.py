"""The recipe as written."""

import pytest
from hypothesis import given
from pydantic import ValidationError

from recipes.grammar.spec import BuildSpec, How, Ice, Method
from tests.grammar.cocktails import recipes
from tests.grammar.kitchen import MENU, build, first_in, floated, pour, top


def test_what_a_recipe_leaves_out_is_left_to_the_house():
    spec = build(pour("vodka"))
    assert (spec.glass, spec.ice, spec.garnish, spec.straw) == (None, None, None, None)
    assert spec.method is Method.BUILD
    assert not spec.alcohol_free


def test_an_empty_garnish_is_a_decision():
    assert build(pour("vodka"), garnish=()).garnish == ()


def test_a_recipe_does_not_change_under_its_reader():
    with pytest.raises(ValidationError, match="frozen"):
        build(pour("vodka")).ice = Ice.FULL


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("tequila-sunrise", True),
        ("tequila-sunset", True),
        ("white-russian", True),
        ("three-layers", True),
        ("bay-breeze", False),
        ("mojito", False),
        ("margarita", False),
        ("nitro-stout", False),
    ],
)
def test_where_sequence_is_the_drink(name, expected):
    assert MENU[name].sequence_is_the_drink is expected


def test_mixers_are_what_tops_the_drink():
    spec = build(
        first_in("grenadine", 5), pour("vodka"), top("cola"), floated("cream", 5), top("club-soda")
    )
    assert [p.ingredient for p in spec.mixers] == ["cola", "club-soda"]
    assert all(p.how is How.TOP for p in spec.mixers)


@pytest.mark.parametrize("name", MENU)
def test_a_recipe_survives_being_stored(name):
    assert BuildSpec.model_validate_json(MENU[name].model_dump_json()) == MENU[name]


@given(spec=recipes())
def test_any_recipe_survives_being_stored(spec):
    assert BuildSpec.model_validate_json(spec.model_dump_json()) == spec
