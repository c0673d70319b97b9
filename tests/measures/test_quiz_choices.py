"""No item has two right answers, and wrong ones come from drinks that are alike."""

from random import Random

import pytest
from hypothesis import given, settings

from assessments.measures.quiz import ItemKind, QuizPlan, generate
from assessments.measures.quiz.alike import same_answer, same_whole
from assessments.measures.quiz.choices import (
    NEAR,
    can_ask,
    choice_of,
    is_like,
    neighbours,
    shuffled,
    whole_content,
    wrong_choices,
)
from recipes.grammar.aspects import Aspect, contents
from recipes.grammar.lookalikes import distance, same_build
from recipes.grammar.spec import How, Ice, Method
from recipes.grammar.units import Unit
from tests.grammar.kitchen import build, dashed, floated, garnished, ml, pour, top
from tests.measures.bar import drink, menu, menus

ALL_LINES = [(ItemKind.WHOLE, None), (ItemKind.NAME_IT, None)] + [
    (ItemKind.ASPECT, aspect) for aspect in Aspect
]


def to_do(spec, aspect):
    """What a bartender does for an aspect, from the spec itself: shares no code with the quiz."""
    if aspect is Aspect.GLASS:
        return spec.glass
    if aspect is Aspect.MIXERS:
        return {(p.ingredient, round(p.share, 3)) for p in spec.mixers}
    if aspect is Aspect.FINISH:
        return (spec.rim, frozenset(spec.garnish), spec.straw)
    if aspect is Aspect.POURS:
        poured = [p for p in spec.parts if p.how not in (How.TOP, How.MUDDLED)]
        # 30 ml and 1 fl oz are one pour to a bartender; the random menu has nothing between
        return {
            (p.ingredient, (p.unit, p.amount) if p.unit is Unit.DASH else round((p.ml or 0) / 15))
            for p in poured
        }
    layers = [p.ingredient for p in spec.how(How.MEASURED)] if spec.method is Method.LAYER else []
    ice = Ice.NONE if spec.method is Method.BLEND else spec.ice
    return (ice, spec.method, layers, [p.ingredient for p in spec.how(How.FIRST_IN)],
            [p.ingredient for p in spec.how(How.FLOAT)], spec.how(How.MUDDLED))  # fmt: skip


def told_apart(item, one, other):
    """Whether the two drinks behind two choices differ in what the item asks about."""
    if item.kind is ItemKind.NAME_IT:
        return one.name != other.name
    asked = [item.aspect] if item.aspect else list(Aspect)
    return any(to_do(one.spec, a) != to_do(other.spec, a) for a in asked)


@settings(max_examples=150)
@given(menus())
def test_no_item_has_two_right_answers(drinks):
    by_slug = {d.slug: d for d in drinks}
    plan = QuizPlan(60, mix=tuple(ALL_LINES))

    for item in generate(plan=plan, drinks=drinks, pool=drinks, scenarios=(), seed=1):
        asked = by_slug[item.recipe]
        behind = [by_slug[c.of] for c in item.choices]
        assert behind[item.right] is asked
        for number, other in enumerate(behind):
            assert all(told_apart(item, other, x) for x in behind[number + 1 :])
            if number != item.right:
                assert not same_build(other, asked)
                assert any(to_do(other.spec, a) != to_do(asked.spec, a) for a in Aspect)
                assert not {other.name, *other.aliases} & {asked.name, *asked.aliases}


@settings(max_examples=60)
@given(menus())
def test_every_item_has_three_or_four_choices(drinks):
    plan = QuizPlan(60, mix=tuple(ALL_LINES))
    items = generate(plan=plan, drinks=drinks, pool=drinks, scenarios=(), seed=2)

    assert {len(i.choices) for i in items} <= {3, 4}


