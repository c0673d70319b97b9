"""What to do with whom so that most become ready: the shortest list for one, an hour for several.

Minutes are the trainer's. A step gains orders of a hundred on average; the low end of the interval
is taken to rise by as much, which is careful, since a step that is watched also tells more.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True)
class Step:
    """Something to do with a hire: `gain` is the share of all orders that it adds, 0 to 1.
    `must`: nobody is ready without it (a sign-off that is missing). `first`: it was shown already,
    and only the word is missing, so it comes before all else."""

    name: str
    minutes: int
    gain: float
    must: bool = False
    first: bool = False

    def __post_init__(self) -> None:
        if self.minutes < 1 or self.gain < 0:
            raise ValueError(f"{self.name}: a step takes a minute or more and loses no order")

    @property
    def a_minute(self) -> float:
        return self.gain / self.minutes


@dataclass(frozen=True)
class Hire:
    """`short` is the share of orders that is missing to the bar; 0 or less where none is. `barred`:
    something is missing that no step mends, so that none makes them ready."""

    person: str
    short: float
    steps: tuple[Step, ...]
    barred: bool = False


@dataclass(frozen=True)
class Part:
    """What to do with one hire, what gains most a minute first. `ready`: it takes them over."""

    person: str
    steps: tuple[Step, ...]
    ready: bool

    @property
    def minutes(self) -> int:
        return sum(s.minutes for s in self.steps)


def shortest(hire: Hire) -> Part | None:
    """The fewest minutes that take somebody over the line, None where no step is enough.

    Exact: of all sets of steps that gain as much, none takes less time.
    """
    if hire.barred:
        return None
    must = [s for s in hire.steps if s.must]
    free = [s for s in hire.steps if not s.must and s.gain > 0]
    left = hire.short - sum(s.gain for s in must)
    chosen = _cover(free, left)
    if chosen is None:
        return None
    return Part(hire.person, _ordered([*must, *chosen]), ready=True)


def _ordered(steps: Sequence[Step]) -> tuple[Step, ...]:
    return tuple(sorted(steps, key=lambda s: (not s.first, -s.a_minute, s.minutes, s.name)))


CLOSE = 1e-9


def _cover(steps: Sequence[Step], gain: float) -> list[Step] | None:
    """The steps of fewest minutes that gain at least so much: the most that each number of
    minutes can gain, step after step, then the first number that gains enough."""
    if gain <= CLOSE:
        return []
    best, taken = _most_in(steps, sum(s.minutes for s in steps))
    enough = np.flatnonzero(best >= gain - CLOSE)
    return _walked_back(steps, taken, int(enough[0])) if len(enough) else None


def _most_in(
    steps: Sequence[Step], minutes: int
) -> tuple[NDArray[np.float64], list[NDArray[np.bool_]]]:
    """The most that 0, 1, 2 ... minutes gain, and by step whether the last one takes it."""
    best = np.zeros(minutes + 1)
    taken = []
    for step in steps:
        with_it = np.full_like(best, -1.0)
        with_it[step.minutes :] = best[: len(best) - step.minutes] + step.gain
        taken.append(with_it > best + CLOSE)
        best = np.maximum(best, with_it)
    return best, taken


def _walked_back(
    steps: Sequence[Step], taken: Sequence[NDArray[np.bool_]], minutes: int
) -> list[Step]:
    found = []
    for step, takes in zip(reversed(steps), reversed(taken), strict=True):
        if takes[minutes]:
            found.append(step)
            minutes -= step.minutes
    return found


def plan_hour(hires: Sequence[Hire], minutes: int = 60) -> tuple[Part, ...]:
    """What a trainer does with whom in so many minutes, so that as many as can be become ready.

    Each one's shortest list is what it takes, so those who need least come first and no other
    choice makes more ready. What time is left goes to the steps that gain most orders a minute,
    one after the other, with whoever isn't over the line yet; with those who are barred only where
    all are. Who is ready already gets nothing.
    """
    wanting = [h for h in hires if h.barred or h.short > CLOSE or any(s.must for s in h.steps)]
    lists = [part for h in wanting if (part := shortest(h))]
    chosen: list[Part] = []
    for part in sorted(lists, key=lambda p: (p.minutes, p.person)):
        if part.minutes <= minutes:
            chosen.append(part)
            minutes -= part.minutes
    over = {p.person for p in chosen}
    open_to = [h for h in wanting if not h.barred] or wanting
    return (*chosen, *_rest([h for h in open_to if h.person not in over], minutes))


def _rest(hires: Sequence[Hire], minutes: int) -> tuple[Part, ...]:
    """Time that makes nobody ready: what was shown already and the orders it gains."""
    steps = [(h.person, s) for h in hires for s in h.steps if s.first or s.gain > 0]
    steps.sort(key=lambda pair: (not pair[1].first, -pair[1].a_minute, pair[0], pair[1].name))
    found: dict[str, list[Step]] = {}
    for person, step in steps:
        if step.minutes <= minutes:
            found.setdefault(person, []).append(step)
            minutes -= step.minutes
    return tuple(Part(person, tuple(done), ready=False) for person, done in found.items())
