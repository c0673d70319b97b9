"""Standard drinks against governments' own examples, dilution against the published curves, and
linear mixing against the international density table of ethanol and water.
"""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.grammar.house_spec import HouseSpec, resolve
from recipes.grammar.ingredients import Ingredient, Kind
from recipes.grammar.spec import BuildSpec, How, Ice, Method, Part
from recipes.grammar.strength import (
    ETHANOL_G_PER_ML,
    MODAL_STANDARD_DRINK_G,
    STANDARD_DRINK_G,
    dilution,
    melted_ml,
    strength,
)
from recipes.grammar.units import Unit, to_ml
from tests.grammar.kitchen import MENU, PANTRY, RULES, build, first_in, floated, house, ml, top


def served(amount: float, unit: Unit, abv: float, country: str) -> float:
    """Standard drinks in one measured drink of this strength."""
    bar = {"drink": Ingredient(slug="drink", name="drink", kind=Kind.VODKA, abv=abv)}
    spec = BuildSpec(glass="pint", parts=(Part(ingredient="drink", amount=amount, unit=unit),))
    return strength(resolve(spec, RULES, bar), bar, country).standard_drinks


STANDARD_DRINKS = [
    # United States, NIAAA: 0.6 US fl oz of ethanol, 14.0 g, is one.
    ("us", 0.6, Unit.FLOZ, 96, 0.96),
    ("us", 12, Unit.FLOZ, 5, 1.0),
    ("us", 5, Unit.FLOZ, 12, 1.0),
    ("us", 1.5, Unit.FLOZ, 40, 1.0),
    # United Kingdom, NHS: a unit is 10 ml.
    ("gb", 568, Unit.ML, 4, 2.3),
    ("gb", 175, Unit.ML, 13, 2.3),
    ("gb", 25, Unit.ML, 40, 1.0),
    ("gb", 35, Unit.ML, 40, 1.4),
    ("gb", 330, Unit.ML, 5, 1.7),
    # Australia, government: litres x percent x 0.789 over 10 g.
    ("au", 375, Unit.ML, 5, 1.5),
    # Canada, CCSA 2023: 17.05 ml or 13.45 g; its ounces are imperial.
    ("ca", 12, Unit.IMPERIAL_FLOZ, 5, 1.0),
    ("ca", 5, Unit.IMPERIAL_FLOZ, 12, 1.0),
    ("ca", 1.5, Unit.IMPERIAL_FLOZ, 40, 1.0),
]


@pytest.mark.parametrize(("country", "amount", "unit", "abv", "expected"), STANDARD_DRINKS)
def test_standard_drinks_are_those_of_the_governments_own_examples(
    country, amount, unit, abv, expected
):
    digits = 2 if expected < 1 else 1
    assert round(served(amount, unit, abv, country), digits) == expected


@pytest.mark.parametrize(
    ("country", "ethanol_ml", "grams"),
    [
        ("us", to_ml(0.6, Unit.FLOZ), 14.0),  # NIAAA
        ("gb", 10, 7.89),  # NHS: 10 ml, weighed at 20 °C
        ("ca", 17.05, 13.45),  # CCSA 2023
    ],
)
def test_millilitres_and_grams_of_a_standard_drink_agree(country, ethanol_ml, grams):
    assert ethanol_ml * ETHANOL_G_PER_ML == pytest.approx(grams, abs=0.01)
    assert STANDARD_DRINK_G[country] == pytest.approx(grams, abs=0.001)


def test_a_country_that_says_nothing_gets_the_modal_ten_grams():
    """Kalinowski and Humphreys 2016: the most common of 37 countries, which range from 8 to 20."""
    assert served(100, Unit.ML, 10, "xx") == pytest.approx(7.89 / MODAL_STANDARD_DRINK_G)
    assert MODAL_STANDARD_DRINK_G == 10
    assert all(7.8 <= grams <= 20 for grams in STANDARD_DRINK_G.values())


