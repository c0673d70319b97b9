"""What has to be known: rules that drinks share, and each drink's own part."""

import pytest
from hypothesis import given

from recipes.grammar.aspects import Aspect, topics
from recipes.grammar.drink import make_drink
from recipes.grammar.ingredients import LiquorClass
from recipes.grammar.rules import Family, GarnishRule, GlassRule, MeasuredBy, PourRule
from recipes.grammar.spec import Garnish, Ice, Method
from recipes.grammar.units import Unit
from tests.grammar.cocktails import recipes
from tests.grammar.kitchen import MENU, PANTRY, RULES, build, house, pour, top

ASPECT_OF = {
    "glass": Aspect.GLASS,
    "ice": Aspect.METHOD,
    "build": Aspect.METHOD,
    "pour": Aspect.POURS,
    "equal-mixers": Aspect.MIXERS,
    "garnish": Aspect.FINISH,
    "straw": Aspect.FINISH,
}


def known(name, rules=RULES, spec=None):
    return topics(name, house(spec or MENU[name], rules), rules, PANTRY)


def own(found):
    return {t.aspect: t.fingerprint for t in found if t.recipe}


def ruled(found):
    return {t.rule: t.fingerprint for t in found if t.rule}


def with_pour(**said):
    pours = {**RULES.pours, LiquorClass.SPIRIT: PourRule(**{"amount": 1, **said})}
    return RULES.model_copy(update={"pours": pours})


@pytest.mark.parametrize(
    ("name", "rules"),
    [
        (
            "gin-tonic",
            {
                "glass:highball",
                "ice:highball",
                "build:highball",
                "pour:spirit",
                "garnish:tonic-lime",
                "straw:highball",
            },
        ),
        (
            "madras",
            {
                "glass:highball",
                "ice:highball",
                "build:highball",
                "pour:spirit",
                "equal-mixers",
                "garnish:juice-highball",
                "straw:highball",
            },
        ),
        (
            "white-russian",
            {"glass:rocks", "ice:rocks", "pour:spirit", "pour:liqueur", "straw:rocks"},
        ),
        ("three-layers", {"glass:shot", "ice:shot", "straw:shot"}),
        ("daiquiri", {"pour:spirit", "straw:up"}),
        ("draught-lager", {"glass:draught", "ice:draught", "build:draught", "straw:draught"}),
    ],
)
def test_the_rules_that_a_drink_uses(name, rules):
    assert set(ruled(known(name))) == rules


@pytest.mark.parametrize(
    ("name", "aspects"),
    [
        ("gin-tonic", {Aspect.POURS, Aspect.MIXERS}),
        ("salty-dog", {Aspect.POURS, Aspect.MIXERS, Aspect.FINISH}),
        ("tequila-sunset", {Aspect.POURS, Aspect.MIXERS, Aspect.METHOD}),
        ("daiquiri", {Aspect.GLASS, Aspect.POURS, Aspect.FINISH, Aspect.METHOD}),
        ("light-gin-tonic", {Aspect.POURS, Aspect.MIXERS, Aspect.METHOD, Aspect.FINISH}),
        ("draught-lager", {Aspect.MIXERS}),
        ("nitro-stout", {Aspect.MIXERS, Aspect.METHOD}),
    ],
)
def test_the_drinks_own_part(name, aspects):
    """Only where no rule says it already."""
    assert own(known(name)).keys() == aspects


def test_a_changed_house_pour_changes_the_rule_and_no_drink():
    for name in MENU:
        was, now = known(name), known(name, with_pour(amount=1.25))
        assert own(was) == own(now)
        differ = {r for r in ruled(was) if ruled(was)[r] != ruled(now)[r]}
        assert differ == {"pour:spirit"} & ruled(was).keys()


def test_how_the_house_measures_is_part_of_the_pour_rule():
    was = ruled(known("gin-tonic"))
    now = ruled(known("gin-tonic", with_pour(measured_by=MeasuredBy.FREE_POUR)))
    assert {r for r in was if was[r] != now[r]} == {"pour:spirit"}


def test_a_changed_garnish_rule_is_a_new_topic_for_every_drink_it_dresses():
    lemon = GarnishRule(
        key="tonic-lime", needs=(("tonic-water",),), garnish=(Garnish(item="lemon"),)
    )
    rules = RULES.model_copy(update={"garnish": (lemon, *RULES.garnish[1:])})
    for name in ("gin-tonic", "vodka-tonic"):
        was, now = ruled(known(name)), ruled(known(name, rules))
        assert {r for r in was if was[r] != now[r]} == {"garnish:tonic-lime"}
        assert own(known(name)) == own(known(name, rules))


