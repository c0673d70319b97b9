"""What somebody remembers, one row a trainee and topic.

An open spaced-repetition library keeps the figures. Its rating scale stays in here: a review
says right or wrong, and perhaps slow for this person.

The library counts whole days. Here the hours count too: recall falls by the hour, and a right
answer later on the same day strengthens by as much as was forgotten since, where the library gives
every answer of a day the same small gain. At whole days everything is the library's own figure.
"""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from fsrs import Card, Rating, Scheduler, State

from assessments.measures.forgetting import DAY_S, recall_after, stronger


class _ByTheHour(Scheduler):
    """The library, with recall at the review taken by fractions of a day."""

    def get_card_retrievability(
        self, card: Card, current_datetime: datetime | None = None
    ) -> float:
        if card.last_review is None or card.stability is None or current_datetime is None:
            return 0.0
        return recall_after(_days(card.last_review, current_datetime), card.stability)


SCHEDULER = _ByTheHour(learning_steps=(), relearning_steps=(), enable_fuzzing=False)
"""No learning steps: a topic's figures alone say when it is due. No fuzz: it rolls global dice."""

TARGET_RECALL = SCHEDULER.desired_retention

SOON = timedelta(minutes=10)
"""When a topic comes back after a wrong answer, and at the earliest after a right one (our own
choice, no source)."""

RESTS = timedelta(hours=6)
"""What was right so lately rests: looked at again at once it would feel known and win little (our
own number, no source; that spreading out wins over massing: Cepeda et al. 2006)."""


@dataclass(frozen=True)
class TopicMemory:
    """What a trainee remembers of a topic.

    `stability` is the days after which recall has fallen to nine in ten, `difficulty` runs from
    1 to 10. Times are aware and in UTC. `lapses` counts wrong answers after the first review.
    """

    fingerprint: str
    stability: float
    difficulty: float
    due: datetime
    last: datetime
    reviews: int
    lapses: int

    def to_values(self) -> dict[str, Any]:
        """By field name, for a row."""
        return asdict(self)

    @classmethod
    def from_values(cls, values: Mapping[str, Any]) -> "TopicMemory":
        """From a row's values; times in any zone. Raises ValueError for naive times."""
        times = {"due": _utc(values["due"]), "last": _utc(values["last"])}
        return cls(**{**values, **times})


def review(
    memory: TopicMemory | None,
    *,
    fingerprint: str,
    right: bool,
    at: datetime,
    slow: bool | None = None,
) -> TopicMemory:
    """The memory after one more answer at `at`; None before the first answer about the topic.

    A right answer that was slow for this person counts for less. An answer that arrives late,
    from before the last one, counts as if given right after it. Raises ValueError for a naive
    time or another topic's memory.
    """
    if memory and memory.fingerprint != fingerprint:
        raise ValueError("the memory of another topic")
    now = _utc(at) if memory is None else max(_utc(at), memory.last)
    slip = memory is not None and not right and _was_right_just_now(memory, now)
    rating = _rating(right=right or slip, slow=slow or slip)
    card, _ = SCHEDULER.review_card(_card(memory, now), rating, now)
    stability, difficulty = float(card.stability or 0.0), float(card.difficulty or 0.0)
    if memory and right:
        stability = max(stability, _gained(memory, now, slow=bool(slow)))
    wait = max(SOON, timedelta(days=stability)) if right else SOON
    return TopicMemory(
        fingerprint=fingerprint,
        stability=stability,
        difficulty=difficulty,
        due=now + wait,
        last=now,
        reviews=memory.reviews + 1 if memory else 1,
        lapses=memory.lapses + (not right) if memory else 0,
    )


def recall(memory: TopicMemory, at: datetime) -> float:
    """The chance of knowing the topic at `at`, 0 to 1; before the last answer it is 1."""
    return recall_after(_days(memory.last, _utc(at)), memory.stability)


def _was_right_just_now(memory: TopicMemory, at: datetime) -> bool:
    """Right a few minutes ago, on this drink or on another that stands on the same rule."""
    return memory.due - memory.last > SOON > at - memory.last


def _days(since: datetime, at: datetime) -> float:
    return max(0.0, (at - since).total_seconds() / DAY_S)


def _gained(memory: TopicMemory, at: datetime, *, slow: bool) -> float:
    """The stability after a right answer less than a day after the last one; else 0, the
    library's own figure stands."""
    days = _days(memory.last, at)
    if days >= 1:
        return 0.0
    now = recall_after(days, memory.stability)
    return float(stronger(memory.stability, memory.difficulty, now, slow=slow))


def _utc(at: datetime) -> datetime:
    if at.tzinfo is None:
        raise ValueError("a time without its zone")
    return at.astimezone(UTC)  # the library takes this zone object and no other


def _card(memory: TopicMemory | None, now: datetime) -> Card:
    # With an id: the library sleeps a millisecond to make one up.
    if memory is None:
        return Card(card_id=1, due=now)
    return Card(
        card_id=1,
        state=State.Review,
        stability=memory.stability,
        difficulty=memory.difficulty,
        due=memory.due,
        last_review=memory.last,
    )


def _rating(*, right: bool, slow: bool | None) -> Rating:
    if not right:
        return Rating.Again
    return Rating.Hard if slow else Rating.Good
