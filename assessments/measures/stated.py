"""What recall the program states, set right by what the person's own answers have shown.

The product of a drink's topics is a first guess: topics are not independent, nobody forgets by the
textbook, and people differ. So the stated chance is the guess drawn along a line on the scale of
log odds, logit p = a + b logit(guess), and every drink that is answered after a while moves the
line: a logistic regression kept up to date one answer at a time (one Newton step on the mean with
the precision so far, as in assumed-density filtering). What was long ago counts for less.

Known to be off: in rehearsals what is stated at .7 to .9 comes right some .05 to .1 more often. The
line learns from the cards that were turned, which the plan picks because they are shaky, and it
follows slowly while drinks settle. It errs to the side of bringing a drink back too early. That a
drink was right or wrong when last asked would tell them apart a little (a third number for that was
tried: the Brier score stayed what it was, .104, so it was left out).
"""

from collections.abc import Collection, Mapping
from dataclasses import asdict, dataclass
from datetime import datetime, timedelta
from math import exp, log, prod

import numpy as np
from numpy.typing import ArrayLike, NDArray

from assessments.measures.memory import RESTS, TopicMemory, recall

PRIOR_SHIFT, PRIOR_SLOPE = 4.0, 8.0
"""How firmly the line begins: as if so much had been seen of either (our own choice, no source)."""

FIRST_SHIFT, FIRST_SLOPE = 0.5, 0.6
"""Where the line begins, before the person has shown anything. All of a drink is learned in one
look and forgotten together, so the product of its topics falls too low, the lower the further: a
drink guessed at .16 came right half the time in rehearsals of three weeks. The invented hires of
those rehearsals came to about these numbers by themselves (our own choice, no source)."""

KEEPS = 0.995
"""How much of what was seen counts after one more answer (our own choice, no source): some two
hundred answers are remembered."""

A_DAY = timedelta(days=1)
EDGE = 1e-4
STEEPEST, FLATTEST = 3.0, 0.2


@dataclass(frozen=True)
class Line:
    """The line of one person, with the precision of its two numbers."""

    shift: float = FIRST_SHIFT
    slope: float = FIRST_SLOPE
    of_shift: float = PRIOR_SHIFT
    of_both: float = 0.0
    of_slope: float = PRIOR_SLOPE

    def stated(self, guess: ArrayLike) -> NDArray[np.float64]:
        """The chance to state for each guess; never falls where the guess rises."""
        odds = np.minimum(np.maximum(guess, EDGE), 1 - EDGE)
        said = self.shift + self.slope * np.log(odds / (1 - odds))
        return np.asarray(1 / (1 + np.exp(-said)))

    def then(self, guess: float, *, right: bool) -> "Line":
        """The line after a drink that was guessed at so much came right or not."""
        kept = min(max(guess, EDGE), 1 - EDGE)
        x = log(kept / (1 - kept))
        p = 1 / (1 + exp(-(self.shift + self.slope * x)))
        weight, miss = p * (1 - p), float(right) - p
        a = KEEPS * self.of_shift + (1 - KEEPS) * PRIOR_SHIFT + weight
        b = KEEPS * self.of_both + weight * x
        c = KEEPS * self.of_slope + (1 - KEEPS) * PRIOR_SLOPE + weight * x * x
        whole = a * c - b * b
        shift = self.shift + miss * (c - b * x) / whole
        slope = self.slope + miss * (a * x - b) / whole
        return Line(shift, min(max(slope, FLATTEST), STEEPEST), a, b, c)

    def to_values(self) -> dict[str, float]:
        return asdict(self)

    @classmethod
    def from_values(cls, values: Mapping[str, float]) -> "Line":
        """From stored values; where the line begins if there are none."""
        return cls(**values)


AT_FIRST = Line()


def line_after(
    line: Line,
    topics: Collection[str],
    memories: Mapping[str, TopicMemory],
    right: bool,
    at: datetime,
) -> Line:
    """The line after all of a drink was asked at once.

    One that was not met in all its topics before, or was asked just now, says nothing about
    forgetting. A rule that another drink showed a minute ago is taken as a day old, for so it will
    be when it counts. `topics` are fingerprints, `memories` those before the answer.
    """
    known = [m for topic in topics if (m := memories.get(topic)) is not None]
    if not known or len(known) < len(set(topics)) or at - min(m.last for m in known) < RESTS:
        return line
    return line.then(prod(recall(m, max(at, m.last + A_DAY)) for m in known), right=right)
