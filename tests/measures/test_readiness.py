"""Who is ready: the figures against closed forms, the gates as truth tables."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from assessments.measures.readiness import Standing, draw_shares, judge, spread
from assessments.measures.ready_facts import DrinkFact, Facts, ReadyPolicy, Safety
from recipes.grammar.aspects import Aspect

POLICY = ReadyPolicy(least_right=0.85, most_wrong=0.05, second_right=0.6)


def fact(slug="madras", share=1.0, right=0.0, ask=0.0, wrong=0.0, **said) -> DrinkFact:
    said = {"must_know": True, "signed_off": True, **said}
    return DrinkFact(slug, slug.title(), share, right=right, ask=ask, wrong=wrong, **said)


def facts(*drinks: DrinkFact, safety=Safety.PASSED, policy=POLICY, seed=1) -> Facts:
    return Facts("K7", drinks, safety, "Service and safety", policy, seed)


def codes(reasons) -> list[str]:
    return [r.code for r in reasons]


def test_one_drink_is_the_beta_of_the_textbook():
    """Beta(438, 544): mean .446, sd .016, 95 % .415 to .477 (Gelman et al., Bayesian Data
    Analysis, 3rd edition, 2.4)."""
    right, _, _ = draw_shares([fact(right=437.5, ask=500, wrong=43.5)], seed=1)
    found = spread(right, level=0.95)

    assert found.mean == pytest.approx(0.446, abs=5e-4)
    assert right.std() == pytest.approx(0.016, abs=5e-4)
    assert (found.low, found.high) == pytest.approx((0.415, 0.477), abs=5e-4)


@pytest.mark.parametrize(
    ("right", "ask", "wrong"), [(0, 0, 0), (1, 0, 0), (3, 1, 2), (2 / 3, 0, 4 / 3), (40, 2, 1)]
)
def test_one_drink_has_the_closed_forms_of_the_beta(right, ask, wrong):
    """Means and 90 % quantiles against scipy.stats.beta; ask and wrong by their product means."""
    verdict = judge(facts(fact(right=right, ask=ask, wrong=wrong)))
    exact = stats.beta(0.5 + right, 0.5 + ask + wrong)
    asked = (0.5 + ask) / (1 + ask + wrong)

    assert verdict.right == pytest.approx(exact.mean(), abs=1e-3)
    assert (verdict.right_low, verdict.right_high) == pytest.approx(
        (exact.ppf(0.05), exact.ppf(0.95)), abs=2e-3
    )
    assert verdict.ask == pytest.approx((1 - exact.mean()) * asked, abs=0.01)
    assert verdict.wrong == pytest.approx((1 - exact.mean()) * (1 - asked), abs=0.01)


def test_a_drink_counts_by_what_the_house_sells():
    known, unknown = fact("madras", 0.3, right=50), fact("negroni", 0.1, wrong=50)
    mean = {True: 50.5 / 51, False: 0.5 / 51}

    weighted = judge(facts(known, unknown))

    assert weighted.right == pytest.approx(0.75 * mean[True] + 0.25 * mean[False], abs=1e-3)


def test_without_sales_all_drinks_count_alike():
    drinks = [fact("madras", 0, right=50), fact("negroni", 0, wrong=50)]

    assert judge(facts(*drinks)).right == pytest.approx(0.5, abs=1e-3)


def test_many_drinks_are_known_more_surely_than_one():
    """Var of the mean of n independent Beta(2.5, 1.5) is their variance by n."""
    drinks = [fact(f"d{n}", right=2, wrong=1) for n in range(25)]
    right, _, _ = draw_shares(drinks, seed=3)

    assert right.std() == pytest.approx(stats.beta(2.5, 1.5).std() / 5, rel=0.05)


def test_the_same_facts_and_seed_give_the_same_verdict():
    drinks = [fact("madras", 0.2, right=2), fact("negroni", 0.5, ask=1), fact("mojito", 0.3)]

    assert judge(facts(*drinks)) == judge(facts(*drinks))
    assert judge(facts(*drinks)) == judge(facts(*drinks[::-1]))
    assert judge(facts(*drinks)).right_low != judge(facts(*drinks, seed=2)).right_low


trials = st.floats(0, 30, allow_nan=False)
some_drinks = st.lists(
    st.builds(
        lambda share, right, ask, wrong: fact("x", share, right, ask, wrong),
        st.floats(0, 1),
        trials,
        trials,
        trials,
    ),
    min_size=1,
    max_size=4,
).map(lambda found: [replace(d, slug=f"d{n}") for n, d in enumerate(found)])


@settings(max_examples=60, deadline=None)
@given(some_drinks)
def test_right_ask_and_wrong_sum_to_one(drinks):
    verdict = judge(facts(*drinks), draws=400)

    assert verdict.right + verdict.ask + verdict.wrong == pytest.approx(1)
    for low, mean, high in (
        (verdict.right_low, verdict.right, verdict.right_high),
        (verdict.ask_low, verdict.ask, verdict.ask_high),
        (verdict.wrong_low, verdict.wrong, verdict.wrong_high),
    ):
        assert -1e-9 <= low <= high <= 1 + 1e-9
        assert 0 <= mean <= 1


@settings(max_examples=60, deadline=None)
@given(some_drinks, st.integers(0, 3), st.floats(0.1, 5))
def test_more_right_evidence_never_lowers_right(drinks, which, more):
    which %= len(drinks)
    better = list(drinks)
    better[which] = replace(drinks[which], right=drinks[which].right + more)

    before, after = (draw_shares(d, seed=4, draws=400)[0] for d in (drinks, better))

    assert np.all(after >= before - 1e-12)


@settings(max_examples=60, deadline=None)
@given(some_drinks, st.integers(0, 3), st.floats(0.1, 5))
def test_more_wrong_evidence_never_raises_right(drinks, which, more):
    which %= len(drinks)
    worse = list(drinks)
    worse[which] = replace(drinks[which], wrong=drinks[which].wrong + more)

    before, after = (draw_shares(d, seed=4, draws=400)[0] for d in (drinks, worse))

    assert np.all(after <= before + 1e-12)


SURE = {"right": 400.0}
POOR = {"wrong": 400.0}
FAIR = {"right": 70.0, "ask": 30.0}
LITTLE = {"right": 1.0}
"""The mean is .75, well above the bar of second; the low end is not."""
OLD = {"sign_off_out_of_date": (Aspect.GLASS, Aspect.POURS)}

GATES = [
    # one must-know drink's evidence and sign-off, safety, standing, what is missing
    (SURE, {}, Safety.PASSED, "ready", []),
    (SURE, {}, Safety.FAILED, "not_yet", ["safety_not_passed"]),
    (SURE, {}, Safety.NOT_TAKEN, "not_yet", ["safety_not_passed"]),
    (SURE, {"signed_off": False}, Safety.PASSED, "second", ["not_signed_off"]),
    (SURE, OLD, Safety.PASSED, "second", ["sign_off_out_of_date"]),
    (SURE, {"must_know": False}, Safety.PASSED, "second", ["no_must_knows"]),
    (SURE, {"signed_off": False}, Safety.FAILED, "not_yet",
     ["safety_not_passed", "not_signed_off"]),
    (FAIR, {}, Safety.PASSED, "second", ["right_too_low"]),
    (FAIR, {}, Safety.FAILED, "not_yet", ["safety_not_passed", "right_too_low"]),
    (POOR, {}, Safety.PASSED, "not_yet", ["right_too_low", "wrong_too_high"]),
    (LITTLE, {}, Safety.PASSED, "not_yet", ["right_too_low", "wrong_too_high"]),
    ({}, {}, Safety.PASSED, "not_yet", ["right_too_low", "wrong_too_high"]),
]  # fmt: skip


@pytest.mark.parametrize(("evidence", "said", "safety", "standing", "missing"), GATES)
def test_no_figure_outweighs_a_gate(evidence, said, safety, standing, missing):
    verdict = judge(facts(fact(**evidence, **said), safety=safety))

    assert verdict.standing == standing
    assert codes(verdict.missing) == missing
    assert bool(verdict.next) is bool(missing)
    assert verdict.provisional
    assert verdict.person == "K7"


MENU = [fact(f"d{n}", 1 / 80) for n in range(79)]


def test_one_beer_makes_nobody_second():
    policy = replace(POLICY, second_right=0.5)
    beer = fact("beer", 1 / 80, right=1)

    verdict = judge(facts(beer, *MENU, policy=policy))

    assert verdict.right > 0.5 > verdict.right_low
    assert verdict.standing is Standing.NOT_YET


@pytest.mark.parametrize(
    ("drinks", "seen", "guess"),
    [
        ([], (0, 0), True),
        ([*MENU], (0, 79), True),
        ([fact("beer", 1 / 80, right=1), *MENU], (1, 80), True),
        ([fact("beer", 1 / 80, ask=1), *MENU], (1, 80), True),
        ([fact("beer", 0.19, right=40), fact("stout", 0.81)], (1, 2), True),
        ([fact("beer", 0.2, right=1), fact("stout", 0.8)], (1, 2), False),
        ([fact("beer", 0, wrong=1), fact("stout", 0)], (1, 2), False),
        ([fact("beer", 0.9), fact("stout", 0.1, right=9)], (1, 2), True),
    ],
)
def test_figures_that_rest_on_hardly_any_drink_say_so(drinks, seen, guess):
    """By what the house sells: under a fifth of the orders is mostly a guess."""
    verdict = judge(facts(*drinks))

    assert (verdict.seen, verdict.of) == seen
    assert (verdict.guess is not None) is guess
    if verdict.guess:
        assert verdict.guess.values == {"count": seen[0], "of": seen[1]}


def test_wrong_alone_can_keep_somebody_from_ready():
    """Right often enough, yet more go out wrong than the house takes."""
    policy = replace(POLICY, most_wrong=0.02)
    verdict = judge(facts(fact(right=900, wrong=50), policy=policy))

    assert verdict.standing is Standing.SECOND
    (reason,) = verdict.missing
    assert reason.values == {"wrong": 6, "most": 2}


def test_the_bar_itself_is_enough():
    """At least `least_right`, at most `most_wrong`, at least `second_right` at the low end."""
    drink = fact(right=20, ask=3, wrong=3)
    seen = judge(facts(drink))
    at_bar = ReadyPolicy(seen.right_low, seen.wrong, seen.right_low)
    above = replace(at_bar, least_right=seen.right_low + 1e-6)
    beyond_second = replace(above, second_right=seen.right_low + 1e-6)

    assert judge(facts(drink, policy=at_bar)).standing is Standing.READY
    assert judge(facts(drink, policy=above)).standing is Standing.SECOND
    assert judge(facts(drink, policy=beyond_second)).standing is Standing.NOT_YET


def test_what_falls_short_never_reads_as_enough():
    drink = fact(right=20, ask=3, wrong=3)
    low = judge(facts(drink)).right_low
    policy = ReadyPolicy(low + 1e-6, 1, 0)

    (reason,) = judge(facts(drink, policy=policy)).missing

    assert reason.values["low"] < reason.values["least"]


def test_a_whole_percentage_reads_as_it_was_set():
    for percent in range(1, 100):
        policy = ReadyPolicy(percent / 100, percent / 100, 0)
        found = judge(facts(fact(wrong=1000), policy=policy), draws=50).missing
        assert {r.values.get("least", r.values.get("most")) for r in found} == {percent}


def test_every_must_know_without_a_valid_sign_off_is_named():
    verdict = judge(
        facts(
            fact("madras", signed_off=False),
            fact("negroni", sign_off_out_of_date=(Aspect.GLASS, Aspect.POURS)),
            fact("mojito"),
            fact("daiquiri", must_know=False, signed_off=False),
        )
    )
    about = [(r.code, r.values["drink"]) for r in verdict.missing if "drink" in r.values]

    assert about == [("not_signed_off", "Madras"), ("sign_off_out_of_date", "Negroni")]
    old = next(r for r in verdict.missing if r.code == "sign_off_out_of_date")
    assert old.values["aspects"] == "glass,pours"


def test_a_house_without_drinks_makes_nobody_ready():
    verdict = judge(facts())

    assert verdict.standing is Standing.NOT_YET
    assert "no_drinks" in codes(verdict.missing)
    assert verdict.right == pytest.approx(0.5, abs=1e-3)


@pytest.mark.parametrize("bad", [{"share": -0.1}, {"right": -1}, {"ask": -1}, {"wrong": -1}])
def test_impossible_facts_are_refused(bad):
    with pytest.raises(ValueError, match="not below 0"):
        fact(**bad)


@pytest.mark.parametrize("bad", [(1.1, 0, 0), (0, -0.1, 0), (0, 0, 2)])
def test_an_impossible_bar_is_refused(bad):
    with pytest.raises(ValueError, match="from 0 to 1"):
        ReadyPolicy(*bad)
