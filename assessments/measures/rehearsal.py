"""Three weeks of learning rehearsed: the planner against the same drinks in rotation.

Invented hires (`invented_hire`), whose memory is not the scheduler's model, study so many minutes a
day. Each is told by `shift_plan` what to turn next, and has a twin who goes through the same
must-knows round and round. The day after, at the hour of the shift, every drink is asked in every
aspect; that test teaches nothing. Recall is the share of drinks that come right, on average over
the test's luck; what the program stated is held against single outcomes, luck and all.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import cycle

import numpy as np
from numpy.typing import NDArray

from assessments.measures.chances import Chances
from assessments.measures.invented_hire import Answered, InventedHire
from assessments.measures.memory import TopicMemory, review
from assessments.measures.pace import Pace
from assessments.measures.shift_plan import plan_cards
from assessments.measures.stated import AT_FIRST, line_after
from recipes.grammar.aspects import Aspect
from recipes.grammar.drink import Drink

BEGINS = datetime(2026, 3, 2, 15, tzinfo=UTC)
"""Study is at three in the afternoon, the shift and the test at the same hour of the next day."""
A_DAY = timedelta(days=1)
WANTED = 0.9
PLANS_S = 60
"""A plan is made for the next minute, then anew with what was answered."""
CREW = 4
"""So many hires are rehearsed, each with a twin: one alone may be odd."""
DAY_S = 86400.0


@dataclass(frozen=True)
class Stated:
    """One drink on one day: the chance that the program gave it, and whether it came right."""

    chance: float
    right: bool


@dataclass(frozen=True)
class Learned:
    """By day, from the first: the share of the drinks known the day after, and minutes studied so
    far. `stated` where the program says what it thinks."""

    recall: tuple[float, ...]
    minutes: tuple[float, ...]
    stated: tuple[Stated, ...] = ()

    @property
    def minutes_to_wanted(self) -> float | None:
        """Minutes studied until nine in ten are known the day after, along the line between one
        day's end and the next; None: never."""
        before, spent = 0.0, 0.0
        for recall, minutes in zip(self.recall, self.minutes, strict=True):
            if recall >= WANTED:
                return spent + (minutes - spent) * (WANTED - before) / (recall - before)
            before, spent = recall, minutes
        return None

    @classmethod
    def together(cls, several: Sequence["Learned"]) -> "Learned":
        """Several hires on average, day by day."""
        return cls(
            tuple(np.mean([one.recall for one in several], axis=0).tolist()),
            tuple(np.mean([one.minutes for one in several], axis=0).tolist()),
            tuple(stated for one in several for stated in one.stated),
        )


class Student:
    """What the program knows of a hire: only what they answered."""

    def __init__(self, drinks: Sequence[Drink]) -> None:
        self.drinks = drinks
        self.memories: dict[str, TopicMemory] = {}
        self.pace, self.line = Pace(), AT_FIRST
        self._planned: list[int] = []
        self._row = {d.slug: n for n, d in enumerate(drinks)}

    def next_card(self, at: datetime) -> int | None:
        """The next of the plan for the shift at the same hour of the next day; the plan is made
        anew after a few cards."""
        if not self._planned:
            shift = BEGINS + ((at - BEGINS).days + 1) * A_DAY
            cards = plan_cards(
                drinks=self.drinks, memories=self.memories, otherwise={}, at=at, shift=shift,
                seconds=PLANS_S, line=self.line,
            )  # fmt: skip
            self._planned = [self._row[card.drink] for card in cards]
        return self._planned.pop(0) if self._planned else None

    def note(self, drink: int, answered: Answered, at: datetime) -> None:
        topics = self.drinks[drink].topics
        all_right, asked = bool(answered.right.all()), [t.fingerprint for t in topics]
        self.line = line_after(self.line, asked, self.memories, all_right, at)
        slow = self.pace.is_slow(answered.milliseconds)
        self.pace = self.pace.then(answered.milliseconds)
        was_right = dict(zip(Aspect, answered.right, strict=True))
        for topic in topics:
            self.memories[topic.fingerprint] = review(
                self.memories.get(topic.fingerprint), fingerprint=topic.fingerprint,
                right=bool(was_right[topic.aspect]), at=at, slow=slow,
            )  # fmt: skip

    def stated(self, at: datetime) -> NDArray[np.float64]:
        """The chance of each drink being right, as the program states it."""
        return Chances(self.drinks, self.memories, at, at, self.line).right


