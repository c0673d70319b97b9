"""Hires who don't exist, in a house that doesn't either: what each is truly worth is known.

Written apart from the model that judges them: nothing here comes from `orders`, not even the curve
of forgetting. A fortnight: a module a day is read and asked about, trainers watch builds of what
looks weak, guests order the rest. Then a shift.
"""

from dataclasses import asdict, dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Flags = NDArray[np.bool_]

RIGHT, ASK, WRONG = 0, 1, 2

MINUTE = 1 / 1440
"""In days, between one answer or build and the next: each is shown before the next one comes."""


@dataclass(frozen=True)
class World:
    """How hires, marks and evidence are. The pairs are mean and standard deviation between hires:
    of the log of how many times as fast as the schedule they forget; of `holds` and `executes` as
    arguments of the normal distribution function; of the rest in log-odds, of
    wrong marks as a part of the most that anybody gives. `put_right` is the
    chance that what somebody knew once and had wrong is fresh again once they were put right."""

    forgets: tuple[float, float] = (-0.8, 0.9)
    holds: tuple[float, float] = (1.6, 1.4)
    reads: tuple[float, float] = (1.0, 0.8)
    executes: tuple[float, float] = (2.3, 0.4)
    asks: tuple[float, float] = (0.0, 1.0)
    wrong_marks: tuple[float, float] = (-1.63, 1.1)
    most_wrong_marks: float = 0.25
    drinks_differ: float = 0.4
    weak_is_watched: float = 2.0
    modules: int = 5
    drinks_a_module: int = 10
    quiz_days: int = 10
    answers_a_day: int = 15
    whole_drinks: float = 0.7
    choices: int = 4
    watched: int = 14
    spot_marks: int = 6
    first_stable_days: float = 2.3
    firmer: float = 3.5
    longest_days: float = 60.0
    put_right: float = 0.0
    shift_day: float = 12.9

    def parameters(self) -> dict[str, Any]:
        return asdict(self)


MODEL = World()
TWICE = float(np.log(2))
WORLDS = {
    "model": MODEL,
    "fast": replace(MODEL, forgets=(MODEL.forgets[0] + TWICE, MODEL.forgets[1])),
    "slow": replace(MODEL, forgets=(MODEL.forgets[0] - TWICE, MODEL.forgets[1])),
    "noisy": replace(MODEL, wrong_marks=(float(np.log(2 / 3)), 0.0)),
    "told": replace(MODEL, put_right=1.0),
}


@dataclass(frozen=True)
class SimulatedMenu:
    """Topics of each drink, as numbers: four of the house's rules, then two or three of its own;
    `aspects` are those that a question asks about. `sales` sum to 1."""

    topics: tuple[tuple[int, ...], ...]
    aspects: tuple[tuple[tuple[int, ...], ...], ...]
    module: Ints
    n_topics: int
    sales: Floats


@dataclass(frozen=True)
class Seen:
    """What came of one moment, for everybody: an array has one entry a hire. `asked` are the
    topics, padded with -1; `choices` is 0 for a build."""

    day: float
    drink: Ints
    asked: Ints
    choices: int
    chosen: bool
    outcome: Ints


@dataclass(frozen=True)
class House:
    """`right` and `ask` are the shares of orders that each would truly build right or ask about on
    the shift."""

    menu: SimulatedMenu
    seen: tuple[Seen, ...]
    right: Floats
    ask: Floats


def simulate(world: World, people: int, seed: int) -> House:
    hires, seen = fortnight(world, people, seed)
    return House(hires.menu, seen, *hires.truth(world.shift_day))


