"""What the next shift stands to lose, and what one look at a card now would win back.

The chance that a drink is right is the product of its topics' recall at the hour of the shift. A
look reviews all topics of a drink: those known now grow stronger, those that are not begin anew.
So the spacing is in it by itself: a card looked at an hour ago has hardly anything to win before
Saturday, however much of it will be gone by then, while the same look on Friday wins a lot.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from assessments.measures.forgetting import (
    DAY_S,
    FIRST_WRONG,
    LEAST,
    Numbers,
    recall_all,
    stronger,
    weaker,
)
from assessments.measures.memory import TopicMemory
from assessments.measures.stated import AT_FIRST, Line
from recipes.grammar.drink import Drink

UNSEEN = 0.002
"""The chance of a topic that was never looked at: as good as nothing, also along the line of
somebody who forgets less than guessed (our own, no source)."""


class Chances:
    """Every drink at a later hour, as things stand and with one more look at each.

    `right` is the chance of each drink in the order given, as stated to a person; `gain_of` what a
    look adds to all drinks, for rules serve many. `look` plans a look: what follows counts with it.
    """

    def __init__(
        self,
        drinks: Sequence[Drink],
        memories: Mapping[str, TopicMemory],
        at: datetime,
        later: datetime,
        line: Line = AT_FIRST,
    ) -> None:
        self.topics, self.uses = _layout(tuple(_fingerprints(d) for d in drinks))
        self.line = line
        self._known = _Known.of([memories.get(t) for t in self.topics])
        self.recall = self._known.recall(max(at, later))
        after = np.maximum(self._known.after_a_look(at, max(at, later)), self.recall)
        self._gain = np.log(after) - np.log(self.recall)
        self._log = self.uses @ np.log(self.recall)

    @property
    def right(self) -> Numbers:
        return self._said(self._log)

    def right_at(self, moment: datetime) -> Numbers:
        """The chance of each drink at another moment, as things stand."""
        return self._said(self.uses @ np.log(self._known.recall(moment)))

    def own_gains(self) -> Numbers:
        """What a look at each drink wins for that drink itself."""
        return self._said(self._log + self.uses @ self._gain) - self.right

    def all_gains(self, weights: Numbers) -> Numbers:
        """What a look at each drink wins for all drinks together, weighted."""
        spread = (self.uses * self._gain) @ self.uses.T
        return np.asarray((self._said(self._log + spread) - self.right) @ weights)

    def gain_of(self, row: int, weights: Numbers) -> float:
        """The same for one drink, with what has been planned since."""
        spread = self.uses @ (self.uses[row] * self._gain)
        return float((self._said(self._log + spread) - self.right) @ weights)

    def look(self, row: int) -> None:
        """Plan a look at this drink: its topics have nothing more to win."""
        seen = self.uses[row] * self._gain
        self._log = self._log + self.uses @ seen
        self._gain = self._gain - seen

    def _said(self, logs: Numbers) -> Numbers:
        return self.line.stated(np.exp(logs))


def _fingerprints(drink: Drink) -> tuple[str, ...]:
    return tuple(t.fingerprint for t in drink.topics)


@lru_cache(maxsize=64)
def _layout(made: tuple[tuple[str, ...], ...]) -> tuple[tuple[str, ...], Numbers]:
    """All topics, and a row a drink with a one where it stands on the topic. Kept by content: a
    menu is planned for many people."""
    topics = tuple(sorted({topic for topics in made for topic in topics}))
    place = {topic: n for n, topic in enumerate(topics)}
    uses = np.zeros((len(made), len(topics)))
    for row, of_drink in enumerate(made):
        uses[row, [place[topic] for topic in of_drink]] = 1.0
    uses.flags.writeable = False
    return topics, uses


@dataclass(frozen=True)
class _Known:
    """Memories as arrays; `met` is false where there is none."""

    met: NDArray[np.bool_]
    stability: Numbers
    difficulty: Numbers
    last: Numbers

    @classmethod
    def of(cls, memories: Sequence[TopicMemory | None]) -> "_Known":
        return cls(
            met=np.array([m is not None for m in memories], dtype=bool),
            stability=np.array([m.stability if m else 1.0 for m in memories]),
            difficulty=np.array([m.difficulty if m else 5.0 for m in memories]),
            last=np.array([m.last.timestamp() if m else 0.0 for m in memories]),
        )

    def recall(self, at: datetime, unseen: float = UNSEEN) -> Numbers:
        known = recall_all(self.stability, self.last, at.timestamp())
        return np.where(self.met, known, unseen)

    def after_a_look(self, at: datetime, later: datetime) -> Numbers:
        """Recall at `later`, expected over whether the look at `at` finds it right or wrong."""
        days, now = (later - at).total_seconds() / DAY_S, self.recall(at, unseen=0.0)
        right = stronger(self.stability, self.difficulty, now)
        wrong = np.where(self.met, weaker(self.stability, self.difficulty, now), FIRST_WRONG)
        return now * _after(right, days) + (1 - now) * _after(wrong, days)


def _after(stability: Numbers, days: float) -> Numbers:
    return recall_all(np.maximum(stability, LEAST), -days * DAY_S, 0.0)
