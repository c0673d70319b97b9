"""What somebody has shown, as trials: each with how fresh its parts were just before it.

An answer that the program marked, or a build that a trainer watched, is a trial of what was
remembered until then, and a showing of its parts from then on: the right build is put before the
hire either way. But a part that had been shown before is fresh again only by having it right: so
nobody's figures rise by failing. Nothing is counted twice, and nobody's mark of their own card is
here.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from assessments.measures.orders.population import (
    APART_DAYS,
    FIRMER,
    FIRST_DAYS,
    LONGEST_DAYS,
    Array,
)

Outcome = Literal["right", "ask", "wrong"]
OUTCOMES: dict[str, int] = {"right": 0, "ask": 1, "wrong": 2}
BUILD = 0
"""Choices of a build: there is nothing to pick from."""

Ints = NDArray[np.intp]


@dataclass(frozen=True)
class Menu:
    """For each drink the topics that have to be remembered for it, as numbers from 0."""

    topics: tuple[tuple[int, ...], ...]
    n_topics: int

    @cached_property
    def uses(self) -> NDArray[np.float32]:
        """By topic and drink, 1 where the drink uses it."""
        found = np.zeros((self.n_topics, len(self.topics)), dtype=np.float32)
        for drink, topics in enumerate(self.topics):
            found[list(topics), drink] = 1
        return found


@dataclass(frozen=True)
class Shown:
    """One answer or build: the drink, the topics it used, when (in days), how it came.

    `choices` is how many answers there were to pick from, 0 for a build. `chosen`: a trainer
    picked the drink to be built, so it is no random sample; what guests order is one.
    `counts` is False where no trial is left of it, since the drink has changed or the hire was
    `told`: a trainer showed it to them.
    """

    drink: int
    topics: tuple[int, ...]
    day: float
    outcome: Outcome
    choices: int = BUILD
    chosen: bool = False
    counts: bool = True
    told: bool = False

    @property
    def is_right(self) -> bool:
        return self.told or self.outcome == "right"


@dataclass(frozen=True)
class Trials:
    """Trials of several people on one menu, flat, sorted by person and drink.

    `part` is how much of the drink a trial asked for, 0 to 1; `unseen` how many of its topics had
    never been shown. `ages` are the ages of the other topics in units of their stability; those of
    trial i stand from `starts[i]` on. `last` and `firm` are a person's topics after the last
    trial: when last shown (in days), stability in days, 0 for one never shown.
    """

    people: int
    person: Ints
    drink: Ints
    outcome: Ints
    choices: Array
    part: Array
    unseen: Array
    ages: Array
    starts: Ints
    last: Array
    firm: Array
    chosen: NDArray[np.bool_]


@dataclass(frozen=True)
class _Trial:
    person: int
    shown: Shown
    ages: tuple[float, ...]


def trials(menu: Menu, people: Sequence[Iterable[Shown]]) -> Trials:
    """Everybody's trials, each person's in the order of time."""
    last = np.zeros((len(people), menu.n_topics))
    firm = np.zeros((len(people), menu.n_topics))
    chosen = np.zeros((len(people), len(menu.topics)), dtype=bool)
    found: list[_Trial] = []
    for person, shown in enumerate(people):
        seen = sorted(shown, key=lambda s: s.day)
        found += _replay(person, seen, last[person], firm[person])
        chosen[person, [s.drink for s in seen if s.chosen and s.counts]] = True
    found.sort(key=lambda t: (t.person, t.shown.drink))
    return _flat(menu, found, last, firm, chosen)


def _replay(person: int, shown: Sequence[Shown], last: Array, firm: Array) -> list[_Trial]:
    """The trials of one person; leaves the state of the topics in `last` and `firm`."""
    days: dict[int, float] = {}
    stable: dict[int, float] = {}
    grown: dict[int, float] = {}
    found = []
    for one in shown:
        if one.counts:
            ages = tuple((one.day - days[t]) / stable[t] for t in one.topics if t in days)
            found.append(_Trial(person, one, ages))
        for topic in one.topics:
            if one.is_right or topic not in stable:
                _show(topic, one, stable, grown)
                days[topic] = one.day
    for topic, day in days.items():
        last[topic], firm[topic] = day, stable[topic]
    return found


def _show(topic: int, shown: Shown, stable: dict[int, float], grown: dict[int, float]) -> None:
    if topic not in stable:
        stable[topic], grown[topic] = FIRST_DAYS, shown.day
    elif not shown.told and shown.day - grown[topic] >= APART_DAYS:
        stable[topic] = min(stable[topic] * FIRMER, LONGEST_DAYS)
        grown[topic] = shown.day


def _flat(
    menu: Menu, found: Sequence[_Trial], last: Array, firm: Array, chosen: NDArray[np.bool_]
) -> Trials:
    counts = np.array([len(t.ages) for t in found], dtype=np.intp)
    asked = np.array([len(t.shown.topics) for t in found], dtype=float)
    whole = np.array([len(menu.topics[t.shown.drink]) for t in found], dtype=float)
    return Trials(
        people=len(last),
        person=np.array([t.person for t in found], dtype=np.intp),
        drink=np.array([t.shown.drink for t in found], dtype=np.intp),
        outcome=np.array([OUTCOMES[t.shown.outcome] for t in found], dtype=np.intp),
        choices=np.array([t.shown.choices for t in found], dtype=float),
        part=np.divide(asked, whole, out=np.ones_like(asked), where=whole > 0),
        unseen=asked - counts,
        ages=np.array([a for t in found for a in t.ages], dtype=float),
        starts=np.concatenate([[0], np.cumsum(counts)])[:-1].astype(np.intp),
        last=last,
        firm=firm,
        chosen=chosen,
    )
