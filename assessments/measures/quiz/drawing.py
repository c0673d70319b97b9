"""Which situations and drinks a quiz is drawn from: as many of each subject for everybody, and in a
small house few different ones, so that each is answered often enough to be judged."""

from collections import Counter
from collections.abc import Iterable, Sequence
from random import Random
from typing import Protocol, TypeVar

from assessments.measures.quiz.blueprint import QuizPlan
from assessments.measures.quiz.items import Scenario
from recipes.grammar.aspects import fingerprint

SPREAD = 1.5
"""A pool holds so many questions to a place: ten answers to each take fifteen people, and two side
by side still differ in a third of theirs (our own number, no source)."""


class _Named(Protocol):
    @property
    def slug(self) -> str: ...


T = TypeVar("T", bound=_Named)


def pooled(things: Iterable[T], places: int, pool: str, kind: str) -> list[T]:
    """The few that a pool holds for so many places of a kind; all of them without a pool.

    Who is in hangs on each slug by itself, so that a drink more on the menu moves one other at the
    most (highest random weight hashing: Thaler and Ravishankar 1998).
    """
    if not pool:
        return list(things)

    def weight(thing: T) -> str:
        return fingerprint([pool, kind, thing.slug])

    return sorted(things, key=weight)[: pool_size(places)]


def pool_size(places: int) -> int:
    return max(places + 1, round(SPREAD * places)) if places else 0


def pick_scenarios(
    plan: QuizPlan, scenarios: Sequence[Scenario], turn: int, random: Random
) -> list[Scenario]:
    """Critical ones first, then others; by chance, but of each subject as many for everybody.
    `turn` says which subject is dealt a place first, so that in time all have theirs."""
    ordered = sorted(scenarios, key=lambda s: s.slug)
    subjects = sorted({s.subject for s in ordered})
    turn = turn % len(subjects) if subjects else 0
    subjects = subjects[turn:] + subjects[:turn]
    found: list[Scenario] = []
    dealt: Counter[str] = Counter()
    for critical in (True, False):
        group = [s for s in ordered if s.critical is critical]
        places = _deal(group, subjects, plan.scenarios - len(found), dealt)
        dealt += places
        for subject in sorted(places):
            of = [s for s in group if s.subject == subject]
            kind = f"{subject} {critical}"
            few = pooled(of, places[subject], plan.pool, kind)
            found += random.sample(few, places[subject])
    return found


def _deal(
    group: Sequence[Scenario], subjects: Sequence[str], places: int, dealt: Counter[str]
) -> Counter[str]:
    """How many places each subject gets: in turn, who has fewest so far first."""
    left = Counter(s.subject for s in group)
    got: Counter[str] = Counter()
    for _place in range(min(places, len(group))):
        open_ = [s for s in subjects if left[s] > got[s]]
        got[min(open_, key=lambda s: dealt[s] + got[s])] += 1
    return got
