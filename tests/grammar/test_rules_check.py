"""Garnish rules that never get their turn or contradict each other, words with two owners."""

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recipes.grammar import rules_check, rules_preset
from recipes.grammar.house_spec import resolve
from recipes.grammar.reasons import Reason
from recipes.grammar.rules import Family, GarnishRule
from recipes.grammar.rules_check import (
    garnish_notices,
    idle_notices,
    leaves_some,
    rules_notices,
    slang_notices,
)
from recipes.grammar.rules_preset import fitted
from recipes.grammar.spec import BuildSpec, Garnish, How, Part, When
from tests.grammar.kitchen import PANTRY, RULES

LIME = (Garnish(item="lime"),)
LEMON = (Garnish(item="lemon"),)
HIGHBALL, ROCKS = Family.HIGHBALL, Family.ROCKS


def rule(*needs, only=False, families=(), garnish=LIME):
    groups = tuple((n,) if isinstance(n, str) else tuple(n) for n in needs)
    return GarnishRule(key="k", needs=groups, only=only, families=families, garnish=garnish)


ANY = rule()
GIN_TONIC = rule("gin", "tonic-water")


@pytest.mark.parametrize(
    ("last", "earlier", "left"),
    [
        # what stands behind nothing, or behind something else, has its turn
        (rule("gin"), [], True),
        (rule("gin"), [rule("vodka")], True),
        # behind itself, or behind something that asks for less
        (rule("gin"), [rule("gin")], False),
        (GIN_TONIC, [rule("gin")], False),
        (GIN_TONIC, [rule("tonic-water")], False),
        (rule("gin"), [ANY], False),
        (ANY, [rule("gin")], True),
        # a kind or a class takes in what belongs to it
        (rule("gin"), [rule("spirit")], False),
        (rule("cola"), [rule("soda_mixer")], False),
        (rule("soda_mixer"), [rule("cola")], True),
        (rule("spirit"), [rule(["vodka", "gin", "rum", "tequila", "whiskey"])], True),
        (rule("spirit"), [rule(["vodka", "gin", "rum", "tequila", "whiskey", "brandy"])], False),
        # either: all of it has to be caught
        (rule(["gin", "vodka"]), [rule("gin")], True),
        (rule(["gin", "vodka"]), [rule("gin"), rule("vodka")], False),
        # a rule about nothing else leaves every drink with something else in it
        (rule("gin"), [rule("gin", only=True)], True),
        (rule("gin", only=True), [rule("gin")], False),
        (GIN_TONIC, [rule("gin", "tonic-water", only=True)], True),
        (rule("gin", "tonic-water", only=True), [rule("gin", ["tonic-water", "cola"], only=True)],
         False),
        (rule("gin", ["tonic-water", "cola"], only=True), [rule("gin", "cola", only=True)], True),
        # two of them, each leaving what the other catches
        (rule("gin", "tonic-water", only=True),
         [rule("gin", "cola", only=True), rule("spirit", "soda_mixer", only=True)], False),
        # families
        (rule("gin"), [rule("gin", families=(HIGHBALL,))], True),
        (rule("gin", families=(HIGHBALL,)), [rule("gin")], False),
        (rule("gin", families=(HIGHBALL, ROCKS)), [rule("gin", families=(HIGHBALL,))], True),
        (rule("gin", families=(HIGHBALL, ROCKS)),
         [rule("gin", families=(HIGHBALL,)), rule("gin", families=(ROCKS,))], False),
        # what nobody stocks is never poured
        (rule("mezcal-of-the-moon"), [], False),
        (rule([]), [], False),
    ],
)  # fmt: skip
def test_whether_a_rule_has_its_turn(last, earlier, left):
    assert leaves_some(last, tuple(earlier), PANTRY) is left


FEW = {s: PANTRY[s] for s in ("gin", "vodka", "bourbon", "cola", "tonic-water", "orange-juice")}
WORDS = [*FEW, "spirit", "soda_mixer", "whiskey", "mixer"]
GROUPS = st.lists(st.lists(st.sampled_from(WORDS), min_size=1, max_size=3), max_size=3)
RULE = st.builds(
    lambda needs, only, families: rule(*needs, only=only, families=tuple(families)),
    GROUPS,
    st.booleans(),
    st.lists(st.sampled_from([HIGHBALL, ROCKS]), max_size=2, unique=True),
)


@settings(max_examples=300)
@given(RULE, st.lists(RULE, max_size=4))
def test_it_is_as_trying_every_drink_says(last, earlier):
    """Every set of six ingredients, in every family."""
    sets = [c for n in range(1, 7) for c in combinations(FEW.values(), n)]
    tried = any(
        last.matches(parts, family) and not any(r.matches(parts, family) for r in earlier)
        for parts in sets
        for family in Family
    )

    assert leaves_some(last, tuple(earlier), FEW) is tried


def notices(*rules):
    return [(r.code, dict(r.params)) for r in garnish_notices(rules, PANTRY)]


