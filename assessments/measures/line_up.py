"""Drinks to look at in a line: what somebody knows otherwise and must-knows first, then what a look
wins most for, as far as the minutes go."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from heapq import heapify, heappop, heappush

import numpy as np
from numpy.typing import NDArray

from assessments.measures.chances import Chances
from assessments.measures.otherwise import Part
from recipes.grammar.aspects import Topic
from recipes.grammar.drink import Drink


class Why(StrEnum):
    """Why a card is due."""

    FADING = "fading"
    CHANGED = "changed"
    BACK = "back"
    NEW = "new"


SECONDS = {Why.FADING: 20, Why.CHANGED: 25, Why.BACK: 25, Why.NEW: 30}
"""What a look takes: a known build is turned quickly, a new one is read (our own, no source)."""

DIGITS = 12
"""Worth is rounded, or the noise of arithmetic would break ties instead of the drink's name."""


@dataclass(frozen=True)
class Need:
    """A drink with topics to look at, before it is known whether there is time for it."""

    row: int
    drink: Drink
    why: Why
    topics: tuple[Topic, ...]
    told: tuple[Part, ...]
    recall: float
    worth: float

    @property
    def fingerprints(self) -> frozenset[str]:
        marks = (part.marks for part in self.told)
        return frozenset(t.fingerprint for t in self.topics).union(*marks)

    @property
    def rank(self) -> int:
        """Must-knows first, and of both what somebody knows otherwise: until they have unlearned
        it they build it wrong, and are sure of it."""
        return 2 * (not self.drink.must_know) + (not self.told)


class LineUp:
    """By rank, then what is worth most, worked out anew with what was planned since.

    Looks take worth from one another, hardly ever add any; so only the first in line is worked
    out again, and goes back into the line where it is no longer the first.
    """

    def __init__(
        self, needs: Iterable[Need], chances: Chances, weights: NDArray[np.float64]
    ) -> None:
        self._line = [(n.rank, -n.worth, n.drink.slug, n) for n in needs]
        self._too_long: list[Need] = []
        self._looked_at: set[str] = set()
        self._chances, self._weights = chances, weights
        heapify(self._line)

    def next_within(self, seconds: int) -> Need | None:
        """The next look that fits into so many seconds, taken as done."""
        while self._line and seconds >= min(SECONDS.values()):
            rank, before, slug, need = heappop(self._line)
            if self._is_served(need):
                continue
            if SECONDS[need.why] > seconds:
                self._too_long.append(need)
                continue
            place = (rank, -self._worth(need), slug, need)
            if self._line and place > self._line[0] and place[1] > before:
                heappush(self._line, place)
                continue
            self._looked_at |= need.fingerprints
            self._chances.look(need.row)
            return need
        return None

    def waiting(self) -> int:
        """How many are left for which there is no time."""
        left = [*self._too_long, *(need for *_, need in self._line)]
        return sum(not self._is_served(need) for need in left)

    def _is_served(self, need: Need) -> bool:
        return need.fingerprints <= self._looked_at

    def _worth(self, need: Need) -> float:
        gain = self._chances.gain_of(need.row, self._weights)
        return round(gain / SECONDS[need.why], DIGITS)
