"""How sure a share, a spread or a rate is: exact intervals, and the factor of a tolerance interval.

Sources: Clopper and Pearson 1934; NIST/SEMATECH e-Handbook 7.2.4.1 (shares) and 7.2.6.3 (tolerance
intervals). The tolerance factor here is the exact one (Odeh and Owen 1980, Krishnamoorthy and
Mathew 2009, chapter 2); Howe's, which the handbook prints, is close to it and stands beside it.
"""

from collections.abc import Callable
from functools import lru_cache
from math import ceil, sqrt

import numpy as np
from scipy.special import betaincinv, chdtrc, chdtri, ndtr, ndtri, stdtrit

CONFIDENCE = 0.95
COVERAGE = 0.95

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(160)
_FAR = 9.0
"""Beyond nine standard deviations of the mean lies nothing that a double can hold."""


def exact_share(hits: int, of: int, confidence: float = CONFIDENCE) -> tuple[float, float]:
    """Clopper and Pearson's interval of a share, 0 to 1. Raises ValueError for no trials."""
    if not 0 <= hits <= of or of == 0:
        raise ValueError(f"{hits} of {of} is no share")
    half = (1 - confidence) / 2
    low = float(betaincinv(hits, of - hits + 1, half)) if hits else 0.0
    high = float(betaincinv(hits + 1, of - hits, 1 - half)) if hits < of else 1.0
    return low, high


def mean_interval(
    mean: float, sd: float, n: int, confidence: float = CONFIDENCE
) -> tuple[float, float]:
    """Student's interval of a mean from `n` values, 2 or more."""
    half = float(stdtrit(n - 1, (1 + confidence) / 2)) * sd / sqrt(n)
    return mean - half, mean + half


def rate_interval(events: int, time: float, confidence: float = CONFIDENCE) -> tuple[float, float]:
    """Of a rate where the clock stops at the last of `events`: exact if the times between them are
    exponential, cautious (too wide) where they are more even, as drinks are. `time` above 0."""
    if events < 1 or time <= 0:
        raise ValueError("a rate needs something that happened and a time that it took")
    half = (1 - confidence) / 2
    low, high = chdtri(2 * events, 1 - half), chdtri(2 * events, half)
    return float(low) / (2 * time), float(high) / (2 * time)


def howe_factor(n: int, coverage: float = COVERAGE, confidence: float = CONFIDENCE) -> float:
    """Howe's two-sided factor as in the handbook; within a few per mille of the exact one."""
    z = float(ndtri((1 + coverage) / 2))
    return z * sqrt((n - 1) * (1 + 1 / n) / float(chdtri(n - 1, confidence)))


@lru_cache(maxsize=256)
def tolerance_factor(n: int, coverage: float = COVERAGE, confidence: float = CONFIDENCE) -> float:
    """The exact k: mean ± k sd holds `coverage` of a normal population, `confidence` of the time.

    Solves, over where the mean may lie, for the sd that still covers. `n` is 2 or more.
    """
    if n < 2:
        raise ValueError("one value has no spread")
    u = (_NODES + 1) * _FAR / 2
    weights = _WEIGHTS * _FAR / 2 * np.sqrt(2 / np.pi) * np.exp(-u * u / 2)
    reach = (n - 1) * _reach(u / sqrt(n), coverage) ** 2

    def confident(k: float) -> float:
        return float(weights @ chdtrc(n - 1, reach / k**2))

    return _root(confident, confidence, about=howe_factor(n, coverage, confidence))


def _reach(away: np.ndarray, coverage: float) -> np.ndarray:
    """How far either way holds `coverage` of a standard normal whose middle is `away`."""
    low, high = np.zeros_like(away), away + 10
    for _ in range(60):
        middle = (low + high) / 2
        short = ndtr(away + middle) - ndtr(away - middle) < coverage
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    return np.asarray(high)


def _root(rising: Callable[[float], float], wanted: float, *, about: float) -> float:
    low, high = about / 2, about * 2
    for _ in range(60):
        middle = (low + high) / 2
        if rising(middle) < wanted:
            low = middle
        else:
            high = middle
    return high


def least_hits(of: int, share: float) -> int:
    """How many of so many make the share, a hair of rounding apart."""
    return ceil(of * share - 1e-9)
