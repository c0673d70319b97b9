"""A recipe resolved under the house rules."""

import pytest
from hypothesis import given

from recipes.grammar.house_spec import Origin
from recipes.grammar.ingredients import LiquorClass
from recipes.grammar.rules import MeasuredBy, PourRule
from recipes.grammar.spec import How, Ice, Method, Rim
from recipes.grammar.units import US_FLOZ_ML, Unit
from tests.grammar.cocktails import recipes
from tests.grammar.kitchen import RULES, build, floated, garnished, house, ml, pour, top

OZ = US_FLOZ_ML


def test_what_a_recipe_leaves_out_comes_from_the_house():
    spec = house("gin-tonic")
    assert (spec.glass, spec.ice, spec.straw) == ("highball", Ice.FULL, True)
    assert spec.glass_ml == pytest.approx(10 * OZ)
    o = spec.origins
    assert (o.glass, o.ice, o.garnish, o.straw) == (Origin.RULE,) * 4
    assert o.garnish_rule == "tonic-lime"


def test_what_a_recipe_says_stands():
    spec = house(
        build(pour("gin"), top("tonic-water"), glass="pint", ice=Ice.LIGHT, straw=False, garnish=())
    )
    assert (spec.glass, spec.ice, spec.straw, spec.garnish) == ("pint", Ice.LIGHT, False, ())
    o = spec.origins
    assert (o.glass, o.ice, o.garnish, o.straw) == (Origin.RECIPE,) * 4
    assert o.garnish_rule is None


@pytest.mark.parametrize(
    ("ice", "method", "share"),
    [
        (Ice.FULL, Method.BUILD, 0.5),
        (Ice.CRUSHED, Method.BUILD, 0.5),
        (Ice.LIGHT, Method.BUILD, 0.25),
        (Ice.NONE, Method.BUILD, 0.0),
        (Ice.FULL, Method.SHAKE, 0.5),
        (Ice.FULL, Method.BLEND, 0.0),
    ],
)
def test_the_room_that_ice_takes(ice, method, share):
    spec = house(build(pour("gin"), glass="highball", ice=ice, method=method))
    assert spec.ice_share == share
    assert spec.room_ml == pytest.approx(10 * OZ * (1 - share))


def test_less_ice_means_more_mixer_and_the_same_alcohol():
    full, light = house("gin-tonic"), house("light-gin-tonic")
    assert light.mixer_ml > full.mixer_ml
    assert light.poured_ml == full.poured_ml


def test_a_pour_is_what_the_house_says():
    double = house(build(pour("vodka", 2), top("cola"))).parts[0]
    assert (double.amount, double.unit, double.ml) == (2, Unit.POUR, pytest.approx(2 * OZ))
    assert double.measured_by is MeasuredBy.JIGGER
    stamped = PourRule(amount=25, unit=Unit.ML, measured_by=MeasuredBy.STAMPED)
    rules = RULES.model_copy(update={"pours": {LiquorClass.SPIRIT: stamped}})
    there = house(build(pour("vodka", 2), top("cola")), rules).parts[0]
    assert (there.ml, there.measured_by) == (50, MeasuredBy.STAMPED)


def test_an_absolute_amount_is_the_same_in_every_house():
    part = house("margarita").parts[2]
    assert (part.ingredient, part.ml) == ("lime-juice", 15)
    assert part.measured_by is None  # this house has no pour for juices


def test_counted_things_have_no_volume():
    mint = house("mojito").how(How.MUDDLED)[0]
    assert (mint.amount, mint.unit, mint.ml) == (6, Unit.LEAF, None)


def test_two_mixers_share_what_is_left():
    spec = house("madras")
    assert [p.share for p in spec.mixers] == [0.5, 0.5]
    assert spec.mixer_ml == pytest.approx(5 * OZ - OZ)


def test_shares_are_relative():
    spec = house(build(pour("vodka"), top("cola", 3), top("club-soda", 1)))
    assert [p.share for p in spec.mixers] == [0.75, 0.25]


def test_floats_take_room_from_the_mixer():
    assert house("tequila-sunrise").mixer_ml == pytest.approx(5 * OZ - OZ - 15)


@pytest.mark.parametrize(
    ("said", "wet"),
    [
        ({"rim": Rim(item="salt"), "garnish": garnished("lime")}, "lime"),
        ({"rim": Rim(item="salt"), "garnish": garnished("cherry", "lemon")}, "cherry"),
        ({"rim": Rim(item="salt"), "garnish": ()}, "lime-juice"),
        ({"rim": Rim(item="salt", wet_with="grenadine"), "garnish": ()}, "grenadine"),
    ],
)
def test_what_wets_the_rim(said, wet):
    """What the recipe names, else the garnish, else the drink's own sour."""
    assert house(build(pour("tequila"), ml("lime-juice", 15), **said)).rim.wet_with == wet


def test_a_rim_that_nothing_wets_is_no_house_spec():
    with pytest.raises(KeyError, match="wets the rim"):
        house(build(pour("vodka"), top("cola"), rim=Rim(item="salt")))


def test_an_unknown_glass_is_no_house_spec():
    with pytest.raises(KeyError):
        house(build(pour("vodka"), glass="boot"))


@given(spec=recipes())
def test_volumes_hold_together(spec):
    made = house(spec)
    assert made.poured_ml <= made.room_ml + 0.5
    if made.mixers:
        assert sum(p.share for p in made.mixers) == pytest.approx(1)
        assert made.poured_ml + made.mixer_ml == pytest.approx(made.room_ml)
    else:
        assert made.mixer_ml == 0


@given(spec=recipes())
def test_resolving_twice_gives_the_same_drink(spec):
    assert house(spec) == house(spec)


def test_a_float_is_measured_as_a_pour_is():
    spec = house(build(pour("vodka"), floated("irish-cream", 1, Unit.POUR)))
    assert spec.parts[1].measured_by is MeasuredBy.JIGGER
    assert spec.parts[1].ml == pytest.approx(OZ)
