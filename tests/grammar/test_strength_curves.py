"""Why less ice is weaker and a short double stronger than a tall one: by hand, and as laws."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.grammar.rules import GlassRule
from recipes.grammar.spec import Ice, Method
from recipes.grammar.strength import strength
from recipes.grammar.strength_curves import (
    NoCurve,
    Size,
    by_ice,
    by_size,
    doubled,
    ice_curve,
    is_thinned_by_room,
    size_curves,
    volumes,
    why_no_curve,
)
from recipes.grammar.units import US_FLOZ_ML
from tests.grammar.kitchen import MENU, PANTRY, RULES, build, floated, house, ml, pour, top

OZ = US_FLOZ_ML
HIGHBALLS = ("gin-tonic", "cape-codder", "cuba-libre", "madras", "press", "tequila-sunset")


def rules_with(glass_oz: float, ice_share: float, tall_oz: float = 16, tall_share: float = 0.5):
    glasses = {
        **RULES.glasses,
        "highball": GlassRule(name="Highball glass", amount=glass_oz, ice_share=ice_share),
        "pint": GlassRule(name="Pint glass", amount=tall_oz, ice_share=tall_share),
    }
    return RULES.model_copy(update={"glasses": glasses})


def test_a_highball_of_the_house_without_ice_with_light_and_with_full_ice():
    """10 fl oz glass, 1 fl oz at 40 %: 10, 7.5 and 5 fl oz of liquid are 4, 5.33 and 8 %."""
    found = by_ice(house("gin-tonic"), RULES, PANTRY)

    assert [a.ice for a in found] == [Ice.NONE, Ice.LIGHT, Ice.FULL]
    assert [a.ice_share for a in found] == [0, 0.25, 0.5]
    assert [a.strength.volume_ml for a in found] == pytest.approx([10 * OZ, 7.5 * OZ, 5 * OZ])
    assert [a.strength.abv_percent for a in found] == pytest.approx([4, 5.3333333, 8])


def test_its_single_and_its_doubles():
    """A short double: 2 fl oz in 5, 16 %; a tall one in a pint: 2 fl oz in 8, 10 %."""
    single, short, tall = by_size(house("gin-tonic"), RULES, PANTRY)

    assert [a.size for a in (single, short, tall)] == list(Size)
    assert [a.glass for a in (single, short, tall)] == ["highball", "highball", "pint"]
    assert single.strength.abv_percent == pytest.approx(8)
    assert short.strength.abv_percent == pytest.approx(16)
    assert tall.strength.abv_percent == pytest.approx(10)
    assert short.strength.ethanol_g == pytest.approx(2 * single.strength.ethanol_g)


def test_the_curve_runs_through_the_three_points():
    curve, found = (
        ice_curve(house("gin-tonic"), RULES, PANTRY),
        by_ice(house("gin-tonic"), RULES, PANTRY),
    )

    for at in found:
        [abv] = [abv for share, abv in curve if share == pytest.approx(at.ice_share)]
        assert abv == pytest.approx(at.strength.abv_percent)


@pytest.mark.parametrize(
    "name",
    ["negroni", "daiquiri", "draught-lager", "snakebite", "tequila-shot", "still-gin-tonic"],
)
def test_where_no_mixer_fills_the_room_there_is_nothing_to_compare(name):
    """Without top-ups ice takes no room from anybody; beer tops with alcohol of its own."""
    assert not is_thinned_by_room(house(name), PANTRY)
    assert by_ice(house(name), RULES, PANTRY) == ()
    assert ice_curve(house(name), RULES, PANTRY) == ()
    assert by_size(house(name), RULES, PANTRY) == ()


def test_only_what_is_measured_and_strong_is_doubled():
    spec = house(build(pour("tequila"), ml("lime-juice", 10), top("cola"), floated("grenadine", 5)))
    twice = doubled(spec, RULES, PANTRY, tall=False)

    assert twice is not None
    assert [p.ml for p in twice.parts] == pytest.approx([2 * OZ, 10, None, 5])


def test_a_double_that_runs_over_is_not_offered():
    spec = house(build(pour("gin", 2.4), top("tonic-water")))

    assert [a.size for a in by_size(spec, RULES, PANTRY)] == [Size.SINGLE, Size.TALL_DOUBLE]


def test_a_tall_glass_that_is_no_taller_is_not_offered():
    rules = rules_with(10, 0.5, tall_oz=10)

    assert doubled(house("gin-tonic", rules), rules, PANTRY, tall=True) is None


def test_a_glass_in_which_ice_takes_nothing_has_no_curve():
    rules = rules_with(10, 0)

    assert by_ice(house("gin-tonic", rules), rules, PANTRY) == ()


GLASS = st.tuples(st.floats(7, 20), st.floats(0.05, 0.8), st.floats(7, 30), st.floats(0, 0.8))


@pytest.mark.parametrize("name", HIGHBALLS)
@given(GLASS)
def test_less_ice_is_never_stronger_and_holds_the_same_alcohol(name, glass):
    rules = rules_with(*glass)
    found = by_ice(house(name, rules), rules, PANTRY)
    curve = ice_curve(house(name, rules), rules, PANTRY)

    for less, more in pairwise(found):
        assert less.strength.abv_percent <= more.strength.abv_percent
        assert less.strength.ethanol_g == pytest.approx(more.strength.ethanol_g)
        assert less.strength.volume_ml >= more.strength.volume_ml
    assert all(a <= b + 1e-9 for (_, a), (_, b) in pairwise(curve))


@pytest.mark.parametrize("name", HIGHBALLS)
@given(st.floats(7, 20), st.floats(0.05, 0.8), st.floats(7, 30))
def test_a_short_double_is_never_weaker_than_a_tall_one_and_holds_the_same(name, glass, ice, tall):
    rules = rules_with(glass, ice, tall, ice)
    found = {a.size: a.strength for a in by_size(house(name, rules), rules, PANTRY)}
    if Size.SHORT_DOUBLE in found and Size.TALL_DOUBLE in found:
        short, long = found[Size.SHORT_DOUBLE], found[Size.TALL_DOUBLE]
        assert short.abv_percent >= long.abv_percent
        assert short.ethanol_g == pytest.approx(long.ethanol_g)


@pytest.mark.parametrize("name", MENU)
def test_the_volumes_are_those_that_the_strength_is_reckoned_from(name):
    found = volumes(house(name), PANTRY)

    assert found.finished == pytest.approx(strength(house(name), PANTRY).volume_ml)
    assert min(found.poured, found.melted, found.mixer) >= 0


def test_a_shaken_drink_before_and_after():
    """100 ml at 25 %: the published curve adds 54.06 ml of water (D. Arnold, 2014; from memory)."""
    spec = house(build(ml("red-aperitif", 100), method=Method.SHAKE, glass="pint", ice=Ice.NONE))
    found = volumes(spec, PANTRY)

    assert found.before_abv == pytest.approx(25)
    assert found.melted == pytest.approx(54.06, abs=0.01)
    assert strength(spec, PANTRY).abv_percent == pytest.approx(25 / 1.5406, abs=0.01)


def test_the_curves_of_sizes_end_where_the_sizes_are():
    sizes = by_size(house("gin-tonic"), RULES, PANTRY)
    found = size_curves(house("gin-tonic"), RULES, PANTRY)

    assert {s: c[-1][1] for s, c in found.items()} == pytest.approx(
        {a.size: a.strength.abv_percent for a in sizes}
    )
    assert size_curves(house("negroni"), RULES, PANTRY) == {}


@pytest.mark.parametrize(
    ("slug", "why"),
    [
        ("gin-tonic", None),
        ("negroni", NoCurve.NO_TOP),
        ("draught-lager", NoCurve.NO_ICE),
        ("tequila-shot", NoCurve.NO_TOP),
    ],
)
def test_why_ice_changes_nothing(slug, why):
    assert why_no_curve(house(slug), RULES, PANTRY) is why


def test_every_other_reason_why_ice_changes_nothing():
    soft = house(build(top("cola"), alcohol_free=True))
    strong = house(build(pour("gin"), top("sparkling-wine")))
    frozen = house(build(pour("gin"), top("cola"), method=Method.BLEND))

    assert why_no_curve(soft, RULES, PANTRY) is NoCurve.NO_ALCOHOL
    assert why_no_curve(strong, RULES, PANTRY) is NoCurve.STRONG_TOP
    assert why_no_curve(frozen, RULES, PANTRY) is NoCurve.BLENDED
