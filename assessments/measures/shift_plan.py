"""What to do in the next five minutes: a few cards, the ones that win most over the bar."""

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from math import prod

from assessments.measures.memory import TARGET_RECALL, TopicMemory, is_due, recall
from recipes.grammar.aspects import Aspect, Topic
from recipes.grammar.drink import Drink
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "card_fading": ("drink", "recall"),
    "card_changed": ("drink", "aspects"),
    "card_new": ("drink",),
}


class Why(StrEnum):
    """Why a card is due; in the order in which they come."""

    FADING = "fading"
    CHANGED = "changed"
    NEW = "new"


@dataclass(frozen=True)
class CardDue:
    """A card to look at. `aspects` are those to look at, `recall` the chance of knowing all of
    the drink now, 0 to 1, its topics taken as independent."""

    drink: str
    why: Why
    aspects: tuple[Aspect, ...]
    recall: float
    reason: Reason


@dataclass(frozen=True)
class _Need:
    """A drink with topics to look at, before it is known whether there is time for it."""

    drink: Drink
    why: Why
    topics: tuple[Topic, ...]
    recall: float

    @property
    def rank(self) -> tuple[object, ...]:
        """Must-knows, then fading, changed, new; within these by what is lost over the bar."""
        lost = 1 - self.recall
        order = list(Why).index(self.why)
        return not self.drink.must_know, order, -self.drink.share * lost, -lost, self.drink.slug


Memories = Mapping[str, TopicMemory]


def plan_cards(
    *,
    drinks: Sequence[Drink],
    memories: Memories,
    was: Mapping[str, AbstractSet[str]],
    at: datetime,
    seconds: int = 300,
    seconds_per_card: int = 20,
) -> tuple[CardDue, ...]:
    """Cards for so many seconds, most urgent first, none where nothing is due.

    `memories` are the trainee's by topic fingerprint; `was` the topic fingerprints, by drink, that
    the trainee has met in earlier builds of it, nothing for a drink that is as they met it. A
    drink that only lost something has no topic to learn and is not due for that. A card whose
    topics all stand on cards before it is left out: one look at "tonic takes a lime" serves every
    tonic drink. Twenty seconds a card is our own choice, no source.
    """
    if seconds_per_card <= 0:
        raise ValueError("a card takes time")
    needs = [n for d in drinks if (n := _need(d, memories, was.get(d.slug, frozenset()), at))]
    cards: list[CardDue] = []
    looked_at: set[str] = set()
    for need in sorted(needs, key=lambda n: n.rank):
        if len(cards) >= seconds // seconds_per_card:
            break
        wanted = {t.fingerprint for t in need.topics}
        if not wanted <= looked_at:
            looked_at |= wanted
            cards.append(_card(need))
    return tuple(cards)


def _need(drink: Drink, memories: Memories, was: AbstractSet[str], at: datetime) -> _Need | None:
    """What of this drink needs a look now; None where all of it is fresh."""
    unknown = tuple(t for t in drink.topics if t.fingerprint not in memories)
    now = _recall(drink, memories, at)
    if unknown:
        return _Need(drink, Why.CHANGED if was else Why.NEW, unknown, now)
    fading = tuple(t for t in drink.topics if _fades(memories[t.fingerprint], at))
    return _Need(drink, Why.FADING, fading, now) if fading else None


def _fades(memory: TopicMemory, at: datetime) -> bool:
    return is_due(memory, at) or recall(memory, at) < TARGET_RECALL


def _recall(drink: Drink, memories: Memories, at: datetime) -> float:
    known = (memories.get(t.fingerprint) for t in drink.topics)
    return prod(recall(m, at) if m else 0.0 for m in known)


def _card(need: _Need) -> CardDue:
    aspects = tuple(a for a in Aspect if any(t.aspect is a for t in need.topics))
    return CardDue(need.drink.slug, need.why, aspects, need.recall, _reason(need, aspects))


def _reason(need: _Need, aspects: tuple[Aspect, ...]) -> Reason:
    name = need.drink.name
    match need.why:
        case Why.FADING:
            return Reason.of("card_fading", drink=name, recall=int(100 * need.recall))
        case Why.CHANGED:
            return Reason.of("card_changed", drink=name, aspects=",".join(aspects))
        case Why.NEW:
            return Reason.of("card_new", drink=name)
