"""What to do before the next shift: the cards that win most over the bar in the time there is."""

from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from heapq import heapify, heappop, heappush

import numpy as np
from numpy.typing import NDArray

from assessments.measures.chances import Chances
from assessments.measures.memory import RESTS, SOON, TopicMemory
from assessments.measures.stated import AT_FIRST, Line
from assessments.measures.target import topic_targets
from recipes.grammar.aspects import Aspect, Topic
from recipes.grammar.drink import Drink
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "card_fading": ("drink", "recall"),
    "card_changed": ("drink", "aspects"),
    "card_new": ("drink",),
}


class Why(StrEnum):
    """Why a card is due."""

    FADING = "fading"
    CHANGED = "changed"
    NEW = "new"


SECONDS = {Why.FADING: 20, Why.CHANGED: 25, Why.NEW: 30}
"""What a look takes: a known build is turned quickly, a new one is read (our own, no source)."""

LEAST_GAIN = 0.01
"""A look that wins less than one in a hundred for its drink can wait: it was looked at too lately
to gain from another look (our own number, no source)."""

SURE = 0.95
"""A drink is left alone from this chance on; between the target and this only what is still worth
a look is looked at (our own number: the rehearsals of three weeks reach nine in ten with room)."""

DIGITS = 12
"""Worth is rounded, or the noise of arithmetic would break ties instead of the drink's name."""

A_DAY = timedelta(days=1)
LASTS = A_DAY
"""So much longer than until the shift a look should last: worth is reckoned at the end of it, so
that what would be gone a day later is looked at in time (our own number, no source)."""


@dataclass(frozen=True)
class CardDue:
    """A card to look at. `aspects` are those to look at, `recall` the chance of knowing all of
    the drink at the hour of the shift, 0 to 1, its topics taken as independent."""

    drink: str
    why: Why
    aspects: tuple[Aspect, ...]
    recall: float
    reason: Reason


@dataclass(frozen=True)
class ShiftPlan:
    """The cards that fit, most valuable first; how many more are `waiting` for another day; and
    how many drinks are `resting`: they will have faded by the shift, but were looked at so lately
    that another look now would win next to nothing."""

    cards: tuple[CardDue, ...]
    waiting: int
    resting: int
    seconds: int


@dataclass(frozen=True)
class _Need:
    """A drink with topics to look at, before it is known whether there is time for it."""

    row: int
    drink: Drink
    why: Why
    topics: tuple[Topic, ...]
    told: tuple[Topic, ...]
    recall: float
    worth: float

    @property
    def fingerprints(self) -> frozenset[str]:
        return frozenset(t.fingerprint for t in self.topics)


Memories = Mapping[str, TopicMemory]
Was = Mapping[str, AbstractSet[str]]


def plan_cards(
    *,
    drinks: Sequence[Drink],
    memories: Memories,
    was: Was,
    at: datetime,
    shift: datetime | None = None,
    seconds: int = 300,
    line: Line = AT_FIRST,
) -> tuple[CardDue, ...]:
    """The cards of `plan_shift` alone."""
    return plan_shift(
        drinks=drinks, memories=memories, was=was, at=at, shift=shift, seconds=seconds, line=line
    ).cards


def plan_shift(
    *,
    drinks: Sequence[Drink],
    memories: Memories,
    was: Was,
    at: datetime,
    shift: datetime | None = None,
    seconds: int = 300,
    line: Line = AT_FIRST,
) -> ShiftPlan:
    """Cards for so many seconds, must-knows first, then by orders won at the shift a second.

    `memories` are the trainee's by topic fingerprint; `was` the topic fingerprints, by drink, that
    the trainee has met in earlier builds of it, nothing for a drink that is as they met it. Where
    nobody knows when the next shift is, it is taken to be a day off.

    A look is worth the chance it wins at the hour of the shift on this drink and on all that share
    its rules, times their shares of sales, for each second it takes. A card that what stands
    before it has left nothing to win is left out: one look at "tonic takes a lime" serves every
    tonic drink.
    """
    if not drinks:
        return ShiftPlan((), 0, 0, 0)
    begins = shift or at + A_DAY
    chances, weights = Chances(drinks, memories, at, begins + LASTS, line), _weights(drinks)
    then = chances.right_at(begins)
    needs, resting = _needs(drinks, memories, was, at, chances, weights, then)
    line_up = _LineUp(needs, chances, weights)
    cards: list[CardDue] = []
    taken = 0
    while need := line_up.next_within(seconds - taken):
        taken += SECONDS[need.why]
        cards.append(_card(need))
    return ShiftPlan(tuple(cards), line_up.waiting(), resting, taken)


