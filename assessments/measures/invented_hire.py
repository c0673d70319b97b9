"""An invented hire for rehearsals of the planner: how their memory really works.

**This is not the scheduler's model.** The scheduler keeps a row a topic, lets recall fall as a
power of time and takes a rule that is known on one drink for known on all. This hire

- forgets by the exponential: what is known of an aspect of a drink is halved with every half-life;
- has a half-life for each aspect of each drink, not for topics; it grows with every success by the
  drink's own factor, the more so the later the success came, and shrinks with every miss;
- carries a rule over to another drink only in part;
- mixes a drink up with its nearest look-alike, the less the longer it has settled;
- slips now and then over what they know well;
- takes longer the shakier they are, at a pace of their own.

The numbers are our own choice, no source, except where one is named. Days are floats.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from recipes.grammar.aspects import Aspect
from recipes.grammar.drink import Drink
from recipes.grammar.lookalikes import apart

Numbers = NDArray[np.float64]
Flags = NDArray[np.bool_]

FIRST_HALF_LIFE, FIRST_SPREAD = 2.0, 0.9
"""Days, median, and spread on the log scale, of what one look at a new drink leaves: some names
say the build, others say nothing."""
GROWTH, GROWTH_SPREAD = 3.5, 0.45
"""By how much a success at even odds multiplies the half-life, median and log spread."""
SHRINKS = 0.5
CARRIES = 0.9
"""How much of what is known on other drinks with the same glass, say, is carried over to this one.
Practice carries over in part (Pan and Rickard 2018); the share is our own."""
CONFUSES, SETTLES = 0.25, 2.0
"""The chance of giving a look-alike's answer when both are as good as the same and nothing has
settled; halved with each `SETTLES` days of half-life."""
SLIP = 0.003
"""An aspect given wrong though it is known."""
THINKS_S, READS_S, MENDS_S = 6.0, 12.0, 2.0
"""Seconds: to think of a build that is well known, to read its back, for each aspect to mend."""
VARIES, PEOPLE_VARY = 0.3, 0.15
"""Log spread of the time of one answer, and of people among one another."""
SHAKY = 0.5
"""What is not known at all takes this much longer to answer."""


@dataclass(frozen=True)
class Answered:
    """One card: the aspects that were right, by drink's aspects in order; seconds in all, and of
    them the milliseconds until the card was turned."""

    right: Flags
    milliseconds: int
    seconds: float


class InventedHire:
    """One hire and what they know of these drinks. `dice` decides everything by chance."""

    def __init__(self, drinks: Sequence[Drink], dice: np.random.Generator) -> None:
        self.dice = dice
        self.asked = np.array([[bool(d.topics_of(a)) for a in Aspect] for d in drinks])
        self._alike = _same(drinks)
        self._mixed = _confusable(drinks)
        n = len(drinks)
        self._first = _spread(FIRST_HALF_LIFE, FIRST_SPREAD, dice, n)
        self._growth = _spread(GROWTH, GROWTH_SPREAD, dice, n)
        self._pace = float(_spread(1.0, PEOPLE_VARY, dice, 1)[0])
        self._half = np.zeros(self.asked.shape)  # days; 0: never looked at
        self._last = np.zeros(self.asked.shape)

    def chances(self, day: float) -> Numbers:
        """The chance of each aspect of each drink being right, slips and mix-ups included; one
        where there is nothing to know."""
        own = self._remembered(day)
        carried = CARRIES * _best_elsewhere(own, self._alike)
        knows = own + (1 - own) * carried
        confused = self._mixed * CONFUSES * 2 ** (-self._half / SETTLES)
        return np.where(self.asked, knows * (1 - confused) * (1 - SLIP), 1.0)

    def knows(self, day: float) -> Numbers:
        """The chance of each drink being right in every aspect."""
        return np.asarray(self.chances(day).prod(axis=1))

    def turn(self, drink: int, day: float) -> Answered:
        """Answer a card, look at its back and learn from it."""
        chances = self.chances(day)[drink]
        right = self.dice.random(len(chances)) < chances
        shaky = 1 + SHAKY * (1 - float(chances.prod()))
        luck = float(np.exp(VARIES * self.dice.standard_normal()))
        thinks = THINKS_S * shaky * self._pace * luck
        mends = MENDS_S * int((~right & self.asked[drink]).sum())
        self._learn(drink, right, day)
        return Answered(right, int(1000 * thinks), thinks + (READS_S + mends) * self._pace)

    def _remembered(self, day: float) -> Numbers:
        half = np.where(self._half > 0, self._half, 1.0)
        return np.where(self._half > 0, 2 ** (-np.maximum(0.0, day - self._last) / half), 0.0)

    def _learn(self, drink: int, right: Flags, day: float) -> None:
        """A success in time counts little, a late one in full; the answer is seen either way."""
        before, known = self._half[drink], self._remembered(day)[drink]
        late = np.minimum(1.0, 2 * (1 - known))
        grown = before * self._growth[drink] ** late
        missed = np.maximum(self._first[drink], before * SHRINKS)
        after = np.where(right & (before > 0), grown, missed)
        self._half[drink], self._last[drink] = np.where(self.asked[drink], after, 0.0), day


def _spread(median: float, spread: float, dice: np.random.Generator, count: int) -> Numbers:
    """Log-normal, at most two spreads from the median."""
    return np.asarray(median * np.exp(spread * np.clip(dice.standard_normal(count), -2, 2)))


def _same(drinks: Sequence[Drink]) -> NDArray[np.int64]:
    """A number for each content of an aspect, the same for drinks in which it is the same."""
    numbers: dict[tuple[Aspect, str], int] = {}
    return np.array(
        [[numbers.setdefault((a, d.fingerprints[a]), len(numbers)) for a in Aspect] for d in drinks]
    )


def _best_elsewhere(known: Numbers, same: NDArray[np.int64]) -> Numbers:
    """How well each content is known on the drink that it is known best on."""
    best = np.zeros(int(same.max()) + 1)
    np.maximum.at(best, same, known)
    return best[same]


def _confusable(drinks: Sequence[Drink]) -> Numbers:
    """How alike the nearest look-alike is, 0 to 1, in the aspects in which it differs."""
    found = np.zeros((len(drinks), len(Aspect)))
    for row, drink in enumerate(drinks):
        others = [o for o in drinks if o.fingerprints != drink.fingerprints]
        if others:
            nearest = min(others, key=lambda o: (apart(drink.traits, o.traits), o.slug))
            alike = 1 - apart(drink.traits, nearest.traits)
            differs = [drink.fingerprints[a] != nearest.fingerprints[a] for a in Aspect]
            found[row] = np.where(differs, alike, 0.0)
    return found