def fortnight(world: World, people: int, seed: int) -> tuple["Hires", tuple[Seen, ...]]:
    """Hires as they are after it, who can go on from there, and what came of it."""
    random = np.random.default_rng([seed, people])
    hires = Hires(world, _menu(world, random), people, random)
    seen = []
    for day in range(world.quiz_days):
        evening = day + 2 * (day // 5) + 0.7  # two days off after five
        seen += [
            hires.answers(evening + n * MINUTE, day % world.modules)
            for n in range(world.answers_a_day)
        ]
        seen += hires.builds(evening + 0.2, day)
    return hires, tuple(seen)


def _menu(world: World, random: np.random.Generator) -> SimulatedMenu:
    topics, aspects = [], []
    module = np.repeat(np.arange(world.modules), world.drinks_a_module)
    n_topics = 1 + 3 * world.modules  # one pour for all; glass, ice and build by module
    for of in module:
        own = tuple(range(n_topics, n_topics + int(random.integers(2, 4))))
        n_topics += len(own)
        glass, ice, build = (1 + 3 * int(of) + n for n in range(3))
        topics.append((0, glass, ice, build, *own))
        aspects.append(((0, own[0]), *((t,) for t in own[1:]), (ice, build)))
    sales = (1 + random.permutation(len(module))) ** -0.7
    return SimulatedMenu(tuple(topics), tuple(aspects), module, n_topics, sales / sales.sum())


class Hires:
    """Everybody's heads, hands and habits, moving through the fortnight in step."""

    def __init__(
        self, world: World, menu: SimulatedMenu, people: int, random: np.random.Generator
    ) -> None:
        self.world, self.menu, self.random = world, menu, random
        self.all = np.arange(people)
        self.times = np.exp(self._drawn(world.forgets))
        self.differs = random.normal(0, world.drinks_differ, (people, len(menu.topics)))
        self.holds = ndtr(self._drawn(world.holds)[:, None] + self.differs)
        self.reads = _chance(self._drawn(world.reads))
        self.executes = ndtr(self._drawn(world.executes))
        self.asks = _chance(self._drawn(world.asks))
        self.wrong_marks = world.most_wrong_marks * _chance(self._drawn(world.wrong_marks))
        self.last = np.full((people, menu.n_topics), np.nan)
        self.grown = np.full((people, menu.n_topics), np.nan)
        self.stable = np.full((people, menu.n_topics), np.nan)

    def _drawn(self, spread: tuple[float, float]) -> Floats:
        return self.random.normal(*spread, len(self.all))

    def answers(self, day: float, module: int) -> Seen:
        """Everybody answers a question on a drink of the module, whole or about one aspect."""
        drinks = self.random.choice(np.flatnonzero(self.menu.module == module), len(self.all))
        whole = self.random.random(len(self.all)) < self.world.whole_drinks
        asked = [
            self.menu.topics[d] if w else self._aspect(d)
            for d, w in zip(drinks, whole, strict=True)
        ]
        return self._happens(day, drinks, _padded(asked), self.world.choices, chosen=False)

    def _aspect(self, drink: int) -> tuple[int, ...]:
        of = self.menu.aspects[drink]
        return of[self.random.integers(len(of))]

    def builds(self, day: float, number: int) -> list[Seen]:
        """This day's part of the watched builds, then of the spot marks."""
        watched = _part(self.world.watched, number, self.world.quiz_days)
        spots = _part(self.world.spot_marks, number, self.world.quiz_days)
        return [self._build(day + n * MINUTE, chosen=True) for n in range(watched)] + [
            self._build(day + 0.1 + n * MINUTE, chosen=False) for n in range(spots)
        ]

    def _build(self, day: float, *, chosen: bool) -> Seen:
        """A trainer chooses what looks weak; guests order what sells."""
        weight = np.exp(-self.world.weak_is_watched * self.differs) if chosen else self.menu.sales
        return self.build(
            day, self._pick(np.broadcast_to(weight, self.differs.shape)), chosen=chosen
        )

    def build(self, day: float, drinks: Ints, *, chosen: bool) -> Seen:
        """Each builds a drink, by its number; of whoever has -1 nothing came."""
        asked = _padded([self.menu.topics[d] if d >= 0 else () for d in drinks])
        return self._happens(day, drinks, asked, 0, chosen=chosen)

    def _pick(self, weight: Floats) -> Ints:
        sums = np.cumsum(weight, axis=1)
        at = self.random.random(len(self.all)) * sums[:, -1]
        found: Ints = (sums < at[:, None]).sum(axis=1)
        return found

    def _happens(
        self, day: float, drinks: Ints, asked: Ints, choices: int, *, chosen: bool
    ) -> Seen:
        chance = self._recall(day, drinks, asked)
        remembers = self.random.random(len(self.all)) < chance
        outcome = self._tries(remembers, choices)
        self._is_shown(day, asked, outcome == RIGHT)
        return Seen(day, drinks, asked, choices, chosen, self._mark(outcome))

    def _recall(self, day: float, drinks: Ints, asked: Ints) -> Floats:
        """The chance to remember all that is asked about."""
        used = asked >= 0
        at = self.all[:, None], np.where(used, asked, 0)
        curve = (0.9 ** (-1 / 0.1542) - 1, -0.1542)  # the published curve and its default decay
        age = (day - self.last[at]) * self.times[:, None] / self.stable[at]
        kept = (1 + curve[0] * np.nan_to_num(age)) ** curve[1]
        each = np.where(np.isnan(self.last[at]), self.reads[:, None], kept)
        whole = np.array([len(self.menu.topics[d]) for d in drinks])
        part = used.sum(axis=1) / whole
        found: Floats = self.holds[self.all, drinks] ** part * np.where(used, each, 1.0).prod(
            axis=1
        )
        return found

    def _tries(self, remembers: Flags, choices: int) -> Ints:
        asks = self.random.random(len(self.all)) < self.asks
        hand = self.random.random(len(self.all))
        lucky = hand * choices < 1 if choices else np.zeros_like(asks)
        knows = np.where(remembers, (choices > 0) | (hand < self.executes), lucky)
        found: Ints = np.where(~remembers & asks, ASK, np.where(knows, RIGHT, WRONG))
        return found

    def _mark(self, outcome: Ints) -> Ints:
        off = self.random.random(len(self.all)) < self.wrong_marks
        either = np.where(self.random.random(len(self.all)) < 0.5, RIGHT, WRONG)
        other = np.where(outcome == ASK, either, np.where(outcome == RIGHT, WRONG, RIGHT))
        found: Ints = np.where(off, other, outcome)
        return found

    def _is_shown(self, day: float, asked: Ints, right: Flags) -> None:
        """The right build is put before everybody. What they had right is fresh, and firmer on a
        new day; what they had wrong is learned by whoever had never seen it, and by those whom
        being put right helps."""
        helped = self.random.random(len(self.all)) < self.world.put_right
        for column in asked.T:
            hire = np.flatnonzero(column >= 0)
            at = hire, column[hire]
            new = np.isnan(self.last[at])
            firmer = ~new & right[hire] & (day - np.nan_to_num(self.grown[at]) >= 0.5)
            grown = np.minimum(self.stable[at] * self.world.firmer, self.world.longest_days)
            start = self.world.first_stable_days
            fresh = new | (right | helped)[hire]
            self.stable[at] = np.where(new, start, np.where(firmer, grown, self.stable[at]))
            self.grown[at] = np.where(new | firmer, day, self.grown[at])
            self.last[at] = np.where(fresh, day, self.last[at])

    def truth(self, day: float) -> tuple[Floats, Floats]:
        recalls = np.zeros(len(self.all))
        for drink, share in enumerate(self.menu.sales):
            drinks = np.full(len(self.all), drink)
            asked = np.tile(self.menu.topics[drink], (len(self.all), 1))
            recalls += share * self._recall(day, drinks, asked)
        return recalls * self.executes, (1 - recalls) * self.asks


def _chance(odds: Floats) -> Floats:
    found: Floats = 1 / (1 + np.exp(-odds))
    return found


def _padded(rows: list[tuple[int, ...]]) -> Ints:
    found = np.full((len(rows), max(map(len, rows))), -1, dtype=np.intp)
    for row, topics in zip(found, rows, strict=True):
        row[: len(topics)] = topics
    return found


def _part(whole: int, number: int, of: int) -> int:
    """How many of `whole` fall on day `number` of `of`, spread evenly."""
    return whole * (number + 1) // of - whole * number // of
