"""What trials tell about a person, against a plain importance sample and finite differences."""

import sys
from dataclasses import dataclass, replace
from itertools import groupby

import numpy as np
import pytest
from scipy import stats

from assessments.measures.memory import recall_after
from assessments.measures.orders import (
    POPULATION,
    Menu,
    Shown,
    by_drink,
    fit,
    forecast,
    outlook,
    trials,
)
from assessments.measures.orders.population import (
    FIRMER,
    FIRST_DAYS,
    LONGEST_DAYS,
    MOST_MISMARKED,
    SLIPS,
    log_recall,
)

engine = sys.modules[fit.__module__]
ends = sys.modules[outlook.__module__]
"""The modules, whose names the functions have too."""

MENU = Menu(topics=((0, 1, 2), (0, 3), (0, 4, 5, 6)), n_topics=7)
SALES = np.array([0.5, 0.2, 0.3])
RIGHT, ASK, WRONG = "right", "ask", "wrong"


def answer(drink, day, outcome, topics=None, choices=4) -> Shown:
    return Shown(drink, topics or MENU.topics[drink], day, outcome, choices)


def build(drink, day, outcome, *, chosen=False) -> Shown:
    return Shown(drink, MENU.topics[drink], day, outcome, chosen=chosen)


MIXED = [
    answer(0, 0.0, RIGHT), answer(1, 0.0, WRONG), answer(2, 0.1, ASK), answer(0, 1.0, RIGHT),
    answer(1, 1.0, RIGHT, topics=(3,)), answer(2, 1.5, RIGHT, topics=(4, 5)), build(2, 2.0, WRONG),
    build(0, 2.0, RIGHT), answer(1, 3.0, ASK), build(1, 3.2, RIGHT), answer(2, 4.0, RIGHT),
]  # fmt: skip
STEADY = [build(d, day, RIGHT) for day in range(6) for d in range(3)]
LOST = [
    answer(d, day + d / 1440, WRONG if day % 2 else ASK) for day in range(5) for d in range(3)
]  # one after the other, as answers come
THREE_WEEKS = [replace(s, day=s.day + 5 * n) for n in range(4) for s in MIXED]
CHOSEN = [*MIXED, *(build(0, 5.0 + n / 10, RIGHT, chosen=True) for n in range(3))]


@dataclass(frozen=True)
class Sampled:
    mean: float
    low: float
    high: float


def sampled(shown, day, of=0, draws=2**16) -> Sampled:
    """The posterior of a share by weighting draws from the prior: no mode, no curvature."""
    normal = stats.norm.ppf(stats.qmc.Sobol(9, seed=5).random(draws) * (1 - 1e-12) + 5e-13)
    theta = np.array(POPULATION.mean) + normal[:, :6] * np.array(POPULATION.sd)
    chosen = {s.drink for s in shown if s.chosen}
    down = POPULATION.watched_weaker * POPULATION.drinks_differ**2
    up = down * len(chosen) / (3 - len(chosen))
    middle = np.array([-down if d in chosen else up for d in range(3)])
    hold = stats.norm.cdf(theta[:, [1]] + middle + normal[:, 6:] * POPULATION.drinks_differ)
    speed, reads = np.exp(theta[:, 0]), 1 / (1 + np.exp(-theta[:, 2]))
    hand, asks = stats.norm.cdf(theta[:, 3]), 1 / (1 + np.exp(-theta[:, 4]))
    trainers = MOST_MISMARKED / (1 + np.exp(-theta[:, 5]))
    state: dict[int, tuple[float, float, float]] = {}

    def remembers(drink, topics, at):
        found = hold[:, drink] ** (len(topics) / len(MENU.topics[drink]))
        for t in topics:
            if t not in state:
                found = found * reads
            else:
                last, stable, _ = state[t]
                found = found * np.exp(log_recall(np.array((at - last) / stable), speed))
        return found

    weight = np.ones(draws)
    for _day, moment in groupby(sorted(shown, key=lambda s: s.day), key=lambda s: s.day):
        at_once = list(moment)
        for one in at_once:
            knows = remembers(one.drink, one.topics, one.day)
            lucky = 1 / one.choices if one.choices else 0
            right = knows * (1 if one.choices else hand) + (1 - knows) * (1 - asks) * lucky
            ask = (1 - knows) * asks
            wrong = 1 - right - ask
            off = SLIPS if one.choices else trainers
            weight *= {
                RIGHT: (1 - off) * right + off * wrong + off * ask / 2,
                ASK: (1 - off) * ask,
                WRONG: (1 - off) * wrong + off * right + off * ask / 2,
            }[one.outcome]
        new = {t for one in at_once for t in one.topics if t not in state}
        for t, day_of in {(t, s.day) for s in at_once for t in s.topics if s.outcome == RIGHT}:
            _, stable, grown = state.get(t, (0, FIRST_DAYS, day_of))
            if day_of - grown >= 0.5:
                stable, grown = min(stable * FIRMER, LONGEST_DAYS), day_of
            state[t] = day_of, stable, grown
        state |= dict.fromkeys(new, (_day, FIRST_DAYS, _day))
    known = sum(w * remembers(d, MENU.topics[d], day) for d, w in enumerate(SALES))
    share = (known * hand, (1 - known) * asks, 1 - known * hand - (1 - known) * asks)[of]
    order = np.argsort(share)
    mass = np.cumsum(weight[order]) / weight.sum()
    low, high = (share[order][np.searchsorted(mass, q)] for q in (0.05, 0.95))
    return Sampled(float((weight * share).sum() / weight.sum()), float(low), float(high))


