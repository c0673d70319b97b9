"""What to do before the next shift: the cards that win most over the bar in the time there is."""

from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from assessments.measures.chances import Chances
from assessments.measures.line_up import DIGITS, SECONDS, LineUp, Need, Why
from assessments.measures.memory import RESTS, SOON, TopicMemory
from assessments.measures.otherwise import Otherwise, Part
from assessments.measures.stated import AT_FIRST, Line
from assessments.measures.target import topic_targets
from recipes.grammar.aspects import Aspect, Topic
from recipes.grammar.drink import Drink
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "card_fading": ("drink", "recall"),
    "card_changed": ("drink", "aspects"),
    "card_back": ("drink", "aspects"),
    "card_new": ("drink",),
    "card_part": ("drink",),
}


LEAST_GAIN = 0.01
"""A look that wins less than one in a hundred for its drink can wait: it was looked at too lately
to gain from another look (our own number, no source)."""

SURE = 0.95
"""A drink is left alone from this chance on; between the target and this only what is still worth
a look is looked at (our own number: the rehearsals of three weeks reach nine in ten with room)."""

A_DAY = timedelta(days=1)
LASTS = A_DAY
"""So much longer than until the shift a look should last: worth is reckoned at the end of it, so
that what would be gone a day later is looked at in time (our own number, no source)."""


@dataclass(frozen=True)
class CardDue:
    """A card to look at. `aspects` are those to look at, `told` those that the hire knows
    otherwise, `recall` the chance of knowing all of the drink at the hour of the shift, 0 to 1,
    its topics taken as independent."""

    drink: str
    why: Why
    aspects: tuple[Aspect, ...]
    recall: float
    reason: Reason
    told: tuple[Aspect, ...] = ()


@dataclass(frozen=True)
class ShiftPlan:
    """The cards that fit, most valuable first; how many more are `waiting` for another day; and
    how many drinks are `resting`: they will have faded by the shift, but were looked at so lately
    that another look now would win next to nothing. `again`: what somebody knows otherwise was
    looked at a few minutes ago, and comes once more."""

    cards: tuple[CardDue, ...]
    waiting: int
    resting: int
    seconds: int
    again: bool = False


Memories = Mapping[str, TopicMemory]


def plan_cards(
    *,
    drinks: Sequence[Drink],
    memories: Memories,
    otherwise: Otherwise,
    at: datetime,
    shift: datetime | None = None,
    seconds: int = 300,
    line: Line = AT_FIRST,
) -> tuple[CardDue, ...]:
    """The cards of `plan_shift` alone."""
    return plan_shift(
        drinks=drinks,
        memories=memories,
        otherwise=otherwise,
        at=at,
        shift=shift,
        seconds=seconds,
        line=line,
    ).cards


def plan_shift(
    *,
    drinks: Sequence[Drink],
    memories: Memories,
    otherwise: Otherwise,
    at: datetime,
    shift: datetime | None = None,
    seconds: int = 300,
    line: Line = AT_FIRST,
) -> ShiftPlan:
    """Cards for so many seconds, must-knows first, then by orders won at the shift a second.

    `memories` are the trainee's by topic fingerprint; `otherwise` is what they know otherwise
    than it is today, which counts as not known however lately it was looked at. Where nobody knows
    when the next shift is, it is taken to be a day off.

    A look is worth the chance it wins at the hour of the shift on this drink and on all that share
    its rules, times their shares of sales, for each second it takes. A card that what stands
    before it has left nothing to win is left out: one look at "tonic takes a lime" serves every
    tonic drink.
    """
    if not drinks:
        return ShiftPlan((), 0, 0, 0)
    begins = shift or at + A_DAY
    due = {d.slug: _due(otherwise.get(d.slug, ()), at) for d in drinks}
    lost = frozenset[str]().union(*(part.marks for parts in due.values() for part in parts))
    sure = {topic: memory for topic, memory in memories.items() if topic not in lost}
    chances, weights = Chances(drinks, sure, at, begins + LASTS, line), _weights(drinks)
    then = chances.right_at(begins)
    needs, resting = _needs(drinks, memories, due, lost, at, chances, weights, then)
    line_up = LineUp(needs, chances, weights)
    cards: list[CardDue] = []
    taken = 0
    while need := line_up.next_within(seconds - taken):
        taken += SECONDS[need.why]
        cards.append(_card(need))
    again = any(otherwise.get(d.slug) and not due[d.slug] for d in drinks)
    return ShiftPlan(tuple(cards), line_up.waiting(), resting, taken, again)


