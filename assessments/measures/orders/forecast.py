"""From what is known of people to shares of orders at a moment.

The person's parameters are integrated over by cubature (two points an axis of the normal, exact
to the third degree). Over a drink's own hold the mean is exact, E Phi(h + sqrt(v) x) =
Phi(h / sqrt(1 + v)), and the variance that of the tangent there.
"""

from dataclasses import dataclass

import numpy as np
from scipy.special import expit, log_expit, logit, ndtr, ndtri

from assessments.measures.orders.fit import Fit
from assessments.measures.orders.history import Menu
from assessments.measures.orders.population import (
    ASKS,
    EXECUTES,
    FORGETS,
    HOLDS,
    KINDS,
    READS,
    Array,
    log_recall,
)

LEVEL = 0.9
"""Nine times in ten the expected share lies in the interval, if the model holds."""


SPEEDS = [0, KINDS, 1]
SPEED_OF = [0, *[2] * (KINDS - 1), 1, *[2] * (KINDS - 1)]
"""How fast somebody forgets is the first axis, so the points differ in it along that axis alone:
three speeds, and which of them each point has."""


@dataclass(frozen=True)
class Share:
    """An expected share of orders, 0 to 1, with its interval; an array has one for each person."""

    mean: Array
    low: Array
    high: Array


@dataclass(frozen=True)
class Forecast:
    """The means of right, ask and wrong sum to 1."""

    right: Share
    ask: Share
    wrong: Share


def forecast(known: Fit, menu: Menu, sales: Array, day: float, level: float = LEVEL) -> Forecast:
    """Shares for each person, of a menu whose drinks sell as `sales` (summing to 1), on a day."""
    points = _points(known)
    shares, spreads = _at_points(known, menu, sales, day, points)
    return Forecast(*(_share(s, v, level) for s, v in zip(shares, spreads, strict=True)))


def by_drink(known: Fit, menu: Menu, day: float) -> tuple[Array, Array]:
    """For each person and drink the chance that it would be built right on a day, and the chance
    if all its parts had been shown that day: what is between the two is won by showing it.

    At the person's likeliest parameters, a drink's own hold integrated over.
    """
    mean = known.mean[:, None, :]
    fades, unseen = _fading(known, menu, day, np.exp(mean[:, :, FORGETS]))
    hold = (mean[:, :, HOLDS] + known.hold) / np.sqrt(1 + known.loose)
    shown = ndtr(hold) * ndtr(mean[:, :, EXECUTES])
    return shown * np.exp(fades[:, 0] + unseen * log_expit(mean[:, :, READS])), shown


def _points(known: Fit) -> Array:
    """(people, 2 x KINDS, KINDS): up along each axis, then down."""
    lower = np.linalg.cholesky(known.cov.astype(np.float64))
    away = KINDS**0.5 * np.concatenate([lower, -lower], axis=2).transpose(0, 2, 1)
    found: Array = known.mean[:, None, :] + away
    return found


def _at_points(
    known: Fit, menu: Menu, sales: Array, day: float, points: Array
) -> tuple[list[Array], list[Array]]:
    """Shares of right, ask and wrong at each point, and their variances given the point."""
    fades, unseen = _fading(known, menu, day, np.exp(points[:, SPEEDS, FORGETS]))
    fades = fades[:, SPEED_OF]
    known_part = np.exp(fades + unseen[:, None, :] * np.log(expit(points[:, :, READS]))[:, :, None])
    away = points - known.mean[:, None, :]
    hold = points[:, :, HOLDS, None] + known.hold[:, None, :]
    hold = hold + away @ known.slope.transpose(0, 2, 1)
    apart = hold / np.sqrt(1 + known.loose)[:, None, :]
    mean = ndtr(apart)
    bell = np.exp(-(apart**2)) / (2 * np.pi)
    loose = bell * (known.loose / (1 + known.loose))[:, None, :]
    recalls = (mean * known_part) @ sales
    varies = (loose * known_part**2) @ sales**2
    asks, executes = expit(points[:, :, ASKS]), ndtr(points[:, :, EXECUTES])
    right, ask = recalls * executes, (1 - recalls) * asks
    shares = [right, ask, 1 - right - ask]
    return shares, [varies * s**2 for s in (executes, asks, executes - asks)]


def _fading(known: Fit, menu: Menu, day: float, times: Array) -> tuple[Array, Array]:
    """The log of recall of each drink's parts, by point, and how many were never shown."""
    seen = known.firm > 0
    ages = np.where(seen, (day - known.last).clip(0) / np.where(seen, known.firm, 1.0), 0.0)
    logs = log_recall(ages[:, None, :], times[:, :, None])
    uses = np.zeros((menu.n_topics, len(menu.topics)))
    for drink, topics in enumerate(menu.topics):
        uses[list(topics), drink] = 1.0
    return logs @ uses, (~seen).astype(float) @ uses


def _share(shares: Array, spreads: Array, level: float) -> Share:
    """Mean, and a central interval that is normal in log-odds."""
    inside = shares.clip(1e-6, 1 - 1e-6)
    odds = logit(inside)
    middle = odds.mean(axis=1)
    varies = odds.var(axis=1) + (spreads / (inside * (1 - inside)) ** 2).mean(axis=1)
    out = ndtri((1 + level) / 2) * np.sqrt(varies)
    return Share(shares.mean(axis=1), expit(middle - out), expit(middle + out))