def test_a_bigger_highball_glass_is_a_new_topic():
    glasses = {**RULES.glasses, "highball": GlassRule(name="Highball glass", amount=12)}
    was = ruled(known("madras"))
    now = ruled(known("madras", RULES.model_copy(update={"glasses": glasses})))
    assert {r for r in was if was[r] != now[r]} == {"glass:highball"}


def test_two_tonic_drinks_share_the_garnish_topic():
    gin, vodka = ruled(known("gin-tonic")), ruled(known("vodka-tonic"))
    assert gin["garnish:tonic-lime"] == vodka["garnish:tonic-lime"]
    assert gin == vodka


def test_a_changed_mixer_changes_the_drinks_own_mixers_alone():
    was = known("madras")
    now = known("madras", spec=build(pour("vodka"), top("cranberry-juice"), top("pineapple-juice")))
    differ = {a for a in own(was) if own(was)[a] != own(now)[a]}
    assert differ == {Aspect.MIXERS}
    assert ruled(was) == ruled(now)


def test_a_recipe_that_takes_over_from_a_rule_takes_its_topic_too():
    spec = build(pour("gin"), top("tonic-water"), garnish=(Garnish(item="lemon"),), ice=Ice.LIGHT)
    found = known("gin-tonic", spec=spec)
    assert not ruled(found).keys() & {"garnish:tonic-lime", "ice:highball"}
    assert own(found).keys() >= {Aspect.FINISH, Aspect.METHOD}


def test_a_shaken_drink_is_not_built_as_its_family_is():
    spec = build(pour("gin"), top("club-soda"), method=Method.SHAKE)
    assert "build:highball" not in ruled(known("x", spec=spec))
    assert Aspect.METHOD in own(known("x", spec=spec))


def test_a_reverted_rule_is_the_old_topic_again():
    assert known("gin-tonic", with_pour()) == known("gin-tonic")
    assert known("gin-tonic", with_pour(amount=2)) != known("gin-tonic")
    same = with_pour(amount=RULES.pours[LiquorClass.SPIRIT].ml, unit=Unit.ML)
    assert known("gin-tonic", same) == known("gin-tonic")


@given(spec=recipes())
def test_every_topic_names_a_rule_or_a_drink_and_stands_in_its_aspect(spec):
    found = known("some-drink", spec=spec)
    assert len({t.fingerprint for t in found}) == len(found)
    for topic in found:
        assert (topic.rule is None) != (topic.recipe is None)
        if topic.rule:
            assert topic.aspect is ASPECT_OF[topic.rule.partition(":")[0]]
        else:
            assert topic.recipe == "some-drink"


@given(spec=recipes())
def test_own_topics_of_two_drinks_never_collide(spec):
    """Even where two drinks are built alike: knowing one by name is not knowing the other."""
    one, other = known("one", spec=spec), known("other", spec=spec)
    assert not set(own(one).values()) & set(own(other).values())
    assert ruled(one) == ruled(other)


def test_own_topics_of_the_whole_menu_differ():
    prints = [f for name in MENU for f in own(known(name)).values()]
    assert len(set(prints)) == len(prints)


def test_every_aspect_of_every_drink_is_covered_by_a_topic_where_it_holds_something():
    for name in MENU:
        held = {t.aspect for t in known(name)}
        spec = house(name)
        expected = {Aspect.GLASS, Aspect.METHOD, Aspect.FINISH}
        expected |= {Aspect.MIXERS} if spec.mixers else {Aspect.POURS}
        assert expected <= held, name


def test_a_drink_carries_its_topics_by_aspect():
    drink = make_drink(
        slug="gin-tonic",
        name="Gin Tonic",
        module="highballs",
        spec=MENU["gin-tonic"],
        rules=RULES,
        pantry=PANTRY,
    )
    assert drink.topics == known("gin-tonic")
    assert {t.rule for t in drink.topics_of(Aspect.FINISH)} == {
        "garnish:tonic-lime",
        "straw:highball",
    }
    assert [a for a in Aspect if not drink.topics_of(a)] == []


def test_topics_are_the_same_on_every_machine_and_in_every_release():
    assert ruled(known("gin-tonic"))["pour:spirit"] == "5b90b65b27376574924b0e01836788d0"
    assert own(known("gin-tonic"))[Aspect.MIXERS] == "8a56037e249729e6793bba2b65ef69f8"


def test_families_without_a_straw_know_that_too():
    assert f"straw:{Family.ROCKS}" in ruled(known("old-fashioned"))
