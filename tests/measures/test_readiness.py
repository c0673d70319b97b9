"""Who is ready: the gates as truth tables, the figures against the house's bar."""

from dataclasses import replace

import pytest

from assessments.measures.drink_facts import DrinkFact
from assessments.measures.readiness import Standing, judge
from assessments.measures.ready_facts import (
    NOTHING_ORDERED,
    Expected,
    Facts,
    MissedPour,
    Orders,
    ReadyPolicy,
    Safety,
)
from recipes.grammar.aspects import Aspect

POLICY = ReadyPolicy(least_right=0.85, most_wrong=0.05, second_right=0.6)


def fact(slug="madras", share=1.0, right=0.0, ask=0.0, wrong=0.0, **said) -> DrinkFact:
    said = {"must_know": True, "signed_off": True, **said}
    return DrinkFact(slug, slug.title(), share, right=right, ask=ask, wrong=wrong, **said)


def expected(right, ask, wrong, off=0.05) -> Orders:
    return Orders(*(Expected(s, max(0.0, s - off), min(1.0, s + off)) for s in (right, ask, wrong)))


SURE = expected(0.96, 0.02, 0.02)
FAIR = expected(0.70, 0.26, 0.04)
POOR = expected(0.10, 0.20, 0.70)
HARDLY_KNOWN = expected(0.75, 0.15, 0.10, off=0.25)
"""The mean is .75, well above the bar of second; the low end is not."""


def facts(*drinks: DrinkFact, orders=SURE, safety=Safety.PASSED, policy=POLICY) -> Facts:
    return Facts("K7", drinks, orders, safety, "Service and safety", policy)


def codes(reasons) -> list[str]:
    return [r.code for r in reasons]


def test_the_figures_are_those_of_the_orders():
    verdict = judge(facts(fact(), orders=FAIR))

    assert (verdict.right, verdict.ask, verdict.wrong) == (0.70, 0.26, 0.04)
    assert (verdict.right_low, verdict.right_high) == (FAIR.right.low, FAIR.right.high)
    assert (verdict.ask_low, verdict.ask_high) == (FAIR.ask.low, FAIR.ask.high)
    assert (verdict.wrong_low, verdict.wrong_high) == (FAIR.wrong.low, FAIR.wrong.high)
    assert not verdict.provisional


OLD = {"sign_off_out_of_date": (Aspect.GLASS, Aspect.POURS)}

GATES = [
    # the orders, one must-know drink's sign-off, safety, standing, what is missing
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
    (POOR, {}, Safety.PASSED, "not_yet", ["right_below_second", "wrong_too_high"]),
    (HARDLY_KNOWN, {}, Safety.PASSED, "not_yet", ["right_below_second", "wrong_too_high"]),
    (NOTHING_ORDERED, {}, Safety.PASSED, "not_yet", ["right_below_second", "wrong_too_high"]),
]  # fmt: skip


@pytest.mark.parametrize(("orders", "said", "safety", "standing", "missing"), GATES)
def test_no_figure_outweighs_a_gate(orders, said, safety, standing, missing):
    verdict = judge(facts(fact(**said), orders=orders, safety=safety))

    assert verdict.standing == standing
    assert codes(verdict.missing) == missing
    assert bool(verdict.next) is bool(missing)
    assert verdict.person == "K7"


@pytest.mark.parametrize(("orders", "told"), [(SURE, False), (FAIR, True), (POOR, True)])
def test_a_missed_pour_is_named_where_figures_fall_short(orders, told):
    spirit = MissedPour("one pour of spirits is 1 fl oz", 16)

    missing = judge(replace(facts(fact(), orders=orders), pours_missed=(spirit,))).missing

    said = [r.values for r in missing if r.code == "pour_missed"]
    assert said == [{"says": spirit.says, "count": 16}] * told


@pytest.mark.parametrize(
    ("orders", "said"),
    [
        (expected(0.95, 0.024, 0.026), 3),  # as the rack shows it
        (expected(0.95, 0.026, 0.024), "2.4"),  # the rack shows 2, which reads as enough
        (expected(0.95, 0.02999, 0.02001), "2.1"),
        (expected(0.70, 0.0, 0.30), 30),
    ],
)
def test_what_goes_out_wrong_is_said_as_the_rack_shows_it(orders, said):
    policy = replace(POLICY, least_right=0.1, second_right=0.1, most_wrong=0.02)
    [reason] = judge(facts(fact(), orders=orders, policy=policy)).missing

    assert reason.values == {"wrong": said, "most": 2}
    assert float(said) > 2


MENU = [fact(f"d{n}", 1 / 80) for n in range(79)]


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
    if verdict.guess and not seen[0]:
        assert verdict.guess.code == "nothing_seen"
    elif verdict.guess:
        assert verdict.guess.values == {"count": seen[0], "of": seen[1]}


def test_wrong_alone_can_keep_somebody_from_ready():
    """Right often enough, yet more go out wrong than the house takes."""
    policy = replace(POLICY, most_wrong=0.02)
    verdict = judge(facts(fact(), orders=expected(0.94, 0.005, 0.055), policy=policy))

    assert verdict.standing is Standing.SECOND
    (reason,) = verdict.missing
    assert reason.values == {"wrong": 6, "most": 2}


def test_the_bar_itself_is_enough():
    """At least `least_right`, at most `most_wrong`, at least `second_right` at the low end."""
    low = FAIR.right.low
    at_bar = ReadyPolicy(low, FAIR.wrong.mean, low)
    above = replace(at_bar, least_right=low + 1e-6)
    beyond_second = replace(above, second_right=low + 1e-6)

    assert judge(facts(fact(), orders=FAIR, policy=at_bar)).standing is Standing.READY
    assert judge(facts(fact(), orders=FAIR, policy=above)).standing is Standing.SECOND
    assert judge(facts(fact(), orders=FAIR, policy=beyond_second)).standing is Standing.NOT_YET


def test_what_falls_short_never_reads_as_enough():
    policy = ReadyPolicy(FAIR.right.low + 1e-6, 1, 0)

    (reason,) = judge(facts(fact(), orders=FAIR, policy=policy)).missing

    assert reason.values["low"] < reason.values["least"]


def test_a_whole_percentage_reads_as_it_was_set():
    nothing = expected(0.0, 0.0, 1.0)
    for percent in range(1, 100):
        policy = ReadyPolicy(percent / 100, percent / 100, 0)
        found = judge(facts(fact(), orders=nothing, policy=policy)).missing
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
    verdict = judge(facts(orders=NOTHING_ORDERED))

    assert verdict.standing is Standing.NOT_YET
    assert "no_drinks" in codes(verdict.missing)


@pytest.mark.parametrize("bad", [{"share": -0.1}, {"right": -1}, {"ask": -1}, {"wrong": -1}])
def test_impossible_facts_are_refused(bad):
    with pytest.raises(ValueError, match="not below 0"):
        fact(**bad)


@pytest.mark.parametrize("bad", [(1.1, 0, 0), (0, -0.1, 0), (0, 0, 2)])
def test_an_impossible_bar_is_refused(bad):
    with pytest.raises(ValueError, match="from 0 to 1"):
        ReadyPolicy(*bad)
