"""What an answer, a card or a build leaves in a hire's memory: the schedule of their cards.

It moves nothing else. Called inside the transaction of what it follows from, with the hire locked.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence

from assessments.measures.marking import RIGHT_DRINK, is_conduct
from assessments.measures.memory import review
from assessments.models import Memory
from barcourse.people.models import Membership
from recipes.grammar.drink import Drink
from recipes.grammar.steps import BuildStep

FIGURES = ("stability", "difficulty", "due", "last", "reviews", "lapses")


def remember(hire: Membership, right: Mapping[str, bool], at: dt.datetime) -> None:
    """One review of each topic, by its fingerprint, in one read and at most two writes."""
    rows = {m.topic: m for m in Memory.objects.of(hire).on(list(right))}
    new: list[Memory] = []
    old: list[Memory] = []
    for topic, was_right in right.items():
        before = rows[topic].facts() if topic in rows else None
        after = review(before, fingerprint=topic, right=was_right, at=at)
        row = rows.get(topic) or Memory(venue_id=hire.venue_id, hire=hire, topic=topic)
        for figure in FIGURES:
            setattr(row, figure, getattr(after, figure))
        (old if topic in rows else new).append(row)
    Memory.objects.bulk_create(new)
    if old:
        Memory.objects.bulk_update(old, FIGURES)


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
