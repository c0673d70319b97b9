"""Forgetting in closed form, for one topic or for all topics of a house at once.

The formulas are those of the open spaced-repetition library (fsrs 6) with its own parameters,
written out so that a whole house takes one pass; a test holds them against the library. Time is in
days and may be a fraction of one. Every function takes numbers or arrays.
"""

from typing import Any

import numpy as np
from fsrs import Scheduler
from numpy.typing import ArrayLike, NDArray

_LIBRARY = Scheduler(enable_fuzzing=False)
_W = _LIBRARY.parameters

DECAY = _W[20]
FACTOR = _LIBRARY.desired_retention ** (-1 / DECAY) - 1
DAY_S = 86400.0

LEAST, MOST_D = 0.001, 11.0
FIRST_WRONG = _W[0]
"""The stability that a first answer leaves where it was wrong, in days."""

Numbers = NDArray[np.float64]


def recall_after(days: float, stability: float) -> float:
    """R(t, S) = (1 + F t/S)^(-d), F = 0.9^(-1/d) - 1, so that R(S, S) = 0.9."""
    return float((1 + FACTOR * days / stability) ** -DECAY)


def recall_all(stability: ArrayLike, last: ArrayLike, at: float) -> Numbers:
    """The chance of knowing each topic at `at`, in one pass.

    `stability` in days; `last` and `at` in seconds of one clock (a Unix time, say). Before the
    last answer it is 1.
    """
    days = np.maximum(0.0, (at - np.asarray(last, dtype=np.float64)) / DAY_S)
    return np.asarray((1 + FACTOR * days / np.asarray(stability)) ** -DECAY, dtype=np.float64)


def stronger(stability: Any, difficulty: Any, recall: Any, *, slow: bool = False) -> Any:
    """The stability after a right answer given at this recall: the more was forgotten, the more
    a right answer adds."""
    added = np.exp(_W[8]) * (MOST_D - difficulty) * stability ** -_W[9]
    added = added * (np.exp((1 - recall) * _W[10]) - 1)
    return stability * (1 + added * (_W[15] if slow else 1.0))


def weaker(stability: Any, difficulty: Any, recall: Any) -> Any:
    """The stability after a wrong answer, a day or more after the last one."""
    kept = _W[11] * difficulty ** -_W[12] * ((stability + 1) ** _W[13] - 1)
    kept = kept * np.exp((1 - recall) * _W[14])
    return np.maximum(LEAST, np.minimum(kept, stability / np.exp(_W[17] * _W[18])))
