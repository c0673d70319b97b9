"""Whether two trainers who marked the same builds saw the same: Cohen's kappa with its interval.

Sources: Cohen 1960 (kappa); Fleiss, Cohen and Everitt 1969 (its variance in large samples).
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from math import sqrt

from scipy.special import ndtri

CONFIDENCE = 0.95
FEW_STEPS = 60
"""Below this many steps, three or four builds, the interval is too wide to say much, and the
variance of large samples not to be trusted (our own number, no source)."""


@dataclass(frozen=True)
class Agreement:
    """`same` is the share of steps marked alike. `kappa` is what of it goes beyond chance: 1 for
    the same marks, 0 for chance; None where one of them never marked anything down, since then
    chance alone would agree."""

    steps: int
    same: float
    kappa: float | None
    low: float | None
    high: float | None

    @property
    def in_hundred(self) -> int:
        return round(100 * self.same)

    @property
    def is_few(self) -> bool:
        return self.steps < FEW_STEPS


def agreement(marks: Iterable[tuple[bool, bool]]) -> Agreement | None:
    """Of steps marked twice: (off by the first, off by the second). None without a step."""
    marks = list(marks)
    n = len(marks)
    if not n:
        return None
    counts = Counter(marks)
    table = [[counts[first, second] / n for second in (False, True)] for first in (False, True)]
    rows = [sum(row) for row in table]
    columns = [table[0][k] + table[1][k] for k in (0, 1)]
    same = table[0][0] + table[1][1]
    chance = rows[0] * columns[0] + rows[1] * columns[1]
    if 1 - chance < 1e-12:
        return Agreement(n, same, None, None, None)
    kappa = (same - chance) / (1 - chance)
    far = float(ndtri((1 + CONFIDENCE) / 2)) * _error(table, rows, columns, chance, kappa, n)
    return Agreement(n, same, kappa, max(-1.0, kappa - far), min(1.0, kappa + far))


def _error(
    table: list[list[float]], rows: list[float], columns: list[float], chance: float,
    kappa: float, n: int,
) -> float:  # fmt: skip
    rest = 1 - kappa
    alike = sum(table[k][k] * (1 - (rows[k] + columns[k]) * rest) ** 2 for k in (0, 1))
    unlike = rest**2 * sum(table[i][j] * (columns[i] + rows[j]) ** 2 for i, j in ((0, 1), (1, 0)))
    variance = alike + unlike - (kappa - chance * rest) ** 2
    return sqrt(max(0.0, variance) / n) / (1 - chance)
