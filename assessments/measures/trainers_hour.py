"""What to do with whom so that most become ready: the shortest list for one, an hour for several.

Minutes are the trainer's: of a build those until it comes right. A step gains orders of a hundred
on average; the low end of the interval is taken to rise by as much, which is careful, since a step
that is watched also tells more. What has to be won where too much goes out wrong is more than that:
not all that is won was wrong.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate, zip_longest
from typing import Any, NamedTuple, Self

import numpy as np
from numpy.typing import NDArray

BUILD_MINUTES = 4
"""To ask for a drink, watch it built and talk about it (our own choice, no source)."""


def build_minutes(comes_right: float) -> int:
    """What a build is expected to take that comes right with this chance, 0 to 1: once, and once
    again as likely as it comes wrong. Simulated hires take as long (see the tests)."""
    return round(BUILD_MINUTES * (2 - comes_right))


class _Step(NamedTuple):
    name: str
    minutes: int
    gain: float
    must: bool = False
    first: bool = False


class Step(_Step):
    """Something to do with a hire: `gain` is the share of all orders that it adds, 0 to 1.
    `must`: nobody is ready without it (a sign-off that is missing, a pour or a pace check).
    `first`: it was shown already, and only the word is missing, so it comes before all else.

    A tuple, since an hour looks at thousands.
    """

    __slots__ = ()

    def __new__(cls, *args: Any, **said: Any) -> Self:
        step = super().__new__(cls, *args, **said)
        if step.minutes < 1 or step.gain < 0:
            raise ValueError(f"{step.name}: a step takes a minute or more and loses no order")
        return step

    @classmethod
    def build(cls, name: str, minutes: int, gain: float) -> Self:
        """One of thousands that gain something; nothing is checked."""
        return tuple.__new__(cls, (name, minutes, gain, False, False))

    @property
    def a_minute(self) -> float:
        return self.gain / self.minutes


@dataclass(frozen=True)
class Hire:
    """`short` is the share of orders that is missing to the bar; 0 or less where none is. `barred`:
    something is missing that no step mends, so that none makes them ready. No two steps have the
    same name."""

    person: str
    short: float
    steps: tuple[Step, ...]
    barred: bool = False

    @cached_property
    def fewest(self) -> tuple[Step, ...] | None:
        """Those that take them over in the fewest minutes, whether or not something else bars them;
        None where all are not enough."""
        must = [s for s in self.steps if s.must]
        free = [s for s in self.steps if not s.must and s.gain > 0]
        chosen = _cover(free, self.short - sum(s.gain for s in must))
        return None if chosen is None else (*must, *chosen)


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
    steps = None if hire.barred else hire.fewest
    return None if steps is None else Part(hire.person, _ordered(steps), ready=True)


def _ordered(steps: Sequence[Step]) -> tuple[Step, ...]:
    return tuple(sorted(steps, key=lambda s: (not s.first, -s.a_minute, s.minutes, s.name)))


CLOSE = 1e-9


def _cover(steps: Sequence[Step], gain: float) -> list[Step] | None:
    """The steps of fewest minutes that gain at least so much: the most that each number of minutes
    can gain, step after step, then the first number that gains enough. No more minutes are looked
    at than it takes with those that gain most a minute: where all take as long, none are better."""
    if gain <= CLOSE:
        return []
    few = _first_few(steps, gain)
    if few is None or len({s.minutes for s in steps}) == 1:
        return few
    most = sum(s.minutes for s in few)
    steps = [s for s in steps if s.minutes <= most]
    best, taken = _most_in(steps, most)
    return _walked_back(steps, taken, int(np.flatnonzero(best >= gain - CLOSE)[0]))


def _first_few(steps: Sequence[Step], gain: float) -> list[Step] | None:
    """Enough of those that gain most a minute."""
    in_order = sorted(steps, key=lambda s: (-s.a_minute, -s.gain, s.name))
    for many, gained in enumerate(accumulate(s.gain for s in in_order), start=1):
        if gained >= gain - CLOSE:
            return in_order[:many]
    return None


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

    What counts, each point only where those above it are a tie:

    1. How many become ready. Each one's shortest list is what it takes, so those who need least
       come first and no other choice makes more ready.
    2. How many words are given for what was shown already, to whomever.
    3. How many can be ready after two such hours, after three and so on: whoever needs least gets
       so much that no hour is lost on the way (`_shares`). With one hire, sign-offs that are
       missing come first, then checks, then the other steps of the shortest list; of each kind
       those that gain most orders a minute.
    4. With how many it is spent: what makes nobody ready an hour sooner is dealt in turn, a step
       to each, those who need least first.
    5. What barred hires miss beside what bars them, dealt as in 3 and 4.

    The first two are as good as can be, and so are 3 and 4 where steps that aren't a word take
    equally long; where they don't an hour may hold a step less than it might, and somebody
    be ready an hour later. Nobody gets what isn't missing, so that time may stay over. Who is ready
    already gets none.
    """
    hour = minutes
    wanting = [h for h in hires if h.barred or h.short > CLOSE or any(s.must for s in h.steps)]
    lists = [part for h in wanting if (part := shortest(h))]
    chosen: list[Part] = []
    for part in sorted(lists, key=lambda p: (p.minutes, p.person)):
        if part.minutes <= minutes:
            chosen.append(part)
            minutes -= part.minutes
    over = {p.person for p in chosen}
    rest = [h for h in wanting if h.person not in over]
    return (*chosen, *_rest(rest, minutes, hour))


