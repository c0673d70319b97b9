"""Simulated hires of a whole fortnight who then fail: nobody's figures rise for it."""

import numpy as np
import pytest

from assessments.measures.orders import Menu, Shown, fit, forecast, trials
from assessments.measures.readiness_proof import shown_of
from assessments.measures.simulated_hires import WORLDS, simulate

HOUSE = simulate(WORLDS["model"], 60, seed=606)
MENU = Menu(HOUSE.menu.topics, HOUSE.menu.n_topics)
BEFORE = [shown_of(HOUSE, hire) for hire in range(60)]
AFTER = max(one.day for shown in BEFORE for one in shown) + 0.5
LITTLE = 0.002
"""What the approximation may be off by."""


def told(people):
    found = forecast(fit(trials(MENU, people)), MENU, HOUSE.menu.sales, AFTER).right
    return found.mean, found.low


WAS = told(BEFORE)


def failed(hire, many, what):
    """Of drinks that they had met, which and which part as dice fall."""
    dice = np.random.default_rng([9, hire])
    met = {topic for one in BEFORE[hire] for topic in one.topics}
    drinks = [d for d, topics in enumerate(MENU.topics) if met.issuperset(topics)] or [0]
    for drink in dice.choice(drinks, many).tolist():
        parts = HOUSE.menu.aspects[drink]
        topics = parts[int(dice.integers(len(parts)))] if what == "part" else MENU.topics[drink]
        yield Shown(drink, topics, AFTER - 0.1, "wrong", 0 if what == "build" else 4)


@pytest.mark.parametrize("many", [1, 2, 4, 8])
@pytest.mark.parametrize("what", ["part", "whole", "build"])
def test_nobody_stands_higher_for_failing(what, many):
    mean, low = told([[*shown, *failed(n, many, what)] for n, shown in enumerate(BEFORE)])

    assert (mean - WAS[0]).max() < LITTLE
    assert (low - WAS[1]).max() < LITTLE
    assert (mean < WAS[0]).mean() > 0.9