# OIML R 22:1975, annex: density in kg/m3 at 20 °C over the mass fraction of ethanol.
OIML = (
    9.982012300e2,
    -1.929769495e2,
    3.891238958e2,
    -1.668103923e3,
    1.352215441e4,
    -8.829278388e4,
    3.062874042e5,
    -6.138381234e5,
    7.470172998e5,
    -5.478461354e5,
    2.234460334e5,
    -3.903285426e4,
)


def density(by_mass: float) -> float:
    return sum(a * by_mass**k for k, a in enumerate(OIML))


def by_mass(abv: float) -> float:
    """The mass fraction of what has this strength in percent by volume, found by halving."""
    low, high = 0.0, 1.0
    for _ in range(60):
        middle = (low + high) / 2
        if 100 * middle * density(middle) / density(1.0) < abv:
            low = middle
        else:
            high = middle
    return low


def mixed_ml(one_ml: float, one_abv: float, other_ml: float, other_abv: float) -> float:
    """What two liquids of ethanol and water really fill once they are mixed."""
    masses = [v * density(by_mass(a)) for v, a in ((one_ml, one_abv), (other_ml, other_abv))]
    ethanol = masses[0] * by_mass(one_abv) + masses[1] * by_mass(other_abv)
    return sum(masses) / density(ethanol / sum(masses))


@pytest.mark.parametrize(("abv", "kg_m3"), [(0, 998.20), (40, 948.05), (50, 930.14), (100, 789.24)])
def test_the_density_table_is_copied_right(abv, kg_m3):
    assert density(by_mass(abv)) == pytest.approx(kg_m3, abs=0.01)


def test_ethanol_is_weighed_at_twenty_degrees():
    """0.785 would be its density at 25 °C."""
    assert pytest.approx(density(1.0) / 1000, abs=0.0005) == ETHANOL_G_PER_ML


def test_half_water_half_ethanol_fill_less_than_they_did_apart():
    assert mixed_ml(50, 100, 50, 0) == pytest.approx(96.46, abs=0.01)


def poured(one: tuple[float, float], other: tuple[float, float]) -> float:
    """The volume that `strength` gives for two measured liquids, each (ml, percent)."""
    bar = {
        name: Ingredient(slug=name, name=name, kind=Kind.VODKA, abv=abv)
        for name, (_, abv) in (("one", one), ("other", other))
    }
    parts = (ml("one", one[0]), ml("other", other[0]))
    return strength(resolve(BuildSpec(parts=parts), RULES, bar), bar).volume_ml


@given(st.floats(1, 200), st.floats(0, 96), st.floats(1, 200), st.floats(0, 96))
def test_adding_volumes_overstates_a_drink_by_at_most_3_7_percent(ml_1, abv_1, ml_2, abv_2):
    stated = poured((ml_1, abv_1), (ml_2, abv_2))

    assert stated <= 1.037 * mixed_ml(ml_1, abv_1, ml_2, abv_2)


def test_the_bound_is_no_looser_than_it_must_be():
    """Pure ethanol with water, at the worst mixture, comes to within a tenth of it."""
    worst = max(100 / mixed_ml(v, 100, 100 - v, 0) for v in range(1, 100))

    assert 1.036 < worst <= 1.037


def test_a_bar_drink_is_far_inside_the_bound():
    """What a bar mixes starts near 40 %: with as much water it is off by less than 0.1 %."""
    stated = poured((50, 40), (50, 0))

    assert stated == pytest.approx(mixed_ml(50, 40, 50, 0), rel=0.001)


def with_method(method: Method, abv: float) -> HouseSpec:
    bar = {"drink": Ingredient(slug="drink", name="drink", kind=Kind.VODKA, abv=abv)}
    spec = BuildSpec(glass="pint", ice=Ice.NONE, method=method, parts=(ml("drink", 100),))
    return resolve(spec, RULES, bar)


