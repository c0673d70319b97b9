"""What trials tell about a person: the likeliest parameters, and how sure they are.

Posterior mode and curvature (Laplace) by Fisher scoring, of the person's parameters and of how
well each drink has taken hold, for all people at once. The curvature is an arrow: drinks are tied
to each other through the person alone, so each drink is solved in closed form.
"""

from dataclasses import dataclass

import numpy as np
from scipy.special import expit, log_expit, log_ndtr, ndtr

from assessments.measures.forgetting import DECAY, FACTOR
from assessments.measures.orders.history import BUILD, Ints, Trials
from assessments.measures.orders.population import (
    ASKS,
    EXECUTES,
    FORGETS,
    HOLDS,
    KINDS,
    MISMARKED,
    MOST_MISMARKED,
    POPULATION,
    READS,
    SLIPS,
    Array,
    Population,
    Reals,
    log_recall,
    mismarks,
)

ROUNDS = 8
"""Always as many, so that somebody's figures don't hang on who is looked at beside them. What is
still missing to the mode then is a small part of a standard deviation, and `_skewed` mends it."""

STRIDE = 1.5
"""No parameter moves further in one round: far off, the curvature says little."""


@dataclass(frozen=True)
class Fit:
    """Several people on one menu. A person's parameters are normal, `mean` and `cov`; given them,
    a drink's hold in log-odds above the person's own is normal with mean `hold` + `slope` times
    their distance from the mean, and variance `loose`. `last`, `firm`, `took`: see `Trials`."""

    mean: Array
    cov: Array
    hold: Array
    slope: Array
    loose: Array
    last: Array
    firm: Array
    took: Array


@dataclass(frozen=True)
class _Groups:
    """Trials of one person on one drink stand together; so do a person's groups."""

    starts: Ints
    person: Ints
    drink: Ints
    of: Ints
    prior: Array


@dataclass(frozen=True)
class _Curved:
    """Gradient and expected curvature; the drink's part by group."""

    score: Array
    score_drink: Array
    person: Array
    both: Array
    drink: Array


def fit(found: Trials, population: Population = POPULATION) -> Fit:
    shift = _chosen_because_weak(found, population)
    groups = _groups(found, shift)
    mean = np.tile(np.array(population.mean), (found.people, 1))
    hold = groups.prior.copy()
    for _ in range(ROUNDS):
        curved = _curved(found, groups, mean, hold, population)
        step, step_drink = _newton(curved, groups)
        mean += step.clip(-STRIDE, STRIDE)
        hold += step_drink.clip(-STRIDE, STRIDE)
    return _fitted(found, groups, mean, hold, shift, population)


def _chosen_because_weak(found: Trials, population: Population) -> Array:
    """By how much a drink's hold is expected to lie beside the person's own.

    If a drink is chosen with a chance that goes as exp(-h z), z among the chosen is again normal,
    h times the variance lower. What was not chosen lies as much higher as keeps the mean.

    What came right when it was chosen is no longer thought weak: else whoever builds well what the
    program itself names next would be told that they know less than before.
    """
    down = population.watched_weaker * population.drinks_differ**2
    share = found.chosen.mean(axis=1, keepdims=True) if found.chosen.size else 0.0
    up = down * np.divide(share, 1 - share, out=np.zeros_like(share), where=share < 1)
    chosen = np.where(found.held, 0.0, -down)
    return np.where(found.chosen, chosen, np.minimum(up, down))


def _groups(found: Trials, shift: Array) -> _Groups:
    new = np.ones(len(found.person), dtype=bool)
    new[1:] = (np.diff(found.person) != 0) | (np.diff(found.drink) != 0)
    starts = np.flatnonzero(new)
    person, drink = found.person[starts], found.drink[starts]
    return _Groups(starts, person, drink, np.cumsum(new) - 1, shift[person, drink])


def _curved(
    found: Trials, groups: _Groups, mean: Array, hold: Array, population: Population
) -> _Curved:
    slopes, chances = _slopes(found, mean[found.person], hold[groups.of])
    came = np.arange(len(chances)), found.outcome
    score = _sums(slopes[came] / chances[came][:, None], groups.starts)
    scaled = slopes / np.sqrt(chances)[:, :, None]
    info = _sums((scaled.transpose(0, 2, 1) @ scaled).reshape(-1, KINDS**2), groups.starts)
    info = info.reshape(-1, KINDS, KINDS)
    by_person = _by_person(groups, found.people)
    loose, apart = population.drinks_differ**-2, np.array(population.sd) ** -2.0
    return _Curved(
        score=by_person(score) - apart * (mean - np.array(population.mean)),
        score_drink=score[:, HOLDS] - loose * (hold - groups.prior),
        person=by_person(info) + np.diag(apart),
        both=info[:, :, HOLDS],
        drink=info[:, HOLDS, HOLDS] + loose,
    )


