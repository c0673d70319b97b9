"""What an answer, a card or a build leaves in a hire's memory: the schedule of their cards.

It moves nothing else. Called inside the transaction of what it follows from, with the hire locked.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence

from assessments.measures.marking import RIGHT_DRINK, is_conduct
from assessments.measures.memory import TopicMemory, review
from assessments.measures.pace import is_time
from assessments.measures.stated import line_after
from assessments.models import Habit, Memory
from barcourse.people.models import Membership
from recipes.grammar.drink import Drink
from recipes.grammar.steps import BuildStep

FIGURES = ("stability", "difficulty", "due", "last", "reviews", "lapses")


def remember(
    hire: Membership,
    right: Mapping[str, bool],
    at: dt.datetime,
    *,
    kind: str = "",
    milliseconds: int | None = None,
    whole: bool = False,
) -> None:
    """One review of each topic, by its fingerprint, in two reads and at most four writes.

    Whether a right answer was slow is measured by this person's own pace for this `kind` of
    question; without a kind nothing is said of pace. `whole`: all of a drink was asked at once,
    which also sets right what is stated about recall.
    """
    rows = {m.topic: m for m in Memory.objects.of(hire).on(list(right))}
    before = {topic: row.facts() for topic, row in rows.items()}
    slow = _habit(hire, right, before, at, kind, milliseconds, whole=whole)
    new: list[Memory] = []
    old: list[Memory] = []
    for topic, was_right in right.items():
        after = review(before.get(topic), fingerprint=topic, right=was_right, at=at, slow=slow)
        row = rows.get(topic) or Memory(venue_id=hire.venue_id, hire=hire, topic=topic)
        for figure in FIGURES:
            setattr(row, figure, getattr(after, figure))
        (old if topic in rows else new).append(row)
    Memory.objects.bulk_create(new)
    if old:
        Memory.objects.bulk_update(old, FIGURES)


def _habit(
    hire: Membership,
    right: Mapping[str, bool],
    before: Mapping[str, TopicMemory],
    at: dt.datetime,
    kind: str,
    milliseconds: int | None,
    *,
    whole: bool,
) -> bool | None:
    """Whether the answer was slow for this person; what is usual for them takes it in."""
    if not whole and (not kind or not is_time(milliseconds)):
        return None
    habit = Habit.objects.filter(hire=hire).first() or Habit(venue_id=hire.venue_id, hire=hire)
    pace = habit.pace(kind)
    habit.keep_pace(kind, pace.then(milliseconds))
    if whole:
        habit.keep_line(line_after(habit.stated, right, before, all(right.values()), at))
    habit.save()
    return pace.is_slow(milliseconds)


def topics_of_build(
    drink: Drink, steps: Sequence[BuildStep], off: frozenset[str]
) -> dict[str, bool]:
    """What a watched build shows of each topic of its drink: wrong where a step of its aspect
    went wrong, faults too.

    How somebody serves (age, allergy, a drunk guest) says nothing about the drink. Somebody who
    made another drink has shown nothing right of this one.
    """
    if RIGHT_DRINK.key in off:
        return dict.fromkeys((t.fingerprint for t in drink.topics), False)
    wrong = {s.aspect for s in steps if s.key in off and not is_conduct(s)}
    return {t.fingerprint: t.aspect not in wrong for t in drink.topics}


def topics_of_spot(drink: Drink, *, right: bool) -> dict[str, bool]:
    """What a drink in service shows: all of it where it was right. Where it was not, nobody said
    which part, so what is the drink's own comes back soon and the house's rules are left alone."""
    if right:
        return dict.fromkeys((t.fingerprint for t in drink.topics), True)
    return {t.fingerprint: False for t in drink.topics if t.recipe}
