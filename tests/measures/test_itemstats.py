"""Figures about questions, against published and reference values."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from assessments.measures.itemstats import (
    Answered,
    feldt_interval,
    fisher_interval,
    kr20,
    places_of,
    point_biserial,
    report,
)

# Ten students by ten items (K. Wuensch, East Carolina University): KR-20 is .6963 there, and
# .69635 by pingouin 0.5 (`cronbach_alpha` of the same numbers).
ROWS = """
1111110110 1011011101 1111011001 0010001000 0000010010
1110111111 1101110111 1111111101 0101111101 1101101110
"""
WUENSCH = np.array([[int(c) for c in row] for row in ROWS.split()], dtype=float)


def test_kr20_is_the_published_one():
    assert kr20(WUENSCH) == pytest.approx(0.6963, abs=5e-5)
    p = WUENSCH.mean(axis=0)
    assert (p * (1 - p)).sum() == pytest.approx(2.18)
    assert WUENSCH.sum(axis=1).var() == pytest.approx(5.84)


@pytest.mark.parametrize(("item", "plain", "rest"), [(0, 0.7946, 0.7059), (6, 0.1625, -0.0274)])
def test_point_biserial_is_scipy_s_and_is_corrected(item, plain, rest):
    """Values by scipy.stats.pointbiserialr on the numbers above."""
    column, total = WUENSCH[:, item], WUENSCH.sum(axis=1)

    assert point_biserial(column, total) == pytest.approx(plain, abs=5e-5)
    assert point_biserial(column, total - column) == pytest.approx(rest, abs=5e-5)
    assert point_biserial(column, total) == pytest.approx(
        stats.pointbiserialr(column, total).statistic
    )


@settings(max_examples=60)
@given(st.floats(-0.5, 0.99), st.integers(3, 300), st.integers(2, 60))
def test_feldt_s_interval_is_that_of_the_f_distribution(alpha, people, items):
    """Feldt 1965, with scipy.stats.f."""
    low, high = feldt_interval(alpha, people, items)
    f = stats.f(people - 1, (people - 1) * (items - 1))

    assert low == pytest.approx(1 - (1 - alpha) * f.ppf(0.975), abs=1e-6)
    assert high == pytest.approx(1 - (1 - alpha) * f.ppf(0.025), abs=1e-6)
    assert low <= alpha + 0.35
    assert low < high


@settings(max_examples=40)
@given(st.integers(0, 10_000), st.integers(3, 40), st.integers(2, 20))
def test_kr20_is_alpha_of_right_and_wrong(seed, people, items):
    """Alpha by its own definition (Cronbach 1951), with population variances."""
    matrix = np.random.default_rng(seed).integers(0, 2, (people, items)).astype(float)
    variance = matrix.sum(axis=1).var()
    if variance == 0:
        assert kr20(matrix) is None
        return
    alpha = items / (items - 1) * (1 - matrix.var(axis=0).sum() / variance)
    assert kr20(matrix) == pytest.approx(alpha)


@pytest.mark.parametrize("matrix", [np.ones((5, 5)), np.zeros((1, 5)), np.zeros((5, 1))])
def test_where_nothing_varies_there_is_no_reliability(matrix):
    assert kr20(matrix) is None


def as_answers(matrix, **picked):
    return [
        Answered(f"q{n}", who, f"q{n}", bool(right), picked.get(f"q{n}", "x") if not right else "")
        for who, row in enumerate(matrix)
        for n, right in enumerate(row)
    ]


def test_a_report_of_a_full_matrix_has_the_same_figures():
    found = report(as_answers(WUENSCH))

    assert found.reliability == pytest.approx(0.6963, abs=5e-5)
    assert (found.people, found.places) == (10, 10)
    by_name = {s.item: s for s in found.items}
    assert by_name["q0"].discrimination == pytest.approx(0.7059, abs=5e-5)
    assert by_name["q6"].discrimination == pytest.approx(-0.0274, abs=5e-5)
    assert found.trust.code == "trust_unsure"
    assert found.low < 0.5 < 0.7 < found.high


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10_000), st.integers(4, 60))
def test_a_correlation_s_interval_is_scipy_s(seed, people):
    """scipy.stats.pearsonr's, which is Fisher's z too."""
    random = np.random.default_rng(seed)
    item, score = (random.integers(0, 2, people), random.integers(0, 9, people))
    r = point_biserial(item.astype(float), score.astype(float))
    if r is None or abs(r) > 0.999:
        return
    reference = stats.pearsonr(item, score).confidence_interval()
    assert fisher_interval(r, people) == pytest.approx(tuple(reference), abs=1e-9)


def test_of_three_people_a_correlation_has_no_interval():
    assert fisher_interval(0.5, 3) is None


def test_what_looks_backwards_in_ten_answers_may_be_chance_and_says_so():
    first = report(as_answers(WUENSCH)).items[0]

    assert first.discrimination < 0 < first.apart[1]
    assert [r.code for r in first.reasons] == ["item_perhaps_backwards"]


@pytest.mark.parametrize(
    ("people", "code"), [(40, "item_backwards"), (6, None)], ids=["forty", "six"]
)
def test_what_surely_goes_backwards_is_to_fix_first_and_says_why(people, code):
    """Whoever knows the other nine gets the tenth wrong."""
    knows = np.arange(people) % 2 == 0
    matrix = np.column_stack([np.repeat(knows[:, None], 9, axis=1), ~knows]).astype(float)
    first, *_others = report(as_answers(matrix)).items

    assert ([r.code for r in first.reasons] or [None])[0] == code
    if code:
        assert first.item == "q9"


@pytest.mark.parametrize(("people", "said"), [(400, True), (20, False)])
def test_that_a_question_says_little_needs_answers_enough(people, said):
    """A question that half of everybody has right, whatever else they know."""
    knows, coin = np.arange(people) % 2, np.arange(people) // 2 % 2
    matrix = np.column_stack([np.repeat(knows[:, None], 5, axis=1), coin]).astype(float)
    [stat] = [s for s in report(as_answers(matrix)).items if s.item == "q5"]

    assert stat.discrimination == pytest.approx(0)
    assert ("item_says_little" in {r.code for r in stat.reasons}) is said


def test_a_wrong_answer_that_draws_more_than_the_right_one_is_named():
    rows = [Answered("q", n, "q", n < 3, "" if n < 3 else "lemon") for n in range(12)]

    [stat] = report(rows).items
    assert stat.draws == (("lemon", 9),)
    assert "item_wrong_draws" in {r.code for r in stat.reasons}


@pytest.mark.parametrize(
    ("right", "of", "code"), [(0, 12, "item_too_hard"), (30, 30, "item_too_easy"), (2, 4, None)]
)
def test_reasons_need_answers_enough(right, of, code):
    rows = [Answered("q", n, "q", n < right) for n in range(of)]

    [stat] = report(rows).items
    assert [r.code for r in stat.reasons] == ([code] if code else [])


@pytest.mark.parametrize(
    ("people", "spread", "code"),
    [(4, 1.0, "trust_none"), (60, 2.5, "trust_good"), (200, 0.0, "trust_poor")],
)
def test_what_the_figure_means_at_this_number_of_people(people, spread, code):
    """A simulated class: the more people differ, the more a score says about them."""
    random = np.random.default_rng(5)
    ability = random.normal(0, spread, (people, 1))
    chance = 1 / (1 + np.exp(-(ability - np.linspace(-1, 1, 20))))
    matrix = (random.random((people, 20)) < chance).astype(float)

    assert report(as_answers(matrix)).trust.code == code


@pytest.mark.parametrize("people", [2, 4, 9])
def test_of_a_few_people_no_reliability_stands_beside_too_few(people):
    found = report(as_answers(WUENSCH[:people]))

    assert (found.reliability, found.low, found.high) == (None, None, None)
    assert found.trust.code == "trust_none"


def test_where_everybody_has_the_same_score_it_is_said_to_be_that_and_not_too_few_people():
    found = report(as_answers(np.tile(WUENSCH[0], (12, 1))))

    assert found.reliability is None
    assert (found.trust.code, found.trust.values["people"]) == ("trust_alike", 12)


def test_nobody_has_answered():
    found = report([])
    assert (found.items, found.people, found.reliability) == ((), 0, None)
    assert found.trust.code == "trust_none"


def test_places_number_the_questions_of_a_kind():
    keys = [("pours", "b"), ("whole", "z"), ("pours", "a")]

    assert places_of(keys) == ["pours 2", "whole 1", "pours 1"]


@pytest.mark.parametrize(("each", "code"), [(1, "trust_none"), (6, "trust_unlike")])
def test_everybody_with_a_result_is_counted_whatever_they_were_asked(each, code):
    """Two sets of places: all are people, and only those with the same places are compared."""
    rows = [
        Answered(f"{place}{n}", who, f"{place}{n}", (who + n) % 3 > 0)
        for place, first in (("a", 0), ("b", each))
        for who in range(first, first + each)
        for n in range(4)
    ]

    found = report(rows)
    assert (found.people, found.compared, found.trust.code) == (2 * each, each, code)


def test_reliability_is_of_those_alone_who_answered_all():
    """The published figure stays, however many the time stopped after their first question."""
    stopped = range(10, 25)
    rows = [*as_answers(WUENSCH), *(Answered("q0", who, "q0", who % 2 > 0) for who in stopped)]

    found = report(rows, set(stopped))
    assert found.reliability == pytest.approx(0.6963, abs=5e-5)
    assert (found.people, found.compared, found.places) == (25, 10, 10)
    by_name = {s.item: s for s in found.items}
    assert (by_name["q0"].answers, by_name["q1"].answers) == (25, 10)
    assert by_name["q0"].discrimination == pytest.approx(0.7059, abs=5e-5)


@pytest.mark.parametrize(
    ("finished", "people", "code"),
    [(0, 10, "trust_unfinished"), (9, 10, "trust_unfinished"), (5, 9, "trust_none")],
)
def test_that_too_few_answered_all_is_said_to_be_that(finished, people, code):
    rows = [Answered(f"q{n}", w, f"q{n}", (w + n) % 3 > 0) for w in range(people) for n in (0, 1)]

    found = report(rows, range(finished, people))
    assert (found.trust.code, found.reliability) == (code, None)
    assert (found.people, found.compared) == (people, finished)