def _weights(drinks: Sequence[Drink]) -> NDArray[np.float64]:
    """By shares of sales; a must-know counts half by what it sells and half as any must-know does,
    for the house wants all of them known. All alike where nothing is known of what sells."""
    shares = np.array([d.share for d in drinks])
    if not shares.any():
        return np.full(len(drinks), 1 / len(drinks))
    must = np.array([d.must_know for d in drinks], dtype=bool)
    usual = shares[must].mean() if must.any() else 0.0
    return np.where(must, (shares + usual) / 2, shares)


def _needs(
    drinks: Sequence[Drink],
    memories: Memories,
    was: Was,
    at: datetime,
    chances: Chances,
    weights: NDArray[np.float64],
    then: NDArray[np.float64],
) -> tuple[list[_Need], int]:
    """The drinks that a look would win something for, and how many rest."""
    wanted, right, own = topic_targets(drinks), chances.right, chances.own_gains()
    gains = chances.all_gains(weights)
    missed = {topic for topic, memory in memories.items() if _was_missed(memory)}
    fades = missed | {
        topic for topic, recall in zip(chances.topics, chances.recall, strict=True)
        if recall < wanted[topic] and not _rests(memories.get(topic), at)
    }  # fmt: skip
    needs, resting = [], 0
    for row, drink in enumerate(drinks):
        why, topics, told = _why(drink, memories, was.get(drink.slug), fades)
        short = right[row] < SURE
        again = any(t.fingerprint in missed for t in topics)
        if not (short or again):
            continue
        if not topics or (why is Why.FADING and own[row] < LEAST_GAIN and not again):
            resting += 1
            continue
        worth = round(float(gains[row]) / SECONDS[why], DIGITS)
        needs.append(_Need(row, drink, why, topics, told, float(then[row]), worth))
    return needs, resting


def _why(
    drink: Drink, memories: Memories, was: AbstractSet[str] | None, fading: AbstractSet[str]
) -> tuple[Why, tuple[Topic, ...], tuple[Topic, ...]]:
    """Why a look at this drink is due, at which of its topics, none where nothing is, and for which
    of them that is the reason: what nobody has changed is unseen, not changed."""
    unknown = tuple(t for t in drink.topics if t.fingerprint not in memories)
    if unknown:
        changed = () if was is None else tuple(t for t in unknown if t.fingerprint not in was)
        return (Why.CHANGED, unknown, changed) if changed else (Why.NEW, unknown, unknown)
    faded = tuple(t for t in drink.topics if t.fingerprint in fading)
    return Why.FADING, faded, faded


def _rests(memory: TopicMemory | None, at: datetime) -> bool:
    return memory is not None and at - memory.last < RESTS


def _was_missed(memory: TopicMemory) -> bool:
    """The last answer was wrong. It doesn't rest, however lately that was: what a quiz asked was
    not looked at. A look just missed wins little, so it stands behind whatever wins more."""
    return memory.due - memory.last <= SOON


class _LineUp:
    """Must-knows first, then what is worth most, worked out anew with what was planned since.

    Looks take worth from one another, hardly ever add any; so only the first in line is worked
    out again, and goes back into the line where it is no longer the first.
    """

    def __init__(
        self, needs: Iterable[_Need], chances: Chances, weights: NDArray[np.float64]
    ) -> None:
        self._line = [(not n.drink.must_know, -n.worth, n.drink.slug, n) for n in needs]
        self._too_long: list[_Need] = []
        self._looked_at: set[str] = set()
        self._chances, self._weights = chances, weights
        heapify(self._line)

    def next_within(self, seconds: int) -> _Need | None:
        """The next look that fits into so many seconds, taken as done."""
        while self._line and seconds >= min(SECONDS.values()):
            other, before, slug, need = heappop(self._line)
            if self._is_served(need):
                continue
            if SECONDS[need.why] > seconds:
                self._too_long.append(need)
                continue
            place = (other, -self._worth(need), slug, need)
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

    def _is_served(self, need: _Need) -> bool:
        return need.fingerprints <= self._looked_at

    def _worth(self, need: _Need) -> float:
        gain = self._chances.gain_of(need.row, self._weights)
        return round(gain / SECONDS[need.why], DIGITS)


def _card(need: _Need) -> CardDue:
    return CardDue(need.drink.slug, need.why, _aspects(need.topics), need.recall, _reason(need))


def _aspects(topics: Sequence[Topic]) -> tuple[Aspect, ...]:
    return tuple(a for a in Aspect if any(t.aspect is a for t in topics))


def _reason(need: _Need) -> Reason:
    name = need.drink.name
    match need.why:
        case Why.FADING:
            return Reason.of("card_fading", drink=name, recall=int(100 * need.recall))
        case Why.CHANGED:
            return Reason.of("card_changed", drink=name, aspects=",".join(_aspects(need.told)))
        case Why.NEW:
            return Reason.of("card_new", drink=name)
