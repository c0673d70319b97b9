"""Whether somebody's pours creep up or down from check to check: a straight line through them.

Least squares with Student's interval of the slope (NIST/SEMATECH e-Handbook 4.1.4.1 and 7.2.2).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from scipy.special import stdtrit

from assessments.measures.intervals import CONFIDENCE
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "drift_too_few": ("n", "least"),
    "drift_none": ("n",),
    "drift_up": ("n",),
    "drift_down": ("n",),
}

LEAST = 3
MONTH = 30.0


@dataclass(frozen=True)
class Drift:
    """`slope` is the change of the bias in thirty days, in the unit of the pours, with its 95 %
    interval; all None where there are too few checks."""

    slope: float | None
    low: float | None
    high: float | None
    reason: Reason


def drift(checks: Sequence[tuple[float, float]]) -> Drift:
    """From (day, bias) of each check, in any order. Checks of one day alone show no drift."""
    n = len(checks)
    if n < LEAST or len({day for day, _ in checks}) < 2:
        return Drift(None, None, None, Reason.of("drift_too_few", n=n, least=LEAST))
    slope, error = _line(checks)
    half = float(stdtrit(n - 2, (1 + CONFIDENCE) / 2)) * error
    low, high = slope - half, slope + half
    return Drift(slope * MONTH, low * MONTH, high * MONTH, _reason(low, high, n))


def _line(checks: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """The slope a day, and its standard error."""
    n = len(checks)
    day = sum(x for x, _ in checks) / n
    bias = sum(y for _, y in checks) / n
    spread = sum((x - day) ** 2 for x, _ in checks)
    slope = sum((x - day) * (y - bias) for x, y in checks) / spread
    left = sum((y - bias - slope * (x - day)) ** 2 for x, y in checks)
    return slope, sqrt(left / (n - 2) / spread)


def _reason(low: float, high: float, n: int) -> Reason:
    if low > 0:
        return Reason.of("drift_up", n=n)
    if high < 0:
        return Reason.of("drift_down", n=n)
    return Reason.of("drift_none", n=n)