@dataclass(frozen=True)
class Rehearsal:
    """Both ways through the same must-knows, by hires who began alike."""

    must_knows: int
    planned: Learned
    in_rotation: Learned

    @property
    def brier(self) -> float:
        """The mean square of stated chance minus outcome: 0 is clairvoyant, 0.25 a coin."""
        return float(np.mean([(s.chance - s.right) ** 2 for s in self.planned.stated]))

    @property
    def reliability(self) -> tuple["Bin", ...]:
        """Tenths of the stated chance, each with what was stated and what came, on average."""
        found: dict[int, list[Stated]] = {}
        for stated in self.planned.stated:
            found.setdefault(min(9, int(10 * stated.chance)), []).append(stated)
        return tuple(Bin.of(found[n]) for n in sorted(found))


@dataclass(frozen=True)
class Bin:
    stated: float
    came: float
    count: int

    @classmethod
    def of(cls, several: Sequence[Stated]) -> "Bin":
        return cls(
            float(np.mean([s.chance for s in several])),
            float(np.mean([s.right for s in several])),
            len(several),
        )


def rehearse(drinks: Sequence[Drink], *, days: int, minutes: float, seed: int) -> Rehearsal:
    """Raises ValueError where there is nothing to learn or no time to learn it in."""
    if not drinks or days < 1 or minutes <= 0:
        raise ValueError("a rehearsal takes drinks, days and minutes")
    crew = [[seed, number] for number in range(CREW)]
    return Rehearsal(
        must_knows=len(drinks),
        planned=Learned.together([_planned(drinks, days, minutes, who) for who in crew]),
        in_rotation=Learned.together([_in_rotation(drinks, days, minutes, who) for who in crew]),
    )


def _planned(drinks: Sequence[Drink], days: int, minutes: float, who: list[int]) -> Learned:
    hire, student = _hire(drinks, who), Student(drinks)
    examiner = np.random.default_rng([*who, 1])
    recall, studied, stated = [], [], []
    for day in range(days):
        seconds = _study(hire, day, 60 * minutes, student.next_card, student.note)
        chances = hire.knows(day + 1.0)
        recall.append(float(chances.mean()))
        studied.append(seconds / 60)
        came = examiner.random(len(drinks)) < chances
        said = student.stated(BEGINS + (day + 1) * A_DAY)
        stated += [Stated(float(s), bool(c)) for s, c in zip(said, came, strict=True)]
    return Learned(tuple(recall), tuple(np.cumsum(studied).tolist()), tuple(stated))


def _in_rotation(drinks: Sequence[Drink], days: int, minutes: float, who: list[int]) -> Learned:
    """Round and round in the order of the course; who is through begins again."""
    hire, turns = _hire(drinks, who), cycle(range(len(drinks)))
    recall, studied = [], []
    for day in range(days):
        seconds = _study(hire, day, 60 * minutes, lambda _at: next(turns), _no_note)
        recall.append(float(hire.knows(day + 1.0).mean()))
        studied.append(seconds / 60)
    return Learned(tuple(recall), tuple(np.cumsum(studied).tolist()))


def _hire(drinks: Sequence[Drink], who: list[int]) -> InventedHire:
    return InventedHire(drinks, np.random.default_rng(who))


def _study(
    hire: InventedHire,
    day: int,
    seconds: float,
    pick: Callable[[datetime], int | None],
    note: Callable[[int, Answered, datetime], None],
) -> float:
    """One day's cards until the time is up or nothing is left to turn; the seconds it took."""
    taken = 0.0
    while taken < seconds:
        at = BEGINS + timedelta(days=day, seconds=taken)
        drink = pick(at)
        if drink is None:
            break
        answered = hire.turn(drink, day + taken / DAY_S)
        taken += answered.seconds
        note(drink, answered, at)
    return taken


def _no_note(_drink: int, _answered: Answered, _at: datetime) -> None:
    """In rotation nobody minds what was right."""
