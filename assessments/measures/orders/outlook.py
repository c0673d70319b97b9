"""What a fit says of any day to come, worked out once: what is left to do for a day is to let it
fade.

The person's parameters are integrated over by cubature (two points an axis of the normal, exact
to the third degree). Over a drink's own hold the mean is exact, E Phi(h + sqrt(v) x) =
Phi(h / sqrt(1 + v)), and the variance that of the tangent there.
"""

from dataclasses import dataclass, fields
from typing import Self

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
    Reals,
    log_recall,
)

POINTS = 2 * KINDS
SPEEDS = [0, KINDS, 1]
SPEED_OF = [0, *[2] * (KINDS - 1), 1, *[2] * (KINDS - 1)]
"""How fast somebody forgets is the first axis, so the points differ in it along that axis alone:
three speeds, and which of them each point has. The last is also the likeliest one."""
SAME_SPEED = [[p for p in range(POINTS) if SPEED_OF[p] == s] for s in range(len(SPEEDS))]


@dataclass(frozen=True)
class Outlook:
    """Several people on one menu; the first axis of each array is the person.

    By speed: `speeds`, how many times as fast as the schedule they forget; `loose`, by drink, the
    variance that its own hold adds to its recall. By point: `asks`, `executes`; `spread`, how many
    times `loose` that variance is there; and `knows`, by drink, the chance that it is recalled if
    nothing that was shown had faded. `reads` and `shown`,
    at the likeliest parameters: that a part never shown is known; that a drink of which all has
    just been shown is built right. `last`, `firm`, `took`: see `Trials`.
    """

    speeds: Reals
    asks: Reals
    executes: Reals
    knows: Reals
    loose: Reals
    spread: Reals
    reads: Reals
    shown: Reals
    last: Reals
    firm: Reals
    took: Reals

    def of(self, people: slice | list[int]) -> Self:
        """Some of them."""
        return type(self)(**{f.name: getattr(self, f.name)[people] for f in fields(self)})


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


def outlook(known: Fit, menu: Menu) -> Outlook:
    points = points_of(known)
    unseen = _unseen(known.firm, menu)
    read = np.exp(unseen[:, None, :] * log_expit(points[:, :, READS])[:, :, None])
    away = points - known.mean[:, None, :]
    hold = points[:, :, HOLDS, None] + known.hold[:, None, :]
    apart = (hold + away @ known.slope.transpose(0, 2, 1)) / np.sqrt(1 + known.loose)[:, None, :]
    bell = np.exp(-(apart**2)) / (2 * np.pi)
    loose, spread = _by_speed(bell * (known.loose / (1 + known.loose))[:, None, :] * read**2)
    mean = known.mean[:, None, :]
    likely = (mean[:, :, HOLDS] + known.hold) / np.sqrt(1 + known.loose)
    return Outlook(
        speeds=np.exp(points[:, SPEEDS, FORGETS]),
        asks=expit(points[:, :, ASKS]),
        executes=ndtr(points[:, :, EXECUTES]),
        knows=ndtr(apart) * read,
        loose=loose,
        spread=spread,
        reads=expit(known.mean[:, READS]),
        shown=ndtr(likely) * ndtr(mean[:, :, EXECUTES]),
        last=known.last,
        firm=known.firm,
        took=known.took,
    )


def shares(known: Outlook, menu: Menu, sales: Array, day: float, level: float) -> Forecast:
    """Shares for each person, of a menu whose drinks sell as `sales` (summing to 1), on a day."""
    sold = sales.astype(known.knows.dtype)
    fresh = np.exp(_fades(known, menu, day))
    recalls = np.empty((len(fresh), POINTS), dtype=fresh.dtype)
    for speed, same in enumerate(SAME_SPEED):
        recalls[:, same] = _dot(known.knows[:, same], fresh[:, speed] * sold)
    varies = (fresh**2 * known.loose) @ sold**2
    varies = varies[:, SPEED_OF] * known.spread + _doubted(known, menu, sold, fresh)
    asks, executes = known.asks, known.executes
    right, ask = recalls * executes, (1 - recalls) * asks
    return Forecast(
        right=_share(right, varies * executes**2, level),
        ask=_share(ask, varies * asks**2, level),
        wrong=_share(1 - right - ask, varies * (executes - asks) ** 2, level),
    )


def chances(known: Outlook, menu: Menu, day: float) -> tuple[Reals, Reals]:
    """For each person and drink the chance that it would be built right on a day, and the chance
    if all its parts had been shown that day: what is between the two is won by showing it.

    At the person's likeliest parameters, a drink's own hold integrated over.
    """
    fades = _fades(known, menu, day, known.speeds[:, [SPEED_OF[1]]])[:, 0]
    unread = _unseen(known.firm, menu) * np.log(known.reads)[:, None]
    return known.shown * np.exp(fades + unread), known.shown