@pytest.mark.parametrize(
    ("method", "abv", "expected"),
    [
        # D. Arnold, Liquid Intelligence, 2014 (curves from memory), reckoned by hand.
        (Method.STIR, 0, 0.145),
        (Method.STIR, 30, 0.4099),
        (Method.SHAKE, 0, 0.203),
        (Method.SHAKE, 25, 0.5406),
        # Common practice, no source.
        (Method.BLEND, 20, 1.0),
        (Method.BUILD, 40, 0.0),
    ],
)
def test_ice_thins_by_the_published_curves(method, abv, expected):
    bar = {"drink": Ingredient(slug="drink", name="drink", kind=Kind.VODKA, abv=abv)}

    assert dilution(with_method(method, abv), bar) == pytest.approx(expected, abs=5e-5)


@pytest.mark.parametrize("method", [Method.SHAKE, Method.STIR, Method.BLEND])
def test_only_what_is_in_the_tin_is_thinned(method):
    """A float goes on after the shake and grenadine in before the ice: neither met the shaking,
    so they neither melt ice nor count in the strength that it melts at."""
    tin = (ml("gin", 40), ml("lime-juice", 20))
    plain = house(build(*tin, method=method, glass="pint"))
    finished = build(first_in("grenadine", 15), *tin, floated("red-wine", 30),
                     method=method, glass="pint")  # fmt: skip

    assert melted_ml(house(finished), PANTRY) == pytest.approx(melted_ml(plain, PANTRY))
    assert melted_ml(plain, PANTRY) > 0
    got = strength(house(finished), PANTRY).volume_ml - strength(plain, PANTRY).volume_ml
    assert got == pytest.approx(45)


def test_shaking_thins_more_than_stirring():
    for abv in range(0, 45, 5):
        bar = {"drink": Ingredient(slug="drink", name="drink", kind=Kind.VODKA, abv=abv)}
        stirred, shaken = (dilution(with_method(m, abv), bar) for m in (Method.STIR, Method.SHAKE))
        assert 0 < stirred < shaken < 1


def test_less_ice_is_weaker_and_holds_the_same_alcohol():
    found = [
        strength(resolve(build(ml("vodka", 30), top("cola"), ice=ice), RULES, PANTRY), PANTRY)
        for ice in (Ice.FULL, Ice.LIGHT, Ice.NONE)
    ]

    assert len({round(s.ethanol_g, 9) for s in found}) == 1
    assert all(more.abv_percent > less.abv_percent for more, less in pairwise(found))


def test_a_highball_of_the_house_worked_by_hand():
    """10 fl oz glass, half of it ice, 1 fl oz at 40 %: 5 fl oz at 8 %, two thirds of a standard."""
    found = strength(resolve(MENU["gin-tonic"], RULES, PANTRY), PANTRY)

    assert found.volume_ml == pytest.approx(to_ml(5, Unit.FLOZ))
    assert found.abv_percent == pytest.approx(8.0)
    assert found.ethanol_g == pytest.approx(0.4 * 29.5735295625 * 0.789)
    assert found.standard_drinks == pytest.approx(0.667, abs=0.001)


def test_beer_that_tops_a_drink_counts():
    """A pint of lager at 4.5 %: 473 ml, 16.8 g."""
    found = strength(resolve(MENU["draught-lager"], RULES, PANTRY), PANTRY)

    assert found.ethanol_g == pytest.approx(473.176 * 0.045 * 0.789, abs=0.01)


@pytest.mark.parametrize("name", MENU)
def test_no_drink_is_stronger_than_its_strongest_part(name):
    house = resolve(MENU[name], RULES, PANTRY)
    strongest = max(PANTRY[p.ingredient].abv for p in house.parts if p.how is not How.MUDDLED)

    assert 0 <= strength(house, PANTRY).abv_percent <= strongest
