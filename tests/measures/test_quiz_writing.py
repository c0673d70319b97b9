"""A quiz follows its blueprint; the seed only says about which drinks."""

import datetime as dt
import json
from collections import Counter
from itertools import permutations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessments.measures.quiz import (
    House,
    ItemAsked,
    ItemKind,
    QuizPlan,
    Scenario,
    default_plan,
    generate,
    guess_chance,
    how_many,
    scenario_topic,
)
from assessments.measures.quiz.blueprint import DEFAULT_MIX, is_critical
from recipes.grammar.aspects import Aspect
from tests.measures.bar import drink, menu, menus, scenario

MUSTS = {
    name: {"must_know": True}
    for name in ("cuba_libre", "madras", "sea_breeze", "gin_tonic", "still_gin_tonic")
}


def quiz(seed: int = 1, *, plan: QuizPlan | None = None, drinks=None, scenarios=(), pool=None):
    drinks = menu(**MUSTS) if drinks is None else drinks
    plan = plan or default_plan(len(drinks), len(scenarios))
    return generate(plan=plan, drinks=drinks, pool=pool or drinks, scenarios=scenarios, seed=seed)


def shape(items) -> Counter:
    return Counter((i.kind, i.aspect, i.critical) for i in items)


def test_the_same_seed_gives_the_same_quiz():
    assert quiz(7) == quiz(7)
    assert quiz(7) == quiz(7, drinks=menu(**MUSTS)[::-1])


def test_another_seed_gives_another_quiz_of_the_same_shape():
    quizzes = [quiz(seed) for seed in range(20)]

    assert len({tuple((i.kind, i.recipe, i.choices) for i in q).__repr__() for q in quizzes}) > 15
    assert all(shape(q) == shape(quizzes[0]) for q in quizzes)


@settings(max_examples=60)
@given(menus(most=14), st.integers(0, 30), st.integers(), st.integers())
def test_every_pair_of_quizzes_of_one_menu_has_one_shape(drinks, length, seed, other):
    plan = QuizPlan(length)
    one, two = (quiz(s, plan=plan, drinks=drinks) for s in (seed, other))

    assert shape(one) == shape(two)
    assert len(one) <= max(length, sum(is_critical(d) for d in drinks))


@settings(max_examples=100)
@given(
    menus(most=14),
    st.integers(0, 20),
    st.sets(st.integers(0, 13)),
    st.lists(st.sampled_from(DEFAULT_MIX), min_size=1, unique=True),
    st.booleans(),
    st.integers(),
)
def test_every_drink_that_must_be_right_is_asked(drinks, length, named, mix, whole_first, seed):
    also = tuple(d.slug for n, d in enumerate(drinks) if n in named)
    plan = QuizPlan(length, mix=tuple(mix), critical=also, whole_first=whole_first)
    items = quiz(seed, plan=plan, drinks=drinks)
    wanted = {d.slug for d in drinks if is_critical(d, also)}
    everything = quiz(seed, plan=QuizPlan(400), drinks=drinks)
    askable = {i.recipe for i in everything if i.kind is ItemKind.WHOLE}

    assert wanted & askable <= {i.recipe for i in items if i.critical}


@settings(max_examples=60)
@given(
    menus(most=14),
    st.integers(0, 60),
    st.integers(0, 12),
    st.integers(0, 6),
    st.lists(st.sampled_from(DEFAULT_MIX), min_size=1, unique=True),
    st.sampled_from([House(), House(today=dt.date(2026, 3, 7))]),
    st.integers(),
)
def test_how_many_are_written_is_told_before_any_is(drinks, more, some, cards, mix, house, seed):
    plan = QuizPlan(more + some + cards, scenarios=some, cards=cards, mix=tuple(mix))
    written = [scenario(f"s{n}", critical=n < 3) for n in range(7)]
    about = {"plan": plan, "drinks": drinks, "pool": drinks, "scenarios": written, "house": house}

    assert how_many(**about) == len(generate(**about, seed=seed))


