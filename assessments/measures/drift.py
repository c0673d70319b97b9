"""Whether somebody's pours creep up or down from check to check: a straight line through them.

Least squares with Student's interval of the slope (NIST/SEMATECH e-Handbook 4.1.4.1 and 7.2.2).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, sqrt

from scipy.special import stdtrit

from assessments.measures.intervals import CONFIDENCE
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "drift_too_few": ("n", "least"),
    "drift_too_short": ("days", "least"),
    "drift_none": ("n",),
    "drift_up": ("n",),
    "drift_down": ("n",),
}

LEAST = 3
LEAST_DAYS = 3
LEAST_SPAN = 7
"""So many different days, and so many from the first check to the last: a month is not to be told
from an evening (our own numbers, no source)."""
MONTH = 30.0


@dataclass(frozen=True)
class Drift:
    """`slope` is the change of the bias in thirty days, in the unit of the pours, with its 95 %
    interval; all None where there are too few checks or they lie too close together."""

    slope: float | None
    low: float | None
    high: float | None
    reason: Reason


def drift(checks: Sequence[tuple[float, float]]) -> Drift:
    """From (day, bias) of each check, in any order; a day may be a fraction."""
    n, days = len(checks), [day for day, _ in checks]
    if n < LEAST:
        return Drift(None, None, None, Reason.of("drift_too_few", n=n, least=LEAST))
    span, different = max(days) - min(days), len({floor(day) for day in days})
    if span < LEAST_SPAN or different < LEAST_DAYS:
        said = Reason.of("drift_too_short", days=LEAST_DAYS, least=LEAST_SPAN)
        return Drift(None, None, None, said)
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