def _sums(values: Array, starts: Ints) -> Array:
    found: Array = np.add.reduceat(values, starts, axis=0) if len(starts) else values[:0]
    return found


class _by_person:  # noqa: N801  # called like the function it is
    def __init__(self, groups: _Groups, people: int) -> None:
        self.groups, self.people = groups, people

    def __call__(self, values: Array) -> Array:
        found = np.zeros((self.people, *values.shape[1:]))
        np.add.at(found, self.groups.person, values)
        return found


def _newton(curved: _Curved, groups: _Groups) -> tuple[Array, Array]:
    by_person = _by_person(groups, len(curved.score))
    over = curved.both / curved.drink[:, None]
    left = curved.person - by_person(over[:, :, None] * curved.both[:, None, :])
    pull = curved.score - by_person(over * curved.score_drink[:, None])
    step = np.asarray(np.linalg.solve(left, pull[:, :, None])[:, :, 0], dtype=np.float64)
    rest: Array = curved.score_drink - np.einsum("gk,gk->g", curved.both, step[groups.person])
    return step, rest / curved.drink


def _fitted(
    found: Trials, groups: _Groups, mean: Array, hold: Array, shift: Array, population: Population
) -> Fit:
    curved = _curved(found, groups, mean, hold, population)
    over = curved.both / curved.drink[:, None]
    inner = _by_person(groups, found.people)(over[:, :, None] * curved.both[:, None, :])
    at = groups.person, groups.drink
    all_hold, slope = shift.copy(), np.zeros((*shift.shape, KINDS))
    loose = np.full(shift.shape, population.drinks_differ**2)
    all_hold[at], slope[at], loose[at] = hold, -over, 1 / curved.drink
    lower = np.linalg.cholesky(np.linalg.inv(curved.person - inner))
    away, wide = _skewed(found, groups, mean, hold, -over, lower, population)
    axes = lower * wide[:, None, :]
    moved = np.einsum("pki,pi->pk", lower, away)
    all_hold += np.einsum("pdk,pk->pd", slope, moved)
    cov = axes @ axes.transpose(0, 2, 1)
    topics = found.last, found.firm, found.took
    return Fit(mean + moved, cov, all_hold, slope, loose, *topics)


REACH = np.arange(-3.0, 4.0)
"""Steps along an axis of the normal, in its standard deviations."""


def _skewed(
    found: Trials,
    groups: _Groups,
    mean: Array,
    hold: Array,
    slope: Array,
    lower: Array,
    population: Population,
) -> tuple[Array, Array]:
    """By axis, how far the mean lies from the mode and how wide it really is, in standard
    deviations: a chance near one has room on one side only."""
    away, wide = np.zeros_like(mean), np.ones_like(mean)
    for axis in range(KINDS):
        logs = np.empty((len(REACH), found.people))
        for n, reach in enumerate(REACH):
            step = reach * lower[:, :, axis]
            follows = hold + np.einsum("gk,gk->g", slope, step[groups.person])
            logs[n] = _log_posterior(found, groups, mean + step, follows, population)
        weight = np.exp(logs - logs.max(axis=0))
        weight /= weight.sum(axis=0)
        away[:, axis] = REACH @ weight
        wide[:, axis] = np.sqrt((REACH**2) @ weight - away[:, axis] ** 2)
    return away, wide


def _log_posterior(
    found: Trials, groups: _Groups, mean: Array, hold: Array, population: Population
) -> Array:
    told = _told(found, mean[found.person], hold[groups.of])
    apart = (mean - np.array(population.mean)) / np.array(population.sd)
    drinks = ((hold - groups.prior) / population.drinks_differ) ** 2
    known = _count(found.person, told, found.people)
    prior = _count(groups.person, drinks, found.people) + (apart**2).sum(axis=1)
    total: Array = known - prior / 2
    return total


def _count(of: Ints, values: Reals, length: int) -> Array:
    found: Array = np.bincount(of, values, length).astype(np.float64)
    return found


def _told(found: Trials, theta: Array, hold: Array) -> Array:
    """The log of the chance that each trial would come as it came."""
    counts = np.diff(np.append(found.starts, len(found.ages)))
    of = np.repeat(np.arange(len(counts)), counts)
    fades = _count(of, log_recall(found.ages, np.exp(theta[of, FORGETS])), len(counts))
    reads = found.unseen * log_expit(theta[:, READS]) + found.lost
    recalls = np.exp(found.part * log_ndtr(theta[:, HOLDS] + hold) + fades + reads)
    asks, executes = expit(theta[:, ASKS]), ndtr(theta[:, EXECUTES])
    chances = _came(found, recalls, asks, executes)[0]
    marked = as_marked(chances, _wrong_marks(found, theta)[0])
    told: Array = np.log(marked[np.arange(len(marked)), found.outcome])
    return told


