"""What a recipe becomes while a bottle is out: a table of the trade's cases, and laws."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.grammar.house_spec import resolve
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.spec import BuildSpec, Rim
from recipes.grammar.tonight import rules_served, rules_tonight, spec_tonight
from tests.grammar.kitchen import MENU, PANTRY, RULES, build, dashed, garnished, pour, top


def parts(spec: BuildSpec) -> list[tuple[str, float | None, float]]:
    return [(p.ingredient, p.amount, p.share) for p in spec.parts]


def test_the_substitute_is_poured_in_its_place_and_as_much_of_it():
    tonight = spec_tonight(MENU["negroni"], {"gin": "vodka"})

    assert parts(tonight) == [("vodka", 1, 1), ("sweet-vermouth", 1, 1), ("red-aperitif", 1, 1)]
    assert tonight.garnish == MENU["negroni"].garnish
    assert tonight.method is MENU["negroni"].method


def test_a_recipe_without_the_bottle_is_the_same():
    assert spec_tonight(MENU["madras"], {"gin": "vodka", "salt": None}) is MENU["madras"]


@pytest.mark.parametrize(
    ("name", "out"),
    [("negroni", "gin"), ("gin-tonic", "tonic-water"), ("salty-dog", "salt"), ("mojito", "mint")],
)
def test_what_is_in_the_glass_or_on_its_rim_can_not_be_left_out(name, out):
    with pytest.raises(CannotBuild) as caught:
        spec_tonight(MENU[name], {out: None})

    assert caught.value.reasons == (Reason.of("bottle_out", ingredient=out),)


def test_everything_that_is_missing_is_named_once():
    with pytest.raises(CannotBuild) as caught:
        spec_tonight(MENU["negroni"], {"gin": None, "red-aperitif": None, "vodka": None})

    assert [r.values["ingredient"] for r in caught.value.reasons] == ["gin", "red-aperitif"]


def test_what_wets_the_rim_follows_too():
    spec = build(
        pour("gin"),
        top("grapefruit-juice"),
        rim=Rim(item="salt", wet_with="lime"),
        garnish=garnished("lemon"),
    )

    assert spec_tonight(spec, {"lime": "lemon", "salt": "sugar"}).rim == Rim(
        item="sugar", wet_with="lemon"
    )
    with pytest.raises(CannotBuild):
        spec_tonight(spec, {"lime": None})


def test_a_garnish_without_substitute_is_left_off_and_the_drink_is_served():
    tonight = spec_tonight(MENU["old-fashioned"], {"cherry": None})

    assert tonight.garnish == garnished("orange")
    assert tonight.parts == MENU["old-fashioned"].parts


def test_a_garnish_that_stands_in_for_its_neighbour_is_put_on_once():
    assert spec_tonight(MENU["old-fashioned"], {"cherry": "orange"}).garnish == garnished("orange")


def test_the_garnish_of_a_house_rule_follows():
    for out, expected in ({"lime": "lemon"}, ["lemon"]), ({"lime": None}, []):
        house = resolve(MENU["gin-tonic"], rules_tonight(RULES, out), PANTRY)

        assert [g.item for g in house.garnish] == expected


@pytest.mark.parametrize(
    ("name", "swaps", "garnish"),
    [
        ("gin-tonic", {"tonic-water": "club-soda"}, ["lime"]),
        ("gin-tonic", {"tonic-water": "cola", "lime": "lemon"}, ["lemon"]),
        ("gin-tonic", {"gin": "vodka"}, ["lime"]),
        ("old-fashioned", {"bourbon": "gin"}, ["orange", "cherry"]),
        ("screwdriver", {"orange-juice": "tonic-water"}, []),
    ],
)
def test_a_drink_keeps_the_garnish_that_it_is_ordered_with(name, swaps, garnish):
    rules = rules_served(MENU[name], RULES, PANTRY, swaps)
    tonight = resolve(spec_tonight(MENU[name], swaps), rules, PANTRY)
    ordered = resolve(MENU[name], RULES, PANTRY)

    assert [g.item for g in tonight.garnish] == garnish
    assert tonight.origins.garnish_rule == ordered.origins.garnish_rule


def test_rules_that_say_nothing_of_it_are_the_same():
    assert rules_tonight(RULES, {"gin": None}) is RULES


def test_a_substitute_that_is_in_it_already_is_poured_once_with_both_amounts():
    spec = build(pour("gin", 0.5), pour("vodka", 0.75), top("cola", 2), top("club-soda"))
    tonight = spec_tonight(spec, {"gin": "vodka", "club-soda": "cola"})

    assert parts(tonight) == [("vodka", 1.25, 1), ("cola", None, 3)]


def test_nobody_adds_dashes_to_pours():
    spec = build(pour("red-aperitif"), dashed("bitters"), top("club-soda"))
    with pytest.raises(CannotBuild) as caught:
        spec_tonight(spec, {"bitters": "red-aperitif"})

    assert caught.value.reasons == (Reason.of("in_it_already", ingredient="red-aperitif"),)


@given(st.sampled_from(sorted(MENU)), st.sampled_from(sorted(PANTRY)), st.data())
def test_what_is_out_is_nowhere_in_what_is_served(name, out, data):
    others = sorted(set(PANTRY) - {out})
    swaps = {out: data.draw(st.one_of(st.none(), st.sampled_from(others)))}
    with suppress(CannotBuild):
        tonight = spec_tonight(MENU[name], swaps)
        used = {p.ingredient for p in tonight.parts} | {g.item for g in tonight.garnish or ()}
        if tonight.rim:
            used |= {tonight.rim.item, tonight.rim.wet_with}

        assert out not in used
        assert tonight.glass == MENU[name].glass
