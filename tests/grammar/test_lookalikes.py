"""How alike two drinks are."""

import pytest
from hypothesis import given

from recipes.grammar.aspects import Aspect
from recipes.grammar.drink import make_drink
from recipes.grammar.lookalikes import WEIGHTS, distance, nearest, one_build, same_build, twins
from recipes.grammar.units import Unit
from tests.grammar.cocktails import recipes
from tests.grammar.kitchen import MENU, PANTRY, RULES, build, house, ml, pour, top

NOTHING_MORE = 1 + 1e-12


def drink(slug, spec=None):
    return make_drink(
        slug=slug, name=slug, module="m", spec=spec or MENU[slug], rules=RULES, pantry=PANTRY
    )


MENU_DRINKS = [drink(slug) for slug in MENU]


@given(spec=recipes())
def test_a_drink_is_no_distance_from_itself(spec):
    assert distance(house(spec), house(spec)) == 0


@given(one=recipes(), other=recipes())
def test_distance_is_symmetric_and_between_nought_and_one(one, other):
    apart = distance(house(one), house(other))
    assert apart == pytest.approx(distance(house(other), house(one)))
    assert 0 <= apart <= NOTHING_MORE


@given(one=recipes(), middle=recipes(), other=recipes())
def test_no_way_round_is_shorter(one, middle, other):
    """Jaccard's distance is a metric, and so is a weighted sum of metrics."""
    a, b, c = house(one), house(middle), house(other)
    assert distance(a, c) <= distance(a, b) + distance(b, c) + 1e-12


def test_weights_sum_to_one():
    assert WEIGHTS.keys() == set(Aspect)
    assert sum(WEIGHTS.values()) == pytest.approx(1)


def test_nothing_in_common_is_one():
    beer, shaken = house("draught-lager"), house("margarita")
    assert distance(beer, shaken) == pytest.approx(1)


@pytest.mark.parametrize(
    ("name", "family"),
    [
        ("madras", {"sea-breeze", "bay-breeze"}),
        ("sea-breeze", {"madras", "bay-breeze"}),
        ("bay-breeze", {"madras", "sea-breeze"}),
    ],
)
def test_the_breeze_family_is_nearest_itself(name, family):
    assert {d.slug for d in nearest(drink(name), MENU_DRINKS, count=2)} == family


@pytest.mark.parametrize(
    ("name", "likeliest"),
    [
        ("tequila-sunrise", "tequila-sunset"),
        ("tequila-sunset", "tequila-sunrise"),
        ("gin-tonic", "light-gin-tonic"),
        ("snakebite", "draught-lager"),
    ],
)
def test_the_likeliest_mix_up(name, likeliest):
    assert nearest(drink(name), MENU_DRINKS)[0].slug == likeliest


def test_two_names_for_one_build_are_the_same():
    other = drink("vodka-cranberry", MENU["cape-codder"])
    assert same_build(other, drink("cape-codder"))
    assert not same_build(other, drink("screwdriver"))
    found = nearest(other, MENU_DRINKS, count=len(MENU))
    assert "cape-codder" not in {d.slug for d in found}


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ([pour("gin"), ml("lemon-juice", 20)], [ml("lemon-juice", 20), pour("gin")], True),
        ([ml("gin", 30)], [pour("gin", 3, Unit.CL)], True),
        ([pour("gin"), top("tonic-water")], [pour("gin", 2), top("tonic-water")], False),
        ([pour("gin"), top("tonic-water")], [pour("gin"), top("club-soda")], False),
    ],
)  # fmt: skip
def test_one_build_however_it_is_written(one, other, same):
    """Neither the order of equal parts matters nor the unit of an amount."""
    mine, theirs = drink("one", build(*one)), drink("other", build(*other))

    assert one_build(mine, theirs) is one_build(theirs, mine) is same
    assert twins(mine, [theirs, mine]) == ((theirs,) if same else ())


def test_a_drink_is_never_its_own_look_alike():
    found = nearest(drink("madras"), MENU_DRINKS, count=len(MENU))
    assert "madras" not in {d.slug for d in found}


def test_nearest_first_and_ties_by_slug():
    me = drink("madras")
    found = nearest(me, reversed(MENU_DRINKS), count=len(MENU))
    ranked = [(round(distance(me.spec, d.spec), 9), d.slug) for d in found]
    assert ranked == sorted(ranked)
    assert len(nearest(me, MENU_DRINKS, count=2)) == 2


def test_a_double_is_further_from_a_single_than_nothing():
    single, double = house("screwdriver"), house(build(pour("vodka", 2), top("orange-juice")))
    assert 0 < distance(single, double) < distance(single, house("draught-lager"))


def test_layers_in_another_order_are_not_the_same():
    spec = MENU["three-layers"]
    turned = house(spec.model_copy(update={"parts": spec.parts[::-1]}))
    assert distance(house(spec), turned) > 0


def test_by_hand():
    """Madras and bay breeze share cranberry and that there are two mixers, of four traits."""
    assert distance(house("madras"), house("bay-breeze")) == pytest.approx(0.30 * (1 - 2 / 4))
    assert distance(house("madras"), house("screwdriver")) == pytest.approx(0.30 * (1 - 1 / 4))
    one = house(build(ml("gin", 30), glass="rocks", garnish=(), straw=False))
    other = house(build(ml("vodka", 30), glass="rocks", garnish=(), straw=False))
    assert distance(one, other) == pytest.approx(0.35)
