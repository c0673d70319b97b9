"""A bar simulated guest by guest, to hold the formulas against. It shares nothing with them."""

from __future__ import annotations

import heapq
from collections.abc import Callable
from dataclasses import dataclass
from random import Random


@dataclass(frozen=True)
class Seen:
    """What was seen of the guests after the first part of the run."""

    waited: float
    mean_wait: float
    within: float


def simulate(
    *, orders_an_hour: float, people: int, time_of_one: Callable[[Random], float],
    wait_seconds: float, orders: int, seed: int,
) -> Seen:  # fmt: skip
    """First come, first served, by whoever is free first. The first tenth is not counted: the bar
    opens empty."""
    draw, now = Random(seed), 0.0
    free_at = [0.0] * people
    waits = []
    for _ in range(orders):
        now += draw.expovariate(orders_an_hour / 3600)
        begins = max(now, heapq.heappop(free_at))
        heapq.heappush(free_at, begins + time_of_one(draw))
        waits.append(begins - now)
    counted = waits[orders // 10 :]
    return Seen(
        waited=sum(w > 1e-9 for w in counted) / len(counted),
        mean_wait=sum(counted) / len(counted),
        within=sum(w <= wait_seconds for w in counted) / len(counted),
    )
