"""What can't be built is refused, with every reason; what can be built is not."""

import pytest
from hypothesis import given

from recipes.grammar import refusals
from recipes.grammar.ingredients import Ingredient, Kind
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.refusals import LEAST_TOP_ML, problems, read_spec
from recipes.grammar.rules import Family, GarnishRule, GlassRule
from recipes.grammar.spec import Garnish, Ice
from recipes.grammar.units import Unit
from tests.grammar.cocktails import recipes
from tests.grammar.kitchen import MENU, PANTRY, RULES, build, ml, pour, top
from tests.grammar.refused import COLA, LINE, REFUSED, layers, recipe


def refused(data, rules=RULES, pantry=PANTRY, **said):
    with pytest.raises(CannotBuild) as caught:
        read_spec(data, rules, pantry, **said)
    return caught.value.reasons


@pytest.mark.parametrize(("case", "data", "codes"), REFUSED, ids=[row[0] for row in REFUSED])
def test_refused_with_every_reason(case, data, codes):
    assert {r.code for r in refused(data)} == codes


def test_the_table_knows_every_code():
    assert set().union(*(codes for _case, _data, codes in REFUSED)) == refusals.CODES


@pytest.mark.parametrize("name", MENU)
def test_the_menu_is_buildable(name):
    written = MENU[name].model_dump(mode="json", exclude_none=True)
    assert read_spec(written, RULES, PANTRY) == MENU[name]


@given(spec=recipes())
def test_what_has_no_problem_is_read(spec):
    assert read_spec(spec.model_dump(), RULES, PANTRY) == spec


def test_a_glass_that_runs_over_says_by_how_much():
    """Rocks glass 9 fl oz, half of it ice: 133 ml of room; six pours are 177 ml."""
    assert refused(recipe({**LINE, "amount": 6})) == (
        Reason.of("over_full", glass="rocks", liquid_ml=177, room_ml=133),
    )


def test_a_drink_without_ice_may_fill_the_glass():
    spec = build(pour("vodka", 2), glass="shot", ice=Ice.NONE)
    assert problems(spec, RULES, PANTRY) == ()


@pytest.mark.parametrize(("left", "expected"), [(LEAST_TOP_ML - 0.1, 1), (LEAST_TOP_ML + 0.1, 0)])
def test_the_least_room_for_a_top_up(left, expected):
    glass = GlassRule(name="Test", amount=200, unit=Unit.ML, ice_share=0.5)
    rules = RULES.model_copy(update={"glasses": {**RULES.glasses, "test": glass}})
    spec = build(ml("vodka", 100 - left), top("cola"), glass="test")
    assert [r.code for r in problems(spec, rules, PANTRY)] == ["no_room_to_top"] * expected


def test_every_mixer_needs_its_own_room():
    spec = build(ml("vodka", 130), top("cola"), top("club-soda"))
    assert [r.code for r in problems(spec, RULES, PANTRY)] == ["no_room_to_top"]
    assert problems(build(ml("vodka", 130), top("cola")), RULES, PANTRY) == ()


def test_ice_that_the_house_puts_in_every_shot_spoils_layers_too():
    rules = RULES.model_copy(update={"default_ice": {Family.SHOT: Ice.FULL}})
    bad = refused(layers("coffee-liqueur", "irish-cream"), rules)
    assert [r.code for r in bad] == ["layer_over_ice"]
    assert read_spec(layers("coffee-liqueur", "irish-cream", ice="none"), rules, PANTRY)


def test_a_house_rule_may_name_a_garnish_that_nobody_stocks():
    rule = GarnishRule(key="all", garnish=(Garnish(item="umbrella"),))
    rules = RULES.model_copy(update={"garnish": (rule,)})
    assert refused(recipe(LINE, COLA), rules) == (
        Reason.of("unknown_ingredient", ingredient="umbrella"),
    )


def test_a_drink_without_alcohol_stands_in_other_modules_or_says_so():
    assert read_spec(recipe(COLA), RULES, PANTRY, alcohol_module=False)
    assert read_spec(recipe(COLA, alcohol_free=True), RULES, PANTRY)


@pytest.mark.parametrize(
    ("abv", "free", "codes"),
    [
        (0.5, True, []),
        (0.5, False, ["no_alcohol"]),
        (0.6, True, ["alcohol_in_alcohol_free"]),
        (0.6, False, []),
    ],
)
def test_where_alcohol_begins(abv, free, codes):
    brew = Ingredient(slug="brew", name="brew", kind=Kind.SODA_MIXER, abv=abv)
    spec = build(top("brew"), alcohol_free=free)
    assert [r.code for r in problems(spec, RULES, {**PANTRY, "brew": brew})] == codes


def test_a_rim_is_wet_by_what_the_house_rule_puts_on():
    salted = {"rim": {"item": "salt"}}
    assert read_spec(recipe(LINE, {**COLA, "ingredient": "tonic-water"}, **salted), RULES, PANTRY)
    assert refused(recipe(LINE, COLA, **salted))


def test_a_field_is_named_where_it_stands():
    reasons = refused(recipe(LINE, {**COLA, "how": "poured"}))
    assert reasons == (Reason.of("not_readable", field="parts.1.how", said="poured"),)