@dataclass(frozen=True)
class _Way:
    """What lies between a hire and ready, in the order in which to do it. `ends`: it is enough."""

    hire: Hire
    steps: tuple[Step, ...]
    ends: bool

    @property
    def nearness(self) -> tuple[bool, bool, int, float, str]:
        """Those whom steps take there before those whom they don't; then who needs least."""
        needed = self.steps if self.ends else [s for s in self.steps if s.must]
        total = sum(s.minutes for s in needed)
        return self.hire.barred, not self.ends, total, self.hire.short, self.hire.person


def _way(hire: Hire) -> _Way:
    """The shortest list; where no list is enough, all that is missing or gains."""
    fewest = hire.fewest
    every = [s for s in hire.steps if s.must or s.gain > 0] if fewest is None else fewest
    steps = sorted(every, key=lambda s: (not s.first, not s.must, -s.a_minute, s.minutes, s.name))
    return _Way(hire, tuple(steps), fewest is not None)


def _rest(hires: Sequence[Hire], minutes: int, hour: int) -> tuple[Part, ...]:
    """Time that makes nobody ready, in the order that `plan_hour` says."""
    ways = sorted(map(_way, hires), key=lambda way: way.nearness)
    words = [(way.hire.person, s) for way in ways for s in way.hire.steps if s.first]
    left = {way.hire.person: [s for s in way.steps if not s.first] for way in ways}
    found: dict[str, list[Step]] = defaultdict(list)
    minutes = _take(words, minutes, found)
    for barred in (False, True):
        dealt_to = [way for way in ways if way.hire.barred is barred]
        minutes = _take(_shares(dealt_to, left, minutes, hour), minutes, found)
        minutes = _take(_in_turn(_open(dealt_to, left, found)), minutes, found)
    with_some = [way.hire.person for way in ways if found[way.hire.person]]
    return tuple(Part(person, tuple(found[person]), ready=False) for person in with_some)


def _open(
    ways: Sequence[_Way], left: Mapping[str, Sequence[Step]], found: Mapping[str, Sequence[Step]]
) -> dict[str, list[Step]]:
    """What is yet to be done, by person."""
    people = [way.hire.person for way in ways]
    return {p: [s for s in left[p] if s not in found[p]] for p in people}


Turns = Iterable[tuple[str, Step]]


def _take(turns: Turns, minutes: int, found: dict[str, list[Step]]) -> int:
    """One after the other as long as it fits; the minutes that are left."""
    for person, step in turns:
        if step.minutes <= minutes:
            found[person].append(step)
            minutes -= step.minutes
    return minutes


def _shares(
    ways: Sequence[_Way], left: Mapping[str, Sequence[Step]], minutes: int, hour: int
) -> Iterator[tuple[str, Step]]:
    """The least that each needs now, so that as many as can be are ready after every further hour:
    those who need least, taken together, may leave no more than whole hours hold."""
    needed: Counter[int] = Counter()
    given = 0
    for way in ways:
        steps = left[way.hire.person]
        if not way.ends or any(s.minutes > hour for s in steps):
            continue
        needed.update(s.minutes for s in steps)
        now = _left_over(needed, minutes, hour)
        for step in steps:
            if given >= now:
                break
            if given + step.minutes <= minutes:
                given += step.minutes
                yield way.hire.person, step


def _left_over(needed: Mapping[int, int], minutes: int, hour: int) -> int:
    """Of so many steps by their minutes, how many minutes are left once as few further hours as can
    be are filled, the longest steps first, so that the rest fits into `minutes`. No step is longer
    than an hour."""
    open_ = dict(sorted(needed.items(), reverse=True))
    while (over := sum(m * many for m, many in open_.items())) > minutes:
        room = hour
        for m, many in open_.items():
            fits = min(many, room // m)
            open_[m] -= fits
            room -= m * fits
    return over


def _in_turn(left: Mapping[str, Sequence[Step]]) -> Iterator[tuple[str, Step]]:
    """A step to each, and then another."""
    for steps in zip_longest(*([(p, s) for s in of] for p, of in left.items())):
        yield from filter(None, steps)
