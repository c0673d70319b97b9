"""The house's own record against what was said of it beforehand."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessments.measures.house_miss import (
    LEAST,
    NO_MISS,
    Case,
    Miss,
    as_kept,
    miss_of,
    widened,
)
from assessments.measures.orders import Menu, Shown, fit, forecast, trials
from assessments.measures.orders.replay import how_many, replay
from assessments.measures.own_record import Record, bins_of, hold_against, murphy
from assessments.measures.readiness_proof import shown_of
from assessments.measures.simulated_hires import MODEL, World, simulate
from recipes.grammar.reasons import Reason

RAIN = [0.7, 0.9, 0.8, 0.4, 0.2, 0.0, 0.0, 0.0, 0.0, 0.1]
RAINED = [0, 1, 1, 1, 0, 0, 0, 0, 0, 0]


def case(right, came="right", person=0, chosen=True):
    return Case(person, right, (1 - right) / 2, (1 - right) / 2, came, chosen)


def cases(stated, came, person=0):
    return [case(s, "right" if c else "wrong", person) for s, c in zip(stated, came, strict=True)]


def test_the_score_of_the_ten_rain_forecasts():
    """G. W. Brier, Verification of forecasts expressed in terms of probability, Monthly Weather
    Review 78, 1950, table 1: P = 0.19 over both classes, so half of that for one (from memory; the
    formula gives it)."""
    found = hold_against(cases(RAIN, RAINED) * 4)

    assert isinstance(found, Record)
    assert 2 * found.brier == pytest.approx(0.19)


def test_the_parts_of_the_score():
    """A. H. Murphy, A new vector partition of the probability score, Journal of Applied Meteorology
    12, 1973: score = reliability - resolution + uncertainty. The parts of Brier's ten forecasts by
    hand: .95/10, 2.1/10, .3 x .7."""
    unreliable, resolved, uncertain = murphy(np.array(RAIN), np.array(RAINED, dtype=float))

    assert (unreliable, resolved, uncertain) == pytest.approx((0.095, 0.21, 0.21))


@given(st.lists(st.tuples(st.integers(0, 9), st.booleans()), min_size=1, max_size=60))
def test_the_parts_make_the_score_where_a_tenth_is_stated_alike(said):
    stated = np.array([t / 10 + 0.05 for t, _ in said])
    came = np.array([float(c) for _, c in said])
    unreliable, resolved, uncertain = murphy(stated, came)

    assert unreliable - resolved + uncertain == pytest.approx(((stated - came) ** 2).mean())


def test_bins_by_tenth_with_the_exact_interval():
    """0 of 20: 0 to .1684 (Newcombe 1998, table I, Clopper and Pearson)."""
    low, high = bins_of([*cases([0.12] * 20, [0] * 20), *cases([0.97, 1.0], [1, 1])])

    assert (low.count, low.came, low.low) == (20, 0.0, 0.0)
    assert low.high == pytest.approx(0.1684, abs=1e-4)
    assert (high.count, high.stated, high.came) == (2, pytest.approx(0.985), 1.0)


def test_too_few_to_say():
    few = cases([0.9] * (LEAST - 1), [0] * (LEAST - 1))

    assert hold_against(few) == Reason.of("record_too_small", builds=39, least=40)
    assert miss_of(few) == NO_MISS
    assert isinstance(hold_against([*few, case(0.9)]), Record)


def of_hundred(right, stated=0.8, person=0):
    return cases([stated] * 100, [1] * right + [0] * (100 - right), person)


@pytest.mark.parametrize(
    ("found", "code"),
    [
        (of_hundred(80), "record_bears_out"),
        (of_hundred(73), "record_bears_out"),
        (of_hundred(71), "record_too_hopeful"),
        (of_hundred(87), "record_bears_out"),
        (of_hundred(89), "record_too_careful"),
        (of_hundred(64) + of_hundred(96, person=1), "record_uneven"),
    ],
)
def test_what_is_said(found, code):
    """.8 of a hundred: chance moves the sum by 4, twice that once in twenty."""
    record = hold_against(found)

    assert record.says.code == code
    assert bool(record.miss) == (code != "record_bears_out")


def test_a_miss_counts_towards_the_side_it_is_on():
    hopeful, careful = miss_of(of_hundred(60)), miss_of(of_hundred(95))

    assert hopeful.down > 0.5 and hopeful.up == 0  # noqa: PT018
    assert careful.up > 0.5 and careful.down == 0  # noqa: PT018
    assert hopeful.of_the_rest == Miss(hopeful.up, hopeful.down)


def test_a_longer_record_is_believed_more():
    """Of the same difference chance explains less the more there is: nothing of it in the end,
    (.2 / .16)^2."""
    short, long = (miss_of(of_hundred(60) * n).down for n in (1, 50))

    assert short < long < 0.2 / 0.16
    assert long == pytest.approx(1.25, abs=0.02)


ends = st.tuples(st.floats(0.01, 0.98), st.floats(0.001, 0.5)).map(
    lambda p: (p[0], min(p[0] + p[1], 0.99))
)


@given(ends, st.floats(0, 2), st.floats(0, 2))
def test_nothing_ever_gets_narrower(interval, down, up):
    low, high = (np.array([end]) for end in interval)
    lower, higher = widened(low, high, Miss(down, up), 0.9)

    assert lower <= low + 1e-9
    assert higher >= high - 1e-9
    if not down:
        assert lower == pytest.approx(low)


def test_an_interval_of_no_width_is_as_wide_as_the_miss():
    """From 1/2: the ends are expit(-1.645 d) and expit(+1.645 d)."""
    half = np.array([0.5])
    low, high = widened(half, half, Miss(1.0, 0.5), 0.9)

    assert low[0] == pytest.approx(1 / (1 + np.exp(1.6449)), abs=1e-4)
    assert high[0] == pytest.approx(1 / (1 + np.exp(-0.8224)), abs=1e-4)


# What is foretold of a build, and from what.

ONE = Menu(((0, 1), (1, 2)), 3)


def shown(day, outcome="right", drink=0, *, chosen=False, counts=True, choices=0):
    return Shown(drink, ONE.topics[drink], day, outcome, choices, chosen, counts)


def test_what_comes_later_or_at_once_tells_nothing():
    before = [shown(0.0), shown(1.0, choices=4)]
    alone = replay(ONE, [[*before, shown(2.0)]], [1])
    with_more = replay(ONE, [[*before, shown(2.0), shown(2.0, "wrong"), shown(3.0, "wrong")]], [3])

    [first, same_time, _] = with_more
    [only] = alone
    assert (first.right, first.ask, first.wrong) == (only.right, only.ask, only.wrong)
    assert same_time.right == first.right


def test_chances_sum_to_one_and_the_outcome_is_no_part_of_them():
    found = [
        replay(ONE, [[shown(0.0), shown(2.0, came)]], [1])[0] for came in ("right", "ask", "wrong")
    ]

    assert len({f.right for f in found}) == 1
    assert [f.shown.outcome for f in found] == ["right", "ask", "wrong"]
    for one in found:
        assert one.right + one.ask + one.wrong == pytest.approx(1)


def test_builds_alone_are_foretold_and_only_those_that_count():
    seen = [shown(0.0), shown(1.0, choices=4), shown(2.0, counts=False), shown(3.0, drink=1)]

    assert [f.shown.day for f in replay(ONE, [seen, []], [9, 9])] == [0.0, 3.0]
    assert [f.shown.day for f in replay(ONE, [seen, []], [1, 9])] == [3.0]
    assert replay(ONE, [seen], [0]) == []


def test_what_a_trainer_picked_is_expected_weaker():
    picked, ordered = (
        replay(ONE, [[shown(0.0), shown(2.0, chosen=chosen)]], [1])[0].right
        for chosen in (True, False)
    )

    assert picked < ordered


@pytest.mark.parametrize(
    ("newest", "most", "trials", "found"),
    [
        ([1, 2, 1], 9, 1000, {1: 2, 2: 1}),
        ([1, 2, 1], 2, 1000, {1: 1, 2: 1}),
        ([1, 2, 1], 9, 32, {1: 1}),  # 22 of 32 for the first; the next would cost 202, then 11
        ([1, 2, 1], 9, 33, {1: 2}),
        ([2, 1], 9, 30, {1: 1}),
        ([3], 9, 2, {3: 1}),
        ([], 9, 1000, {}),
    ],
)
def test_how_many_are_replayed(newest, most, trials, found):
    assert how_many(newest, {1: 10, 2: 100}, most, trials) == found


# Houses where the truth is known.

CLUMSY = replace(MODEL, executes=(0.8, 0.4))
"""What is remembered is built right four times in five, not 99 in a hundred: or is marked so."""

PEOPLE, EACH = 30, 14


@cache
def house(world: World, seed: int) -> tuple[list[Case], float, float]:
    """The record of a simulated house; how many true shares its forecasts cover, as they are and
    as the record lets them stand."""
    found = simulate(world, PEOPLE, seed)
    menu = Menu(found.menu.topics, found.menu.n_topics)
    people = [shown_of(found, hire) for hire in range(PEOPLE)]
    record = [
        Case(f.person, f.right, f.ask, f.wrong, f.shown.outcome, f.shown.chosen)
        for f in replay(menu, people, [EACH] * PEOPLE)
    ]
    said = forecast(fit(trials(menu, people)), menu, found.menu.sales, world.shift_day)
    kept = as_kept(said, miss_of(record), 0.9)
    covered = [
        float(((f.right.low <= found.right) & (found.right <= f.right.high)).mean())
        for f in (said, kept)
    ]
    return record, *covered


@pytest.mark.parametrize("seed", [11, 12, 13])
def test_a_house_as_the_model_has_it_is_left_as_it_is(seed):
    record, covered, kept = house(MODEL, seed)

    assert hold_against(record).says.code == "record_bears_out"
    assert miss_of(record) == NO_MISS
    assert kept == covered


@pytest.mark.parametrize("seed", [11, 12, 13])
def test_a_house_that_builds_worse_than_it_remembers_is_told_so_and_widened(seed):
    record, covered, kept = house(CLUMSY, seed)

    assert hold_against(record).says.code == "record_too_hopeful"
    assert miss_of(record).down > 0.1
    assert kept > covered


def test_widened_forecasts_cover_more_truths_in_a_clumsy_house():
    covered, kept = np.mean([house(CLUMSY, seed)[1:] for seed in (11, 12, 13)], axis=0)

    assert covered < 0.75
    assert kept > covered + 0.08