@pytest.mark.parametrize(
    ("rules", "told"),
    [
        ([GIN_TONIC, ANY], []),
        ([ANY, GIN_TONIC], [("garnish_shadowed", {"rule": 2, "earlier": 1})]),
        (
            [rule("gin"), rule("vodka"), rule(["gin", "vodka"])],
            [("garnish_shadowed_together", {"rule": 3})],
        ),
        (
            [rule("gin", "cola"), rule("cola", "gin", garnish=LEMON)],
            [("garnish_contradicts", {"rule": 2, "earlier": 1})],
        ),
        ([rule("gin"), rule("gin")], [("garnish_shadowed", {"rule": 2, "earlier": 1})]),
        ([rule("gin", only=True), rule("gin", garnish=LEMON)], []),
        ([rule("gin", families=(HIGHBALL,)), rule("gin", families=(ROCKS,), garnish=LEMON)], []),
        (
            [rule("gin", families=(HIGHBALL,)), rule("gin", garnish=LEMON)],
            [("garnish_contradicts", {"rule": 2, "earlier": 1})],
        ),
        ([rule("sauce")], [("garnish_word_unstocked", {"rule": 1, "word": "sauce"})]),
        (
            [rule(["gin", "mezcal"])],
            [("garnish_word_unstocked", {"rule": 1, "word": "mezcal"})],
        ),
    ],
)
def test_what_is_pointed_out(rules, told):
    assert notices(*rules) == told


def test_hopelessly_tangled_rules_are_let_be(monkeypatch):
    tangled = (rule("gin"), rule("vodka"), rule(["gin", "vodka"]))
    assert notices(*tangled) == [("garnish_shadowed_together", {"rule": 3})]
    monkeypatch.setattr(rules_check, "MOST_MET", 0)

    assert notices(*tangled) == []


CRAN = PANTRY["cranberry-juice"].model_copy(update={"aliases": ("cran",)})
STOCK = {**PANTRY, "cranberry-juice": CRAN}


@pytest.mark.parametrize(
    ("slang", "told"),
    [
        ({}, []),
        ({"soda": "club-soda"}, []),
        ({"cran": "cranberry-juice", "Cola": "cola"}, []),
        ({"cran": "grenadine"}, [("slang_is_a_name", "cran", "grenadine", "cranberry-juice")]),
        ({"Tonic  Water": "cola"}, [("slang_is_a_name", "Tonic  Water", "cola", "tonic-water")]),
        ({"pop": "cola", "Pop": "lemonade"}, [("slang_twice", "Pop", "lemonade", "cola")]),
        ({"pop": "cola", "POP": "cola"}, [("slang_twice", "POP", "cola", "cola")]),
    ],
)
def test_words_with_two_owners(slang, told):
    found = [
        (r.code, *(r.values[k] for k in ("word", "ingredient", "other")))
        for r in slang_notices(slang, STOCK)
    ]

    assert found == told


def test_garnish_and_words_are_told_together():
    rules = RULES.model_copy(update={"garnish": (ANY, GIN_TONIC), "slang": {"gin": "vodka"}})

    assert [r.code for r in rules_notices(rules, PANTRY)] == ["garnish_shadowed", "slang_is_a_name"]


# A preset in a house that stocks other things


def preset(**changes):
    return RULES.model_copy(update={"preset": "elsewhere", "country": "gb", **changes})


def test_a_preset_leaves_out_what_the_house_does_not_stock():
    cherry = rule("gin", garnish=(Garnish(item="sugared-cherry", when=When.ASK),))
    plum = rule("plum-brandy")
    slang = {"pop": "cola", "perry": "pear-cider"}
    found, told = fitted(preset(garnish=(cherry, GIN_TONIC, plum), slang=slang), RULES, PANTRY)

    assert found.garnish == (GIN_TONIC,)
    assert found.slang == {"pop": "cola"}
    assert found.country == "gb"  # amounts are told in its measures
    assert told == (
        Reason.of("garnish_left_out", rule=1),
        Reason.of("garnish_left_out", rule=3),
        Reason.of("slang_left_out", count=1),
    )


def test_a_preset_keeps_glasses_of_the_house_and_its_currency():
    mine = {**RULES.glasses, "goblet": RULES.glasses["wine"]}
    now = RULES.model_copy(update={"glasses": mine, "currency": "€"})
    found, told = fitted(preset(), now, PANTRY)

    assert found.glasses == mine
    assert found.currency == "€"
    assert told == (Reason.of("glass_kept", glass="goblet"),)
    assert {r.code for r in told} <= rules_preset.CODES


@pytest.mark.parametrize(
    ("idle", "told"),
    [
        (rule("gin", "tonic-water"), False),
        (rule("gin", "cream"), True),  # no drink here has both
        (rule("gin", families=(HIGHBALL,)), False),
        (rule("gin", families=(Family.DRAUGHT,)), True),
        (rule("cream"), False),  # one thing alone may wait for its first drink
        (ANY, False),
    ],
)
def test_a_rule_that_no_drink_answers_to_is_pointed_out(idle, told):
    parts = (Part(ingredient="gin", amount=1), Part(ingredient="tonic-water", how=How.TOP))
    spec = resolve(BuildSpec(parts=parts), RULES, PANTRY)

    found = list(idle_notices((ANY, idle), PANTRY, [spec]))

    assert found == ([Reason.of("garnish_of_no_drink", rule=2)] if told else [])