def _slopes(found: Trials, theta: Array, hold: Array) -> tuple[Array, Array]:
    """For each trial the chances of right, ask and wrong, and their slopes in each parameter."""
    odds = theta[:, HOLDS] + hold
    holds, reads = ndtr(odds), expit(theta[:, READS])
    fades, by_speed = _fading(found, np.exp(theta[:, FORGETS]))
    read = found.unseen * np.log(reads) + found.lost
    recalls = np.exp(found.part * np.log(holds) + fades + read)
    asks, executes = expit(theta[:, ASKS]), ndtr(theta[:, EXECUTES])
    chances, by_recall, by_ask, by_hand = _came(found, recalls, asks, executes)
    wrong_mark, by_odds = _wrong_marks(found, theta)
    slopes = np.empty((len(recalls), 3, KINDS))
    by_recall = as_marked(by_recall, wrong_mark) * recalls[:, None]
    by_hold = found.part * _bell(odds) / holds
    slopes[:, :, HOLDS] = by_recall * by_hold[:, None]
    slopes[:, :, FORGETS] = by_recall * by_speed[:, None]
    slopes[:, :, READS] = by_recall * (found.unseen * (1 - reads))[:, None]
    slopes[:, :, ASKS] = as_marked(by_ask, wrong_mark) * (asks * (1 - asks))[:, None]
    slopes[:, :, EXECUTES] = as_marked(by_hand, wrong_mark) * _bell(theta[:, EXECUTES])[:, None]
    taken_for = as_marked(chances, np.ones_like(wrong_mark)) - chances
    slopes[:, :, MISMARKED] = taken_for * by_odds[:, None]
    return slopes, as_marked(chances, wrong_mark)


def _wrong_marks(found: Trials, theta: Array) -> tuple[Array, Array]:
    """The chance that each mark is wrong, and its slope in the person's parameter: of trainers'
    marks alone, since a program marks everybody alike."""
    own, built = mismarks(theta[:, MISMARKED]), found.choices == BUILD
    slope = own * (1 - own / MOST_MISMARKED)
    return np.where(built, own, SLIPS), np.where(built, slope, 0.0)


def _bell(at: Array) -> Array:
    """The slope of `ndtr`."""
    found: Array = np.exp(-(at**2) / 2) / (2 * np.pi) ** 0.5
    return found


def _fading(found: Trials, times: Array) -> tuple[Array, Array]:
    """The log of recall of all parts that had been shown, and its slope in the log of `times`."""
    counts = np.diff(np.append(found.starts, len(found.ages)))
    of = np.repeat(np.arange(len(counts)), counts)
    logs = log_recall(found.ages, times[of])
    steep = _steepness(found.ages * times[of])
    return _count(of, logs, len(counts)), _count(of, steep, len(counts))


def _steepness(ages: Array) -> Array:
    """d log R / d log m."""
    found: Array = -DECAY * FACTOR * ages / (1 + FACTOR * ages)
    return found


def _came(
    found: Trials, recalls: Array, asks: Array, executes: Array
) -> tuple[Array, Array, Array, Array]:
    """Chances of right, ask and wrong before any mark, and their slopes in recall, asking and
    execution. Who doesn't remember asks, or picks and may be lucky; who builds can't be."""
    built = found.choices == 0
    luck = np.where(built, 0.0, 1 / np.maximum(found.choices, 1))
    hand = np.where(built, executes, 1.0)
    lost, nothing = 1 - recalls, np.zeros_like(recalls)
    right = recalls * hand + lost * (1 - asks) * luck
    asked = lost * asks
    by_recall = hand - (1 - asks) * luck
    by_hand = np.where(built, recalls, 0.0)
    return (
        np.stack([right, asked, 1 - right - asked], axis=1),
        np.stack([by_recall, -asks, asks - by_recall], axis=1),
        np.stack([-lost * luck, lost, -lost * (1 - luck)], axis=1),
        np.stack([by_hand, nothing, -by_hand], axis=1),
    )


def as_marked(chances: Array, wrong_mark: Array) -> Array:
    """After the mark: a wrong one takes right for wrong and wrong for right, ask for either."""
    right, ask, wrong = chances.T
    e = wrong_mark
    return np.stack(
        [
            right + e * (wrong - right + ask / 2),
            ask * (1 - e),
            wrong + e * (right - wrong + ask / 2),
        ],
        axis=1,
    )