@settings(max_examples=60)
@given(menus(most=14), st.integers(0, 60), st.integers())
def test_nothing_is_asked_twice(drinks, length, seed):
    items = quiz(seed, plan=QuizPlan(length), drinks=drinks)
    asked = [(i.kind, i.aspect, i.recipe) for i in items]

    assert len(asked) == len(set(asked))


def test_a_module_of_drinks_has_twelve_items():
    items = quiz()

    assert len(items) == 12
    assert {i.kind for i in items} >= {ItemKind.WHOLE, ItemKind.BUILD, ItemKind.ASPECT}


def test_every_must_know_is_asked_as_a_whole_build():
    for seed in range(10):
        whole = {i.recipe for i in quiz(seed) if i.kind is ItemKind.WHOLE}
        assert {name.replace("_", "-") for name in MUSTS} <= whole


def test_twelve_must_knows_fill_twelve_places():
    names = [d.slug.replace("-", "_") for d in menu() if not is_critical(d)][:11]
    names.append("still_gin_tonic")
    items = quiz(drinks=menu(**{n: {"must_know": True} for n in names}))

    assert {i.kind for i in items} == {ItemKind.WHOLE}
    assert {i.recipe.replace("-", "_") for i in items} == set(names)


def test_more_must_knows_than_places_leave_a_third_for_the_mix():
    everything = menu(**{d.slug.replace("-", "_"): {"must_know": True} for d in menu()})
    items = quiz(drinks=everything)
    whole = {i.recipe for i in items if i.kind is ItemKind.WHOLE}
    other = {i.recipe for i in items if i.kind is not ItemKind.WHOLE}

    assert len(whole) == 8
    assert len(other) == 4
    assert not whole & other  # places go to drinks that nobody was asked about yet


def test_an_item_on_an_alcohol_free_drink_is_critical():
    for seed in range(5):
        critical = {i.recipe for i in quiz(seed) if i.critical}
        assert critical == {"still-gin-tonic"}


def test_the_evidence_of_an_item():
    madras = drink("madras", must_know=True)
    plan = QuizPlan(8, mix=((ItemKind.ASPECT, Aspect.MIXERS), (ItemKind.NAME_IT, None)))
    items = quiz(plan=plan, drinks=[madras], pool=menu())
    by_kind = {i.kind: i for i in items}
    prints = {a.value: f for a, f in madras.fingerprints.items()}

    assert len(items) == 3
    assert all(i.fingerprints == prints and len(prints) == 5 for i in items)
    assert by_kind[ItemKind.WHOLE].topics == tuple(t.fingerprint for t in madras.topics)
    assert by_kind[ItemKind.NAME_IT].topics == by_kind[ItemKind.WHOLE].topics
    mixers = tuple(t.fingerprint for t in madras.topics if t.aspect is Aspect.MIXERS)
    assert len(mixers) == 2  # its own, and "two mixers share the space"
    assert by_kind[ItemKind.ASPECT].topics == mixers
    assert [i.is_whole_drink for i in items] == [i.kind is not ItemKind.ASPECT for i in items]


def test_only_a_name_it_item_shows_a_build():
    items = quiz(plan=QuizPlan(40))

    assert all((i.shown is not None) is (i.kind is ItemKind.NAME_IT) for i in items)
    named = next(i for i in items if i.kind is ItemKind.NAME_IT)
    assert set(named.shown) == {a.value for a in Aspect}


def test_a_menu_too_small_for_three_choices_asks_nothing():
    pair = [drink("madras", must_know=True), drink("sea-breeze")]

    kinds = {i.kind for i in quiz(drinks=pair)}
    assert kinds == {ItemKind.AMOUNT, ItemKind.ORDER}  # their choices are the drink's own
    assert len(quiz(drinks=pair, pool=menu())) > 0


def test_a_stored_item_comes_back_as_it_was_asked():
    for item in quiz(scenarios=[scenario("ice", critical=True)], plan=QuizPlan(40, scenarios=1)):
        stored = json.loads(json.dumps(item.to_json()))
        assert ItemAsked.from_json(stored) == item