def told(shown, day):
    return forecast(fit(trials(MENU, [shown])), MENU, SALES, day)


OF = {"right": 0, "ask": 1, "wrong": 2}
LITTLE = {"nothing": [], "mixed": MIXED, "lost": LOST, "chosen": CHOSEN, "steady": STEADY}
MUCH = {"three weeks": THREE_WEEKS}


@pytest.mark.parametrize("of", OF)
@pytest.mark.parametrize("case", LITTLE)
def test_little_evidence_is_told_within_a_few_orders(case, of):
    """Against a plain importance sample of the same posterior; some dozen trials or none."""
    exact, found = sampled(LITTLE[case], 7.0, OF[of]), getattr(told(LITTLE[case], 7.0), of)

    assert found.mean[0] == pytest.approx(exact.mean, abs=0.06)
    assert (found.low[0], found.high[0]) == pytest.approx((exact.low, exact.high), abs=0.13)


@pytest.mark.parametrize("of", OF)
@pytest.mark.parametrize("case", MUCH)
def test_much_evidence_is_told_within_an_order_or_two(case, of):
    exact, found = sampled(MUCH[case], 21.0, OF[of]), getattr(told(MUCH[case], 21.0), of)

    assert found.mean[0] == pytest.approx(exact.mean, abs=0.02)
    assert (found.low[0], found.high[0]) == pytest.approx((exact.low, exact.high), abs=0.04)


def test_the_slopes_are_those_of_finite_differences():
    found = trials(MENU, [MIXED, CHOSEN])
    shift = engine._chosen_because_weak(found, POPULATION)
    groups = engine._groups(found, shift)
    mean = np.array([POPULATION.mean, POPULATION.mean]) + 0.2
    hold = groups.prior + 0.1

    curved = engine._curved(found, groups, mean, hold, POPULATION)

    def total(moved):
        return engine._log_posterior(found, groups, moved, hold, POPULATION)

    for kind, step in enumerate(np.eye(len(POPULATION.mean)) * 1e-5):
        slope = (total(mean + step) - total(mean - step)) / 2e-5
        assert curved.score[:, kind] == pytest.approx(slope, abs=1e-6)


def test_somebody_s_figures_don_t_hang_on_who_stands_beside_them():
    alone = told(MIXED, 7.0)
    known = fit(trials(MENU, [LOST, MIXED, [], STEADY]))
    together = forecast(known, MENU, SALES, 7.0)

    assert together.right.mean[1] == pytest.approx(alone.right.mean[0], abs=1e-9)
    assert together.right.low[1] == pytest.approx(alone.right.low[0], abs=1e-9)


def test_a_build_is_one_trial_and_one_showing():
    found = trials(MENU, [[build(0, 0.0, RIGHT), build(0, 1.0, RIGHT)]])

    assert len(found.outcome) == 2
    assert found.unseen.tolist() == [3, 0]
    assert found.ages == pytest.approx([1 / FIRST_DAYS] * 3)  # as fresh as just before it
    assert found.last[0, :3].tolist() == [1.0] * 3
    assert found.firm[0, :3] == pytest.approx([FIRST_DAYS * FIRMER] * 3)


def test_a_rule_is_shown_by_every_drink_that_uses_it():
    found = trials(MENU, [[build(0, 0.0, RIGHT), build(1, 0.1, RIGHT)]])

    assert found.unseen.tolist() == [3, 1]


@pytest.mark.parametrize(
    ("second", "firm", "last"),
    [((0.2, RIGHT), 1, 0.2), ((1.0, RIGHT), FIRMER, 1.0), ((1.0, WRONG), 1, 0.0),
     ((1.0, ASK), 1, 0.0)],
)  # fmt: skip
def test_only_what_is_right_is_fresh_and_on_another_day_firmer(second, firm, last):
    day, outcome = second
    found = trials(MENU, [[build(0, 0.0, RIGHT), build(0, day, outcome)]])

    assert found.firm[0, 0] == pytest.approx(FIRST_DAYS * firm)
    assert found.last[0, 0] == last


@pytest.mark.parametrize("outcome", [WRONG, ASK])
def test_what_was_never_shown_is_shown_by_being_put_right(outcome):
    found = trials(MENU, [[build(0, 1.0, outcome)]])

    assert found.last[0, 0] == 1.0
    assert found.firm[0, 0] == FIRST_DAYS