def test_wrong_choices_come_from_the_nearest_drinks():
    """The breeze family: a madras is mixed up with its neighbours, not with a stout."""
    drinks = menu()
    madras = drink("madras")
    wrong = wrong_choices(madras, ItemKind.WHOLE, None, neighbours(madras, drinks))
    by_slug = {d.slug: d for d in drinks}
    farthest = max(distance(madras.spec, by_slug[c.of].spec) for c in wrong)
    left_out = [d for d in drinks if d.slug not in {"madras", *(c.of for c in wrong)}]

    assert len(wrong) == NEAR
    assert {"sea-breeze", "bay-breeze"} <= {c.of for c in wrong}
    assert all(distance(madras.spec, d.spec) >= farthest for d in left_out)


def test_look_alikes_of_the_plan_s_modules_come_first_and_what_is_like_nothing_last():
    asked = drink("screwdriver", module="a")
    here = [drink("gin-tonic", module="a"), drink("cuba-libre", module="a")]
    there = [drink("madras", module="b"), drink("sea-breeze", module="b")]
    far = [d for d in menu() if not is_like(d, asked)]
    assert far

    near = neighbours(asked, [*far, *there, *here, asked], {"a"})
    slugs = [d.slug for d in near]
    assert slugs[0] == "madras"  # the nearest of all is what it is mixed up with
    assert slugs[1:4] == ["cuba-libre", "gin-tonic", "sea-breeze"]
    assert set(slugs[4:]) == {d.slug for d in far}


@pytest.mark.parametrize(
    ("one", "other", "like"),
    [
        ("screwdriver", "madras", True),
        ("gin-tonic", "cuba-libre", True),  # nothing in common but the glass
        ("gin-tonic", "nitro-stout", False),
        ("madras", "margarita", False),
    ],
)
def test_what_can_be_taken_for_each_other_shares_a_part_a_glass_or_a_family(one, other, like):
    assert is_like(drink(one), drink(other)) is is_like(drink(other), drink(one)) is like


def test_choices_are_widened_until_enough_of_them_differ():
    """The nearest all top up with cola, so the search goes on to others."""
    colas = [drink(f"{s}-cola", build(pour(s), top("cola"))) for s in ("gin", "vodka", "tequila")]
    others = [drink("screwdriver"), drink("salty-dog"), drink("gin-tonic")]
    asked = drink("whiskey-cola")

    near = neighbours(asked, [*colas, *others, asked])
    wrong = wrong_choices(asked, ItemKind.ASPECT, Aspect.MIXERS, near)

    assert {d.slug for d in near[:3]} == {d.slug for d in colas}
    assert {c.of for c in wrong} == {d.slug for d in others}


def test_another_name_for_the_same_build_is_no_wrong_answer():
    twin = drink("rum-with-lime", build(pour("white-rum"), top("cola"), garnish=garnished("lime")))
    asked = drink("cuba-libre")

    assert twin not in neighbours(asked, [*menu(), twin])


def test_the_same_build_written_in_other_units_is_no_wrong_answer():
    twin = drink("gin-tonic-2", build(pour("gin", 1, Unit.FLOZ), top("tonic-water")))
    asked = drink("gin-tonic")

    assert not same_build(twin, asked)
    assert twin not in neighbours(asked, [*menu(), twin])


def test_another_build_by_the_same_name_is_no_wrong_answer():
    other = drink("highball-2", build(pour("bourbon"), top("club-soda")), aliases=("press",))
    asked = drink("press", name="Press")

    assert other not in neighbours(asked, [*menu(), other])