def test_the_chance_of_a_blind_guess():
    chances = {i.kind: (i, guess_chance(i)) for i in quiz(plan=QuizPlan(60))}

    assert chances[ItemKind.NAME_IT][1] == 0.25
    asked, chance = chances[ItemKind.ORDER]
    assert chance == pytest.approx(1 / len(list(permutations(asked.choices))))
    asked, chance = chances[ItemKind.SEVERAL]
    assert chance == pytest.approx(1 / (2 ** len(asked.choices) - 1))
    asked, chance = chances[ItemKind.BUILD]
    assert chance == pytest.approx(1 / len(list(product(*(p.choices for p in asked.parts)))))


def test_the_default_plan():
    assert default_plan(20, 0) == QuizPlan(12)
    assert default_plan(0, 9) == QuizPlan(10, scenarios=9, cards=1)
    assert default_plan(0, 40) == QuizPlan(33, scenarios=30, cards=3)
    assert default_plan(3, 4) == QuizPlan(16, scenarios=4)
    assert default_plan(0, 0).length == 0


@pytest.mark.parametrize(
    "bad", [{"scenarios": 13}, {"scenarios": -1}, {"pass_mark": 0}, {"pass_mark": 101}]
)
def test_an_impossible_plan_is_refused(bad):
    with pytest.raises(ValueError, match=r"quiz|pass mark"):
        QuizPlan(12, **bad)


def test_all_critical_scenarios_are_asked_and_others_up_to_the_plan():
    written = [scenario(f"s{n:02}", critical=n < 4) for n in range(45)]
    quizzes = [quiz(seed, drinks=(), scenarios=written) for seed in range(10)]

    assert all(len(q) == 30 for q in quizzes)
    assert all(sum(i.critical for i in q) == 4 for q in quizzes)
    assert len({frozenset(i.scenario for i in q) for q in quizzes}) > 5


def test_more_critical_scenarios_than_the_default_are_all_asked():
    written = [scenario(f"s{n:02}", critical=True) for n in range(40)]

    assert len(quiz(drinks=(), scenarios=written, plan=default_plan(0, 40, 40))) == 40


@pytest.mark.parametrize("critical", [0, 2, 20])
def test_a_plan_with_situations_is_as_long_as_it_says(critical):
    written = [scenario(f"s{n:02}", critical=n < critical) for n in range(20)]
    items = quiz(scenarios=written, plan=QuizPlan(10, scenarios=4))

    assert len(items) == 10
    assert sum(i.scenario is not None for i in items) == 4
    assert sum(i.critical for i in items if i.scenario) == min(critical, 4)


def test_places_without_a_situation_go_to_drinks():
    assert len(quiz(scenarios=[scenario("ice")], plan=QuizPlan(10, scenarios=4))) == 10


def test_a_scenario_keeps_its_right_answer_when_shuffled():
    written = scenario("glass", critical=True, right=2)
    places = set()
    for seed in range(30):
        (item,) = quiz(seed, drinks=(), scenarios=[written])
        places.add(item.right)
        assert item.choices[item.right].content == {"text": "glass wait"}
        assert item.prompt.values == {"question": "What about glass?"}
        assert item.why.values == {"why": "glass matters"}
        assert item.topics == (scenario_topic(written),)
        assert item.part == "scenario"
    assert places == {0, 1, 2, 3}


def test_right_answers_stand_in_every_place():
    places = Counter(i.right for seed in range(40) for i in quiz(seed) if len(i.choices) == 4)

    assert min(places[n] for n in range(4)) > sum(places.values()) / 8


@pytest.mark.parametrize(
    ("choices", "right"), [(("a", "a"), 0), (("a",), 0), (("a", "b"), 2), (("a", "b"), -1)]
)
def test_a_scenario_without_one_right_answer_is_refused(choices, right):
    with pytest.raises(ValueError, match="scenario x"):
        Scenario("x", "?", choices, right, critical=False, why="")
