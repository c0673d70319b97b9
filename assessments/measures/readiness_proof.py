"""How well readiness is told in simulated houses, where the truth is known."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from assessments.measures.orders import (
    POPULATION,
    Menu,
    Shown,
    fit,
    forecast,
    trials,
)
from assessments.measures.simulated_hires import WORLDS, Flags, Floats, House, simulate

BAR = 0.7
"""The bar a house begins with: at least so many right, at the low end."""

ABOVE = 0.1
OUTCOMES = ("right", "ask", "wrong")


@dataclass(frozen=True)
class Told:
    """What is told of each hire of a simulated house, an array with one entry a hire: `right`, the
    mean of orders right, and the interval's ends; shares from 0 to 1. Their truth is the house's.
    """

    house: House
    right: Floats
    low: Floats
    high: Floats

    @property
    def called(self) -> Flags:
        """Who is called ready by orders alone: whose low end is at the bar."""
        found: Flags = self.low >= BAR
        return found

    @property
    def answers(self) -> int:
        """On record of each."""
        return sum(one.choices > 0 for one in self.house.seen)

    @property
    def builds(self) -> int:
        """On record of each, watched or marked in service."""
        return len(self.house.seen) - self.answers


@dataclass(frozen=True)
class Proof:
    people: int
    truth_p10: float
    truth_p90: float
    covered_share: float
    mean_width: float
    best_constant_width: float
    ready_below_bar_share: float | None
    ready_found_share: float | None
    parameters: dict[str, Any]


def tell(people: int, seed: int, world: str) -> Told:
    """Simulate and judge. Raises KeyError for a world that there is none of."""
    house = simulate(WORLDS[world], people, seed)
    return Told(house, *judge_all(house, WORLDS[world].shift_day))


def prove(people: int, seed: int, world: str) -> Proof:
    """Simulate, judge, compare. Raises KeyError for a world that there is none of."""
    return compare(tell(people, seed, world), seed, world)


def compare(told: Told, seed: int, world: str) -> Proof:
    """What was told with the truth.

    The best constant interval is the narrowest that, the same for everybody, holds nine in ten
    truths. `ready_below_bar_share`: of those whose low end is at the bar, how many are truly below
    it; `ready_found_share`: of those truly .10 above, how many are called ready. None where nobody
    is.
    """
    low, high, called, truth = told.low, told.high, told.called, told.house.right
    return Proof(
        people=len(truth),
        truth_p10=float(np.quantile(truth, 0.1)),
        truth_p90=float(np.quantile(truth, 0.9)),
        covered_share=float(((low <= truth) & (truth <= high)).mean()),
        mean_width=float((high - low).mean()),
        best_constant_width=_narrowest(truth),
        ready_below_bar_share=_mean((truth < BAR)[called]),
        ready_found_share=_mean(called[truth >= BAR + ABOVE]),
        parameters={
            "world": WORLDS[world].parameters(),
            "model": vars(POPULATION),
            "bar": BAR,
            "seed": seed,
        },
    )


AT_A_TIME = 50
"""People: so many fit a processor's cache, and the whole takes half as long."""


def judge_all(house: House, day: float) -> tuple[Floats, Floats, Floats]:
    """The mean, the low and the high end of right, for everybody."""
    menu = Menu(house.menu.topics, house.menu.n_topics)
    people = range(len(house.right))
    parts = []
    for first in people[::AT_A_TIME]:
        shown = [shown_of(house, hire) for hire in people[first : first + AT_A_TIME]]
        right = forecast(fit(trials(menu, shown)), menu, house.menu.sales, day).right
        parts.append((right.mean, right.low, right.high))
    mean, low, high = (np.concatenate(of) for of in zip(*parts, strict=True))
    return mean, low, high


def shown_of(house: House, hire: int) -> list[Shown]:
    """What the house has on record of one hire; the truth is not on it."""
    return [
        Shown(
            drink=int(one.drink[hire]),
            topics=tuple(t for t in one.asked[hire].tolist() if t >= 0),
            day=one.day,
            outcome=OUTCOMES[one.outcome[hire]],  # type: ignore[arg-type]
            choices=one.choices,
            chosen=one.chosen,
        )
        for one in house.seen
        if one.drink[hire] >= 0
    ]


def _narrowest(truth: Floats) -> float:
    ordered, inside = np.sort(truth), int(np.ceil(0.9 * len(truth)))
    return float((ordered[inside - 1 :] - ordered[: len(truth) - inside + 1]).min())


def _mean(values: Any) -> float | None:
    return float(values.mean()) if values.size else None