@pytest.mark.parametrize("many", [1, 2, 4, 8, 20])
@pytest.mark.parametrize("parts", [1, 2, 3])
@pytest.mark.parametrize("case", ["mixed", "steady", "lost", "three weeks"])
def test_nobody_s_figure_rises_by_failing(case, parts, many):
    """What goes wrong excuses nothing that went wrong before."""
    before = (LITTLE | MUCH)[case]
    day = max(s.day for s in before) + 1
    failed = [answer(n % 3, day + n / 1440, WRONG, MENU.topics[n % 3][:parts]) for n in range(many)]

    was, found = told(before, day + 0.1).right, told([*before, *failed], day + 0.1).right

    assert found.mean[0] < was.mean[0]
    assert found.low[0] < max(was.low[0], 0.02)  # a span narrows where next to nothing is known


def test_what_a_changed_drink_leaves_is_a_showing_and_no_trial():
    shown = [replace(build(0, 0.0, WRONG), counts=False, topics=(0, 1))]
    found = trials(MENU, [shown])

    assert len(found.outcome) == 0
    assert (found.firm[0] > 0).tolist() == [True, True, *[False] * 5]


def test_weak_drinks_chosen_to_be_built_speak_less_against_the_rest():
    wrong = [build(1, float(day), WRONG) for day in range(4)]
    ordered = told([*MIXED, *wrong], 7.0).right.mean[0]
    chosen = told([*MIXED, *(replace(b, chosen=True) for b in wrong)], 7.0).right.mean[0]

    assert chosen > ordered


GUESSED = [answer(0, 0.0, RIGHT), answer(1, 0.0, RIGHT), *(answer(2, d, o) for d, o in (
    (0.0, WRONG), (1.0, RIGHT), (2.0, WRONG), (3.0, RIGHT),
))]  # fmt: skip


@pytest.mark.parametrize("drink", range(3))
@pytest.mark.parametrize("before", [[], MIXED, LOST, STEADY, GUESSED, THREE_WEEKS])
def test_a_build_that_a_trainer_chose_and_that_came_right_lowers_nothing(before, drink):
    """Else whoever follows the next step that the program names would know less than before."""
    day = max((s.day for s in before), default=0.0) + 0.5
    was = told(before, day + 0.1)
    found = told([*before, build(drink, day, RIGHT, chosen=True)], day + 0.1)

    assert found.right.mean[0] >= was.right.mean[0] - 1e-3
    assert found.right.low[0] >= was.right.low[0] - 0.01
    assert found.wrong.mean[0] <= was.wrong.mean[0] + 0.005


def test_a_blind_guesser_stays_far_below_somebody_who_knows():
    def quiz(every):
        return [answer(n % 3, n / 9, RIGHT if n % every == 0 else WRONG) for n in range(60)]

    guesser, middling = told(quiz(4), 8.0).right, told(quiz(2), 8.0).right

    assert guesser.high[0] < 0.3  # a quarter right by luck is next to nothing known
    assert middling.mean[0] > guesser.mean[0] + 0.2


def test_more_fades_until_a_later_shift():
    rights = [told(STEADY, day).right.mean[0] for day in (5.5, 8.0, 20.0, 90.0)]

    assert rights == sorted(rights, reverse=True)
    assert rights[0] > rights[-1] + 0.05


def test_who_asks_is_told_from_who_guesses():
    asks = told([answer(d, day, ASK) for day in range(5) for d in range(3)], 6.0)
    guesses = told([answer(d, day, WRONG) for day in range(5) for d in range(3)], 6.0)

    assert asks.ask.mean[0] > 0.7
    assert guesses.ask.mean[0] < 0.3


def test_shares_sum_to_one_and_lie_in_their_intervals():
    for shown in (*LITTLE.values(), *MUCH.values()):
        found = told(shown, 7.0)
        assert found.right.mean + found.ask.mean + found.wrong.mean == pytest.approx([1])
        for share in (found.right, found.ask, found.wrong):
            assert 0 <= share.low[0] <= share.mean[0] <= share.high[0] <= 1


def test_the_curve_is_the_schedule_s():
    for days, stable in ((0.0, 3.0), (3.0, 3.0), (11.5, 2.3), (40.0, 60.0)):
        found = np.exp(log_recall(np.array([days / stable]), 1.0))
        assert found == pytest.approx([recall_after(days, stable)])


def test_drink_by_drink_adds_up_to_the_whole():
    """At the likeliest parameters alone, so close to the mean over all of them, not equal."""
    known = fit(trials(MENU, [MIXED, STEADY]))
    now, shown = by_drink(known, MENU, 7.0)

    assert now @ SALES == pytest.approx(forecast(known, MENU, SALES, 7.0).right.mean, abs=0.05)
    assert (now < shown).all()


def test_a_drink_never_shown_wins_most_by_being_shown():
    known = fit(trials(MENU, [[build(0, float(day), RIGHT) for day in range(4)]]))
    now, shown = by_drink(known, MENU, 5.0)

    assert (shown - now)[0].argmin() == 0


def test_points_differ_in_speed_along_one_axis_alone():
    known = fit(trials(MENU, [MIXED, STEADY]))
    speeds = ends.points_of(known)[:, :, 0]

    assert speeds == pytest.approx(speeds[:, ends.SPEEDS][:, ends.SPEED_OF])
    assert (np.ptp(speeds, axis=1) > 0).all()
