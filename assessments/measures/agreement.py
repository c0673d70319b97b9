"""Whether two trainers who marked the same builds saw the same: Cohen's kappa with its interval.

The steps of one build hang together (one hire, one look, one careless moment), so builds count as
clusters: the variance is the infinitesimal jackknife by build, times G/(G - 1) for G builds, and
the ends are those of Student's t for G - 1. Where a build has one step, that is the variance of
Fleiss, Cohen and Everitt; the same steps said over again change nothing.

Sources: Cohen 1960 (kappa); Fleiss, Cohen and Everitt 1969 (its variance in large samples); Jaeckel
1972 (the infinitesimal jackknife); Cameron and Miller 2015 (few clusters).
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import sqrt

from scipy.special import stdtrit

CONFIDENCE = 0.95
FEW_STEPS = 60
FEW_BUILDS = 5
"""Below either the interval is too wide to say much, and the variance of large samples not to be
trusted (our own numbers, no source; tried in `tests/measures/test_agreement.py`)."""

Mark = tuple[bool, bool]
"""A step marked twice: (off by the first, off by the second)."""


@dataclass(frozen=True)
class Agreement:
    """`same` is the share of steps marked alike. `kappa` is what of it goes beyond chance: 1 for
    the same marks, 0 for chance; None where one of them never marked anything down, since then
    chance alone would agree. `low` and `high` are None where one build alone tells no spread."""

    builds: int
    steps: int
    same: float
    kappa: float | None = None
    low: float | None = None
    high: float | None = None

    @property
    def in_hundred(self) -> int:
        return round(100 * self.same)

    @property
    def is_few(self) -> bool:
        return self.steps < FEW_STEPS or self.builds < FEW_BUILDS


def agreement(builds: Iterable[Iterable[Mark]]) -> Agreement | None:
    """Of builds marked twice, each a row of its steps. None without a step."""
    clusters = [marks for build in builds if (marks := list(build))]
    marks = [mark for build in clusters for mark in build]
    if not marks:
        return None
    n = len(marks)
    same = sum(first == second for first, second in marks) / n
    pull = _pull(marks)
    if pull is None:
        return Agreement(len(clusters), n, same)
    kappa, influence = pull
    if len(clusters) == 1:
        return Agreement(1, n, same, kappa)
    count = len(clusters)
    spread = sum(sum(map(influence, build)) ** 2 for build in clusters)
    error = sqrt(spread * count / (count - 1)) / n
    far = float(stdtrit(count - 1, (1 + CONFIDENCE) / 2)) * error
    return Agreement(count, n, same, kappa, max(-1.0, kappa - far), min(1.0, kappa + far))


def _pull(marks: Sequence[Mark]) -> tuple[float, Callable[[Mark], float]] | None:
    """Kappa, and how far a step like this pulls it, per share of all steps; None where chance alone
    would agree."""
    n = len(marks)
    off = sum(first for first, _ in marks) / n, sum(second for _, second in marks) / n
    same = sum(first == second for first, second in marks) / n
    chance = off[0] * off[1] + (1 - off[0]) * (1 - off[1])
    rest = 1 - chance
    if rest < 1e-12:
        return None

    def influence(mark: Mark) -> float:
        first, second = mark
        beside = (off[1] if first else 1 - off[1]) + (off[0] if second else 1 - off[0])
        seen = (first == second) - same
        return (rest * seen - (1 - same) * (beside - 2 * chance)) / rest**2

    return (same - chance) / rest, influence
