"""Simulated hires who do what a trainer's hour tells: the minutes hold, and most are ready then.

Their heads and hands are `simulated_hires`, which knows nothing of the model that plans.
"""

from dataclasses import replace

import numpy as np
import pytest

from assessments.measures.orders import LEVEL, Menu, chances, fit, outlook, shares, trials
from assessments.measures.readiness_proof import BAR, shown_of
from assessments.measures.simulated_hires import MINUTE, WORLDS, House, fortnight
from assessments.measures.trainers_hour import (
    BUILD_MINUTES,
    Hire,
    Step,
    build_minutes,
    shortest,
)

PEOPLE = 80
LONGEST = 90
"""Minutes of a list that somebody is sent through."""


def looked_at(house, menu, day):
    found = outlook(fit(trials(menu, [shown_of(house, hire) for hire in range(PEOPLE)])), menu)
    low = shares(found, menu, house.menu.sales, day, LEVEL).right.low
    return low, *chances(found, menu, day)


def list_of(low, now, shown, sales):
    """The drinks that take somebody to the bar in the fewest minutes; none where that is long."""
    gains = (shown - now).clip(0) * sales
    steps = tuple(
        Step(f"{drink}", build_minutes(comes), gain)
        for drink, (comes, gain) in enumerate(zip(now.tolist(), gains.tolist(), strict=True))
        if gain > 0
    )
    part = shortest(Hire("K7", BAR - low, steps))
    return part.steps if part and part.minutes <= LONGEST else ()


def done(hires, lists, day):
    """What came of it: each drink once, and once again where it came wrong."""
    left = [[int(step.name) for step in of] for of in lists]
    again, seen = [False] * PEOPLE, []
    while any(left):
        built = hires.build(
            day + len(seen) * MINUTE, np.array([of[0] if of else -1 for of in left]), chosen=True
        )
        seen.append(built)
        for hire, of in enumerate(left):
            if of:
                again[hire] = not again[hire] and built.outcome[hire] != 0
                if not again[hire]:
                    of.pop(0)
    return tuple(seen)


@pytest.mark.parametrize("world", ["model", "told"])
def test_the_minutes_hold_and_most_are_ready_then(world):
    at = WORLDS[world].shift_day
    hires, seen = fortnight(WORLDS[world], PEOPLE, seed=1212)
    house = House(hires.menu, seen, *hires.truth(at))
    menu = Menu(house.menu.topics, house.menu.n_topics)
    low, now, shown = looked_at(house, menu, at)
    near = np.flatnonzero((low < BAR) & (low > BAR - 0.25))
    lists = [
        list_of(low[n], now[n], shown[n], house.menu.sales) if n in near else ()
        for n in range(PEOPLE)
    ]

    more = done(hires, lists, at - 0.2)

    sent = [n for n in near if lists[n]]
    assert len(sent) >= 15
    told = sum(step.minutes for n in sent for step in lists[n])
    used = BUILD_MINUTES * sum(int(one.drink[n] >= 0) for n in sent for one in more)
    assert told == pytest.approx(used, rel=0.15)
    after, *_ = looked_at(replace(house, seen=(*seen, *more)), menu, at)
    assert (after[sent] >= BAR).mean() > 0.5  # "then likely ready"
    assert (after[sent] - BAR).mean() > -0.02
