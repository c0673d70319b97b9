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
from itertools import groupby
from math import log
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
from assessments.measures.orders.put_right import PutRight

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
    `told`: a trainer showed it to them. `alone` are topics that it asks about by themselves, and
    that no answer about all of a drink shows: see `put_right`.
    """

    drink: int
    topics: tuple[int, ...]
    day: float
    outcome: Outcome
    choices: int = BUILD
    chosen: bool = False
    counts: bool = True
    told: bool = False
    alone: tuple[int, ...] = ()

    @property
    def is_right(self) -> bool:
        return self.told or self.outcome == "right"


@dataclass(frozen=True)
class Trials:
    """Trials of several people on one menu, flat, sorted by person and drink.

    `part` is how much of the drink a trial asked for, 0 to 1; `unseen` how many of its topics had
    never been shown. `ages` are the ages of the other topics in units of their stability; those of
    trial i stand from `starts[i]` on. `lost` is the log of the chance that what had been missed
    among them was known again. `last`, `firm` and `took` are a person's topics after the last
    trial: when last shown (in days), stability in days, 0 for one never shown, and the chance that
    being put right took, 1 where nothing was missed. `chosen`, by person and drink: a trainer
    picked it to be built; `held`: it came right then, the last time (each time of one moment).
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
    lost: Array
    last: Array
    firm: Array
    took: Array
    chosen: NDArray[np.bool_]
    held: NDArray[np.bool_]


@dataclass(frozen=True)
class _Trial:
    person: int
    shown: Shown
    ages: tuple[float, ...]
    lost: float


def moments(shown: Iterable[Shown]) -> list[list[Shown]]:
    """What was shown, in the order of time, all of one moment together: the builds of a watched
    round, the drinks of one call. Those stand in an order that hangs on nothing but themselves, so
    that the same evidence gives the same figures in whatever order it is listed."""
    in_order = sorted(shown, key=_by_time)
    return [list(moment) for _day, moment in groupby(in_order, key=lambda s: s.day)]


def _by_time(one: Shown) -> tuple[object, ...]:
    """Of one moment answers before builds, and wrong ones before right ones: so what was missed
    and made right at once counts as made right."""
    return (
        one.day, one.choices == BUILD, one.is_right, one.choices, one.drink, one.outcome,
        one.topics, one.alone, one.chosen, one.counts, one.told,
    )  # fmt: skip


def trials(menu: Menu, people: Sequence[Iterable[Shown]]) -> Trials:
    """Everybody's trials, each person's in the order of time."""
    last = np.zeros((len(people), menu.n_topics))
    firm = np.zeros((len(people), menu.n_topics))
    took = np.ones((len(people), menu.n_topics))
    chosen = np.zeros((len(people), len(menu.topics)), dtype=bool)
    held = chosen.copy()
    found: list[_Trial] = []
    for person, shown in enumerate(people):
        seen = moments(shown)
        found += _replay(person, seen, last[person], firm[person], took[person])
        for moment in seen:
            picked = [one for one in moment if one.chosen and one.counts]
            for drink in {one.drink for one in picked}:
                chosen[person, drink] = True
                held[person, drink] = all(s.outcome == "right" for s in picked if s.drink == drink)
    found.sort(key=lambda t: (t.person, t.shown.drink))
    return _flat(menu, found, (last, firm, took), (chosen, held))


def _replay(
    person: int, seen: Sequence[Sequence[Shown]], last: Array, firm: Array, took: Array
) -> list[_Trial]:
    """The trials of one person; leaves the state of the topics in `last`, `firm` and `took`. All of
    one moment is judged by what was known before it, and shows together after it."""
    days: dict[int, float] = {}
    stable: dict[int, float] = {}
    grown: dict[int, float] = {}
    put_right = PutRight()
    found = []
    for moment in seen:
        for one in moment:
            if one.counts:
                ages = tuple((one.day - days[t]) / stable[t] for t in one.topics if t in days)
                lost = sum(log(put_right.took(t)) for t in one.topics if t in put_right.odds)
                found.append(_Trial(person, one, ages, lost))
        known = set(days)
        for one in moment:
            for topic in one.topics:
                _put_right(topic, one, topic in known, put_right)
                if one.is_right or topic not in known:
                    _show(topic, one, stable, grown)
                    days[topic] = one.day
    for topic, day in days.items():
        last[topic], firm[topic], took[topic] = day, stable[topic], put_right.took(topic)
    return found


def _put_right(topic: int, shown: Shown, known_before: bool, put_right: PutRight) -> None:
    """What was never shown is shown by being put right the first time, like any other topic."""
    right = shown.outcome == "right"
    if shown.choices == BUILD:
        if right and not shown.told:
            put_right.built(topic)
    elif topic in shown.alone and known_before:
        put_right.answered(topic, right=right, choices=shown.choices)


def _show(topic: int, shown: Shown, stable: dict[int, float], grown: dict[int, float]) -> None:
    if topic not in stable:
        stable[topic], grown[topic] = FIRST_DAYS, shown.day
    elif not shown.told and shown.day - grown[topic] >= APART_DAYS:
        stable[topic] = min(stable[topic] * FIRMER, LONGEST_DAYS)
        grown[topic] = shown.day


def _flat(
    menu: Menu,
    found: Sequence[_Trial],
    topics: tuple[Array, Array, Array],
    picked: tuple[NDArray[np.bool_], NDArray[np.bool_]],
) -> Trials:
    counts = np.array([len(t.ages) for t in found], dtype=np.intp)
    asked = np.array([len(t.shown.topics) for t in found], dtype=float)
    whole = np.array([len(menu.topics[t.shown.drink]) for t in found], dtype=float)
    last, firm, took = topics
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
        lost=np.array([t.lost for t in found], dtype=float),
        last=last,
        firm=firm,
        took=took,
        chosen=picked[0],
        held=picked[1],
    )