def _due(parts: Sequence[Part], at: datetime) -> tuple[Part, ...]:
    return tuple(part for part in parts if not part.rests(at))


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
    due: Mapping[str, tuple[Part, ...]],
    lost: AbstractSet[str],
    at: datetime,
    chances: Chances,
    weights: NDArray[np.float64],
    then: NDArray[np.float64],
) -> tuple[list[Need], int]:
    """The drinks that a look would win something for, and how many rest."""
    wanted, right, own = topic_targets(drinks), chances.right, chances.own_gains()
    gains = chances.all_gains(weights)
    missed = {topic for topic, memory in memories.items() if _was_missed(memory)}
    fades = missed | {
        topic for topic, recall in zip(chances.topics, chances.recall, strict=True)
        if recall < wanted[topic] and not _rests(memories.get(topic), at) and topic not in lost
    }  # fmt: skip
    needs, resting = [], 0
    for row, drink in enumerate(drinks):
        told = due[drink.slug]
        why, topics = _why(drink, memories, told, fades)
        short = right[row] < SURE
        again = bool(told) or any(t.fingerprint in missed for t in topics)
        if not (short or again):
            continue
        if not (topics or told) or (why is Why.FADING and own[row] < LEAST_GAIN and not again):
            resting += not any(t.fingerprint in lost for t in drink.topics)
            continue
        worth = round(float(gains[row]) / SECONDS[why], DIGITS)
        needs.append(Need(row, drink, why, topics, told, float(then[row]), worth))
    return needs, resting


def _why(
    drink: Drink, memories: Memories, told: Sequence[Part], fading: AbstractSet[str]
) -> tuple[Why, tuple[Topic, ...]]:
    """Why a look at this drink is due, and at which of its topics, none where nothing is."""
    marks = frozenset[str]().union(*(part.marks for part in told))
    unknown = tuple(
        t for t in drink.topics if t.fingerprint not in memories or t.fingerprint in marks
    )
    if told:
        return Why.BACK if is_back(told) else Why.CHANGED, unknown
    if unknown:
        return Why.NEW, unknown
    return Why.FADING, tuple(t for t in drink.topics if t.fingerprint in fading)


def _rests(memory: TopicMemory | None, at: datetime) -> bool:
    return memory is not None and at - memory.last < RESTS


def _was_missed(memory: TopicMemory) -> bool:
    """The last answer was wrong. It doesn't rest, however lately that was: what a quiz asked was
    not looked at. A look just missed wins little, so it stands behind whatever wins more."""
    return memory.due - memory.last <= SOON


def _card(need: Need) -> CardDue:
    told = _aspects(part.aspect for part in need.told)
    looks = _aspects([*(t.aspect for t in need.topics), *told])
    return CardDue(need.drink.slug, need.why, looks, need.recall, _reason(need), told)


def _aspects(found: Iterable[Aspect]) -> tuple[Aspect, ...]:
    held = set(found)
    return tuple(a for a in Aspect if a in held)


def _reason(need: Need) -> Reason:
    name = need.drink.name
    match need.why:
        case Why.FADING:
            return Reason.of("card_fading", drink=name, recall=int(100 * need.recall))
        case Why.NEW if _is_met(need):
            return Reason.of("card_part", drink=name)
        case Why.NEW:
            return Reason.of("card_new", drink=name)
    return changed(name, need.told)


def _is_met(need: Need) -> bool:
    """Whether any part that is this drink's alone was met before: knowing the house's ice from
    another drink is no meeting of this one."""
    return any(t.recipe and t not in need.topics for t in need.drink.topics)


def changed(drink: str, told: Sequence[Part]) -> Reason:
    """What is said of a drink by its name of which somebody knows these parts otherwise."""
    aspects = ",".join(_aspects(part.aspect for part in told))
    if is_back(told):
        return Reason.of("card_back", drink=drink, aspects=aspects)
    return Reason.of("card_changed", drink=drink, aspects=aspects)


def is_back(told: Sequence[Part]) -> bool:
    return all(part.back for part in told)
