"""Which questions a quiz is drawn from: subjects alike for everybody, few ones in a small house."""

from __future__ import annotations

from collections import Counter
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessments.measures.quiz import House, QuizPlan, generate, how_many
from assessments.measures.quiz.drawing import SPREAD, pick_scenarios, pool_size, pooled
from tests.measures.bar import menu, menus, scenario

SUBJECTS = ("1 ids", "2 intoxication", "3 refusing", "4 spiking", "5 allergens")
WRITTEN = [
    scenario(f"s{n}-{m}", critical=m % 2 == 0, subject=subject)
    for n, subject in enumerate(SUBJECTS)
    for m in range(4)
]
SUBJECT_OF = {s.slug: s.subject for s in WRITTEN}


def subjects(places: int, *, seed: int, turn: int = 0, written=WRITTEN, pool: str = ""):
    plan = QuizPlan(max(1, places), scenarios=places, pool=pool)
    picked = pick_scenarios(plan, written, turn, Random(seed))
    assert len({s.slug for s in picked}) == len(picked) == min(places, len(written))
    return Counter((s.subject, s.critical) for s in picked)


@settings(max_examples=60)
@given(st.integers(0, 25), st.integers(), st.integers(), st.integers(0, 10**6), st.booleans())
def test_two_people_of_one_evening_are_asked_about_the_same_subjects(
    places, seed, other, turn, small
):
    pool = "plan" if small else ""
    mine, theirs = (subjects(places, seed=s, turn=turn, pool=pool) for s in (seed, other))
    assert mine == theirs


def test_no_subject_has_two_questions_more_than_another():
    for places in range(1, 20):
        found = Counter[str]()
        for (subject, _critical), count in subjects(places, seed=3).items():
            found[subject] += count
        assert max(found.values()) - min([found[s] for s in SUBJECTS]) <= 1, places


def test_in_time_every_subject_comes_first():
    first = {next(iter(subjects(1, seed=0, turn=day)))[0] for day in range(len(SUBJECTS))}
    assert first == set(SUBJECTS)


def test_which_of_a_subject_is_chance_s():
    plan = QuizPlan(5, scenarios=5)
    drawn = {
        frozenset(s.slug for s in pick_scenarios(plan, WRITTEN, 0, Random(n))) for n in range(9)
    }
    assert len(drawn) > 1


def test_a_pool_holds_half_as_many_more_and_one_at_least():
    assert [pool_size(n) for n in (0, 1, 2, 4, 10)] == [0, 2, 3, 6, 15]
    assert SPREAD == 1.5


def test_a_drink_more_moves_one_other_at_the_most():
    drinks = menu()
    few = {d.slug for d in pooled(drinks[1:], 4, "plan", "whole")}
    more = {d.slug for d in pooled(drinks, 4, "plan", "whole")}
    assert len(few - more) <= 1
    assert {d.slug for d in pooled(drinks, 4, "other plan", "whole")} != more
    assert pooled(drinks, 4, "", "whole") == list(drinks)


@pytest.mark.parametrize("length", [6, 10])
def test_in_a_small_house_few_questions_come_again_and_again(length):
    plan, drinks = QuizPlan(length, pool="plan"), menu()

    def asked(plan, seed):
        items = generate(plan=plan, drinks=drinks, pool=drinks, scenarios=(), seed=seed)
        return [(i.kind, i.aspect, i.recipe) for i in items]

    few = {question for seed in range(30) for question in asked(plan, seed)}
    all_there_are = {q for seed in range(30) for q in asked(QuizPlan(length), seed)}
    assert length < len(few) <= 2 * length < len(all_there_are)
    assert len({tuple(asked(plan, seed)) for seed in range(30)}) > 25
    times = Counter(question for seed in range(15) for question in asked(plan, seed))
    assert max(times.values()) >= 10


@settings(max_examples=40)
@given(menus(most=14), st.integers(1, 20), st.integers(), st.integers())
def test_a_pool_changes_neither_how_many_nor_their_weight(drinks, length, seed, other):
    plan = QuizPlan(length, pool="plan")
    said = {"plan": plan, "drinks": drinks, "pool": drinks, "scenarios": (), "house": House()}
    one, two = (generate(**said, seed=s) for s in (seed, other))
    assert len(one) == len(two) == how_many(**said)
    assert Counter((i.kind, i.critical) for i in one) == Counter((i.kind, i.critical) for i in two)