SAME = [
    # aspect, one build, other build, whether they are one answer
    (Aspect.POURS, build(pour("gin")), build(pour("gin", 1, Unit.FLOZ)), True),
    (Aspect.POURS, build(pour("gin")), build(ml("gin", 30)), True),
    (Aspect.POURS, build(pour("gin")), build(pour("gin", 1.5)), False),
    (Aspect.POURS, build(pour("gin")), build(pour("vodka")), False),
    (Aspect.POURS, build(pour("gin"), dashed("bitters", 2)),
     build(pour("gin"), dashed("bitters", 3)), False),
    (Aspect.POURS, build(pour("gin")), build(pour("gin"), pour("vodka")), False),
    (Aspect.GLASS, build(pour("gin")), build(pour("gin"), glass="rocks"), True),
    (Aspect.GLASS, build(pour("gin")), build(pour("gin"), glass="shot"), False),
    (Aspect.METHOD, build(pour("gin")), build(pour("vodka"), top("cola")), True),
    (Aspect.METHOD, build(pour("gin")), build(pour("gin"), method=Method.STIR), False),
    (Aspect.METHOD, build(pour("gin")), build(pour("gin"), ice=Ice.LIGHT), False),
    (Aspect.METHOD, build(pour("gin"), floated("cream", 20)),
     build(pour("gin"), floated("grenadine", 20)), False),
    (Aspect.METHOD, build(pour("gin"), pour("vodka"), method=Method.LAYER),
     build(pour("vodka"), pour("gin"), method=Method.LAYER), False),
    (Aspect.METHOD, build(pour("gin"), method=Method.BLEND),
     build(pour("vodka"), method=Method.BLEND, ice=Ice.FULL), True),
    (Aspect.MIXERS, build(pour("gin"), top("cola"), top("lemonade")),
     build(pour("gin"), top("cola", 3), top("lemonade")), False),
    (Aspect.FINISH, build(pour("gin"), garnish=garnished("lime")),
     build(pour("gin"), garnish=()), False),
]  # fmt: skip


@pytest.mark.parametrize(("aspect", "one", "other", "same"), SAME)
def test_which_answers_are_one(aspect, one, other, same):
    mine, theirs = (contents(drink("x", spec).spec)[aspect] for spec in (one, other))

    assert same_answer(aspect, mine, theirs) is same
    assert same_answer(aspect, theirs, mine) is same


def test_whole_builds_are_one_answer_when_every_aspect_is():
    here, there, elsewhere = (
        whole_content(drink("x", build(pour("gin", amount, unit), top("cola"))))
        for amount, unit in ((1, Unit.POUR), (1, Unit.FLOZ), (2, Unit.POUR))
    )

    assert same_whole(here, there)
    assert not same_whole(here, elsewhere)


@pytest.mark.parametrize(
    ("name", "aspect", "asked"),
    [
        ("negroni", Aspect.MIXERS, False),  # nothing tops it
        ("negroni", Aspect.POURS, True),
        ("draught-lager", Aspect.POURS, False),  # nothing is measured
        ("draught-lager", Aspect.MIXERS, True),
        ("madras", Aspect.FINISH, True),
    ],
)
def test_a_drink_is_not_asked_about_what_it_has_not(name, aspect, asked):
    near = neighbours(drink(name), menu())

    assert can_ask(drink(name), ItemKind.ASPECT, aspect, near) is asked


@pytest.mark.parametrize(
    ("kind", "aspect", "content"),
    [
        (ItemKind.NAME_IT, None, {"name": "Madras"}),
        (ItemKind.ASPECT, Aspect.MIXERS,
         {"top": [["cranberry-juice", "0.500"], ["orange-juice", "0.500"]]}),
    ],
)  # fmt: skip
def test_what_a_choice_holds(kind, aspect, content):
    choice = choice_of(drink("madras"), kind, aspect)

    assert choice.content == content
    assert choice.of == "madras"


@pytest.mark.parametrize("seed", range(20))
def test_the_nearest_look_alike_is_always_among_the_wrong_choices(seed):
    madras = drink("madras")
    right = choice_of(madras, ItemKind.NAME_IT, None)
    wrong = wrong_choices(madras, ItemKind.NAME_IT, None, neighbours(madras, menu()))

    choices, index = shuffled(right, wrong, Random(seed))

    assert (len(choices), choices[index]) == (4, right)
    assert wrong[0] in choices


def test_an_aspect_item_without_its_aspect_is_refused():
    with pytest.raises(ValueError, match="needs its aspect"):
        choice_of(drink("madras"), ItemKind.ASPECT, None)