def less_wrong(asks: Reals, executes: Reals) -> Array:
    """For each person how much less goes out wrong, 0 to 1, for each order more that is right, by
    point as in `Outlook`. Of what is forgotten a part is asked about, so what is remembered again
    is won from both; of what is remembered not all is built right."""
    found: Array = (1 - asks.mean(axis=1, dtype=float) / executes.mean(axis=1, dtype=float)).clip(0)
    return found


def recalls(known: Outlook, day: float) -> Reals:
    """For each person and topic the chance that it is known on a day, at the likeliest
    parameters: what was shown fades, what never was is known by chance alone."""
    seen = known.firm > 0
    ages = np.where(seen, (day - known.last).clip(0) / np.where(seen, known.firm, 1.0), 0.0)
    faded = np.exp(log_recall(ages, known.speeds[:, [SPEED_OF[1]]])) * known.took
    found: Reals = np.where(seen, faded, known.reads[:, None])
    return found


def points_of(known: Fit) -> Array:
    """(people, POINTS, KINDS): up along each axis, then down."""
    lower = np.linalg.cholesky(known.cov.astype(np.float64))
    away = KINDS**0.5 * np.concatenate([lower, -lower], axis=2).transpose(0, 2, 1)
    found: Array = known.mean[:, None, :] + away
    return found


def _by_speed(loose: Array) -> tuple[Array, Array]:
    """Of variances by point and drink the mean over the points of a speed, and how many times as
    much each point has, all drinks together: of points that hardly differ, so close enough."""
    means = np.stack([loose[:, same].mean(axis=1) for same in SAME_SPEED], axis=1)
    tiny = np.finfo(np.float64).tiny
    return means, (loose.sum(axis=2) + tiny) / (means.sum(axis=2)[:, SPEED_OF] + tiny)


def _unseen(firm: Reals, menu: Menu) -> Reals:
    """How many parts of each drink were never shown."""
    found: Reals = (firm <= 0).astype(menu.uses.dtype) @ menu.uses
    return found


def _fades(known: Outlook, menu: Menu, day: float, speeds: Reals | None = None) -> Reals:
    """The log of recall of what was shown of each drink, by speed; what was missed since is known
    by so much less."""
    seen = known.firm > 0
    ages = np.where(seen, (day - known.last).clip(0) / np.where(seen, known.firm, 1), 0)
    times = known.speeds if speeds is None else speeds
    logs = log_recall(ages[:, None, :], times[:, :, None])
    uses = menu.uses.astype(logs.dtype, copy=False)
    found: Reals = logs.reshape(-1, menu.n_topics) @ uses  # in one piece it takes half as long
    found = found.reshape(*logs.shape[:2], -1)
    if missed := _missed(known):
        found = found + (np.log(known.took[:, missed]) @ uses[missed])[:, None, :]
    return found


def _missed(known: Outlook) -> list[int]:
    """The topics that somebody missed and may not know since."""
    found: list[int] = np.flatnonzero((known.took < 1).any(axis=0)).tolist()
    return found


def _doubted(known: Outlook, menu: Menu, sold: Reals, fresh: Reals) -> Reals:
    """By person and point, the variance of the share recalled that comes of what was missed: it is
    known by now or it isn't, and with it stands or falls whatever goes by it."""
    found = np.zeros(known.knows.shape[:2], dtype=known.knows.dtype)
    if missed := _missed(known):
        recalled = known.knows * fresh[:, SPEED_OF] * sold
        took = known.took[:, None, missed]
        found += ((1 - took) / took * (recalled @ menu.uses[missed].T) ** 2).sum(axis=2)
    return found


def _dot(by_drink: Reals, weights: Reals) -> Reals:
    found: Reals = np.matmul(by_drink, weights[:, :, None])[:, :, 0]
    return found


WIDER = 1.03
"""What the normal leaves out, as simulated houses show: so much wider it covers nine in ten."""


def _share(at_points: Reals, spreads: Reals, level: float) -> Share:
    """Mean, and a central interval that is normal in log-odds."""
    at_points, spreads = at_points.astype(np.float64), spreads.astype(np.float64)
    inside = at_points.clip(1e-6, 1 - 1e-6)
    odds = logit(inside)
    middle = odds.mean(axis=1)
    varies = odds.var(axis=1) + (spreads / (inside * (1 - inside)) ** 2).mean(axis=1)
    out = WIDER * ndtri((1 + level) / 2) * np.sqrt(varies)
    return Share(at_points.mean(axis=1), expit(middle - out), expit(middle + out))
