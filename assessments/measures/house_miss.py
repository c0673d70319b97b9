"""By how much the forecasts miss in one house, beyond what chance explains.

Each build is foretold from what came before it, so under the model the differences between what
came and what was stated are no more tied to each other than throws of dice: their sums have the
variance of their stated chances (Dawid 1984, Statistical theory: the prequential approach).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit, logit, ndtri

from assessments.measures.orders.history import Outcome
from assessments.measures.orders.outlook import Forecast, Share

LEAST = 40
"""Cases below which nothing is said and nothing is widened: of so many, half of them unsure, chance
alone moves the share by fifteen in a hundred (our own choice, no source)."""

CHANCE = 1.96
"""Standard deviations: what chance outdoes once in twenty is not held against the model."""

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Case:
    """A build: the chances stated beforehand of right, ask and wrong, and what came. `chosen`: a
    trainer picked the drink; else a guest ordered it."""

    person: int
    right: float
    ask: float
    wrong: float
    came: Outcome
    chosen: bool

    @property
    def came_right(self) -> bool:
        return self.came == "right"


def arrays(cases: Sequence[Case]) -> tuple[Floats, Floats]:
    stated = np.array([c.right for c in cases], dtype=np.float64)
    return stated, np.array([c.came_right for c in cases], dtype=np.float64)


@dataclass(frozen=True)
class Sums:
    """By person: what came less what was stated, and the variance that this has by chance."""

    off: Floats
    varies: Floats

    @property
    def all_off(self) -> float:
        return float(self.off.sum())

    @property
    def all_varies(self) -> float:
        return float(self.varies.sum())


def sums_of(cases: Sequence[Case]) -> Sums:
    stated, came = arrays(cases)
    who = np.unique([c.person for c in cases], return_inverse=True)[1]
    off, varies = (np.bincount(who, each) for each in (came - stated, stated * (1 - stated)))
    return Sums(off.astype(np.float64), varies.astype(np.float64))


@dataclass(frozen=True)
class Miss:
    """By how much forecasts of right miss in this house beyond chance, as a standard deviation in
    log-odds: `down` where they promise too much, `up` where they promise too little, both where
    people differ more than they should."""

    down: float = 0.0
    up: float = 0.0

    def __bool__(self) -> bool:
        return self.down > 0 or self.up > 0

    @property
    def of_the_rest(self) -> "Miss":
        """For ask and wrong: what is promised of right is missing there."""
        return Miss(self.up, self.down)


NO_MISS = Miss()


def miss_of(cases: Sequence[Case]) -> Miss:
    """None for a house that bears the model out, or whose record is too small.

    An offset d in log-odds moves a person's sum by d times its variance, so (sum^2 - variance) /
    variance^2 is d^2 without bias; what chance explains is taken off instead of its mean, which
    draws small records to nothing (as the positive part of James and Stein 1961 does). Of all
    together it counts towards the side on which they are off, of people apart towards both.
    """
    if len(cases) < LEAST:
        return NO_MISS
    sums = sums_of(cases)
    whole = max(0.0, sums.all_off**2 - CHANCE**2 * sums.all_varies) / sums.all_varies**2
    uneven = max(0.0, apart(sums))
    down, up = (whole, 0.0) if sums.all_off < 0 else (0.0, whole)
    return Miss(sqrt(down + uneven), sqrt(up + uneven))


def apart(sums: Sums) -> float:
    """The variance of people's offsets around the house's own, less what chance explains."""
    own = sums.off - sums.varies * sums.all_off / sums.all_varies
    expected = sums.varies * (1 - sums.varies / sums.all_varies)
    squares = float((sums.varies**2).sum())
    return float((own**2 - expected).sum() / squares - CHANCE * sqrt(2 / squares))


def widened(low: Floats, high: Floats, miss: Miss, level: float) -> tuple[Floats, Floats]:
    """The ends of intervals that are normal in log-odds, once the house's own miss is added to
    their variance, on either side."""
    if not miss:
        return low, high
    ends = logit(np.stack([low, high]).clip(1e-9, 1 - 1e-9))
    middle, half = ends.mean(axis=0), (ends[1] - ends[0]) / 2
    reach = float(ndtri((1 + level) / 2))
    return (
        expit(middle - np.hypot(half, reach * miss.down)),
        expit(middle + np.hypot(half, reach * miss.up)),
    )


def as_kept(found: Forecast, miss: Miss, level: float) -> Forecast:
    """A forecast as this house's own record lets it stand."""
    if not miss:
        return found
    sides = ((found.right, miss), (found.ask, miss.of_the_rest), (found.wrong, miss.of_the_rest))
    return Forecast(*(Share(s.mean, *widened(s.low, s.high, side, level)) for s, side in sides))
