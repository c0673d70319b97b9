"""What is assumed of hires before anything is known of one: every number the model has.

The curve of forgetting is that of the memory schedule. All else is our own choice, no source:
wide enough that a fortnight's evidence outweighs it, and tried in simulated houses where it is
wrong.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from assessments.measures.forgetting import DECAY, FACTOR

Array = NDArray[np.float64]
Reals = NDArray[np.floating[Any]]
"""In as many digits as is worth the while."""

FORGETS, HOLDS, READS, EXECUTES, ASKS, MISMARKED = range(6)
"""A person's parameters, each on a scale without ends: the log of how many times as fast as the
schedule they forget; how well drinks take hold in them, and how surely what they remember is
built right (both the argument of the normal distribution function); the log-odds that a part
never yet shown is known all the same, that they ask where they don't know, that a mark is wrong.

The normal's scale and not log-odds where a chance is often near one: there the likelihood is
closer to a normal, and so is what is made of it."""

KINDS = 6


@dataclass(frozen=True)
class Population:
    """Means and standard deviations of a person's parameters, and how drinks differ.

    They forget less fast than marked evidence alone would say, since they also practise where
    nobody marks it. `drinks_differ` is the standard deviation of how well single drinks take hold
    in one head. `watched_weaker`: by how much the log of a drink's chance to be chosen for a
    watched build rises as its hold falls by one.
    """

    mean: tuple[float, ...] = (-0.8, 1.6, 1.0, 2.3, 0.0, -1.63)
    sd: tuple[float, ...] = (0.9, 1.4, 0.8, 0.4, 1.0, 1.1)
    drinks_differ: float = 0.4
    watched_weaker: float = 2.0


POPULATION = Population()

FIRST_DAYS = 2.3
"""Days after which recall of a part shown once has fallen to nine in ten: the schedule's figure
for a first right answer, rounded."""

FIRMER = 3.5
"""How many times slower a part fades after each further day on which it was built or named right.
The schedule's own factor hangs on difficulty and delay; this is a careful middle of it."""

LONGEST_DAYS = 60.0
APART_DAYS = 0.5
"""Twice within half a day is one showing: nothing fades slower for it."""


MOST_MISMARKED = 0.25
"""No more of a trainer's marks than this are ever taken to be wrong (our own choice)."""

SLIPS = 0.08
"""How many answers that a program marks tell the contrary of what is known: a slip of the finger, a
question misread. The same for everybody, whatever they fail: were it found out for each, a few
wrong answers would excuse all that went wrong before, and failing would raise the figures (our own
choice: more than there should be, so that one answer is never all)."""


def mismarks(odds: Reals) -> Array:
    """How many marks of a person are wrong, from the parameter's scale."""
    found: Array = MOST_MISMARKED / (1 + np.exp(-np.asarray(odds, dtype=np.float64)))
    return found


def log_recall(ages: Reals, times: Reals | float) -> Reals:
    """The log of recall, of ages in units of stability, for one who forgets so many times as
    fast: R = (1 + F m t/S)^(-d), the schedule's curve."""
    found: Reals = -DECAY * np.log1p(FACTOR * times * ages)
    return found
