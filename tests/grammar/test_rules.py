"""House rules: pours, families and what goes on a drink."""

import pytest

from recipes.grammar.house_spec import garnish_rule
from recipes.grammar.ingredients import Kind, LiquorClass, liquor_class
from recipes.grammar.rules import Family, GarnishRule, GlassRule, PourRule, family
from recipes.grammar.spec import Garnish, Ice, Method, When
from recipes.grammar.units import Unit
from tests.grammar.kitchen import (
    GARNISH_RULES,
    MENU,
    PANTRY,
    RULES,
    build,
    house,
    ml,
    pour,
    top,
)

LIME, LEMON = "lime", "lemon"
ALWAYS, ASK, ON_REQUEST = When.ALWAYS, When.ASK, When.ON_REQUEST


@pytest.mark.parametrize(
    ("parts", "garnish"),
    [
        (["gin", "tonic-water"], [(LIME, ALWAYS)]),
        (["vodka", "tonic-water"], [(LIME, ALWAYS)]),
        (["tequila", "tonic-water"], [(LIME, ALWAYS)]),
        (["vodka", "tonic-water", "cranberry-juice"], [(LIME, ALWAYS)]),
        (["bourbon", "cola"], []),
        (["bourbon", "ginger-ale"], []),
        (["bourbon", "club-soda"], []),
        (["bourbon", "ginger-ale", "club-soda"], []),
        (["vodka", "club-soda"], [(LEMON, ASK), (LIME, ASK)]),
        (["vodka", "cranberry-juice"], [(LIME, ON_REQUEST)]),
        (["vodka", "cranberry-juice", "pineapple-juice"], []),
        (["vodka", "cranberry-juice", "orange-juice"], []),
        (["vodka", "orange-juice"], []),
        (["tequila", "pineapple-juice"], []),
        (["white-rum", "cola"], []),
    ],
)
def test_the_classic_us_set(parts, garnish):
    """Common practice, no source."""
    spec = build(pour(parts[0]), *(top(p) for p in parts[1:]))
    assert [(g.item, g.when) for g in house(spec).garnish] == garnish


def rule_for(spec, *rules):
    found = garnish_rule(spec, RULES.model_copy(update={"garnish": rules}), PANTRY)
    return found.key if found else None


LIME_ALWAYS = (Garnish(item=LIME),)
TONIC = GarnishRule(key="tonic", needs=(("tonic-water",),), garnish=LIME_ALWAYS)
ANY = GarnishRule(key="any")
GIN = GarnishRule(key="gin", needs=(("gin",),))


def test_the_first_rule_that_matches_decides():
    assert rule_for(MENU["gin-tonic"], TONIC, ANY) == "tonic"
    assert rule_for(MENU["gin-tonic"], ANY, TONIC) == "any"
    assert rule_for(MENU["gin-tonic"], GIN, TONIC) == "gin"
    assert rule_for(MENU["whiskey-cola"], TONIC, GIN) is None


def test_a_recipe_that_says_what_goes_on_beats_every_rule():
    for garnish in ((), LIME_ALWAYS):
        spec = build(pour("gin"), top("tonic-water"), garnish=garnish)
        assert rule_for(spec, TONIC, ANY) is None
        assert len(house(spec).garnish) == len(garnish)


@pytest.mark.parametrize(
    ("needs", "parts", "matches"),
    [
        ((), ["vodka"], True),
        ((("vodka",),), ["vodka"], True),
        ((("vodka",),), ["gin"], False),
        ((("spirit",),), ["gin"], True),
        ((("soda_mixer",),), ["gin", "cola"], True),
        ((("vodka", "gin"),), ["gin"], True),
        ((("vodka",), ("gin",)), ["gin"], False),
        ((("vodka",), ("gin",)), ["gin", "vodka"], True),
        ((("spirit",), ("gin",)), ["gin"], True),
    ],
)
def test_needs(needs, parts, matches):
    """Each group needs one part of the drink, by slug, kind or class."""
    items = tuple(PANTRY[p] for p in parts)
    assert GarnishRule(key="k", needs=needs).matches(items, Family.HIGHBALL) is matches


@pytest.mark.parametrize(
    ("parts", "only", "matches"),
    [
        (["vodka", "club-soda"], True, True),
        (["vodka", "club-soda", "lime-juice"], True, False),
        (["vodka", "club-soda", "lime-juice"], False, True),
        (["vodka", "gin", "club-soda"], True, False),
    ],
)
def test_only(parts, only, matches):
    """With `only`, a rule says nothing about a drink that holds anything else."""
    rule = GarnishRule(key="k", needs=(("vodka",), ("club-soda",)), only=only)
    assert rule.matches(tuple(PANTRY[p] for p in parts), Family.HIGHBALL) is matches


def test_families():
    rule = GarnishRule(key="k", families=(Family.HIGHBALL, Family.ROCKS))
    fits = [f for f in Family if rule.matches((PANTRY["gin"],), f)]
    assert fits == [Family.HIGHBALL, Family.ROCKS]


@pytest.mark.parametrize(
    ("spec", "expected"),
    [
        (build(pour("gin"), top("tonic-water")), Family.HIGHBALL),
        (build(pour("gin"), top("tonic-water"), method=Method.SHAKE), Family.HIGHBALL),
        (build(pour("bourbon", 2)), Family.ROCKS),
        (build(pour("bourbon", 2), ice=Ice.FULL), Family.ROCKS),
        (build(pour("gin", 2), method=Method.STIR, ice=Ice.NONE), Family.UP),
        (build(pour("tequila"), glass="shot"), Family.SHOT),
        (build(ml("gin", 20), ml("vodka", 20), method=Method.LAYER), Family.SHOT),
        (build(pour("white-rum"), method=Method.BLEND), Family.BLENDED),
        (build(top("lager"), method=Method.DRAUGHT), Family.DRAUGHT),
        (build(top("stout"), method=Method.TWO_PART), Family.DRAUGHT),
        (build(ml("lager", 330), method=Method.OPEN), Family.BOTTLE),
    ],
)
def test_families_of_builds(spec, expected):
    assert family(spec) is expected


def test_every_family_is_reached_by_some_drink_of_the_menu():
    assert {family(spec) for spec in MENU.values()} == set(Family)


def test_measures_of_rules_are_millilitres():
    """One US fluid ounce is 29.5735295625 ml (NIST Handbook 44, appendix C)."""
    assert PourRule(amount=1.5).ml == pytest.approx(44.36029434)
    assert GlassRule(name="Pint", amount=1, unit=Unit.IMPERIAL_PINT).ml == pytest.approx(568.26125)
    assert RULES.tolerance_ml == pytest.approx(29.5735295625 / 8)


def test_every_kind_has_a_class_and_every_class_a_kind():
    assert {liquor_class(kind) for kind in Kind} == set(LiquorClass)


def test_the_rules_of_the_kitchen_have_different_keys():
    assert len({rule.key for rule in GARNISH_RULES}) == len(GARNISH_RULES)
