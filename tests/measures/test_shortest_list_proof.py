"""What a list is said to be enough for is enough, in simulated houses."""

import numpy as np
import pytest

from assessments.measures import orders
from assessments.measures.readiness_proof import shown_of
from assessments.measures.ready_facts import Expected, Facts, Orders, ReadyPolicy, Safety
from assessments.measures.shortest_list import shortest_list
from assessments.measures.simulated_hires import MODEL, simulate

POLICY = ReadyPolicy(0.7, 0.1, 0.5)
PEOPLE, DAY = 60, MODEL.shift_day


def looked_at(menu, sales, shown):
    """Of everybody the figures, how much less is wrong for an order won, what each drink wins."""
    fit = orders.fit(orders.trials(menu, shown))
    seen = orders.outlook(fit, menu)
    now, after = orders.chances(seen, menu, DAY)
    won = sales * (after - now).clip(0)
    return (
        orders.shares(seen, menu, sales, DAY, orders.LEVEL),
        orders.less_wrong(seen.asks, seen.executes),
        won,
    )


@pytest.mark.parametrize("seed", [515, 606])
def test_whoever_builds_what_the_list_names_is_over_the_bar_and_under_the_most_wrong(seed):
    house = simulate(MODEL, PEOPLE, seed)
    menu, sales = orders.Menu(house.menu.topics, house.menu.n_topics), house.menu.sales
    shown = [shown_of(house, hire) for hire in range(PEOPLE)]
    figures, less, won = looked_at(menu, sales, shown)
    listed = []
    for hire in range(PEOPLE):
        facts = Facts(
            "K7", (), of(figures, hire), Safety.PASSED, "", POLICY, less_wrong=float(less[hire])
        )
        first = np.argsort(-won[hire])
        if facts.short > 0 and (found := shortest_list((), won[hire][first].tolist(), facts.short)):
            listed.append(hire)
            shown[hire] += [
                orders.Shown(int(drink), menu.topics[drink], DAY - 0.02, "right", chosen=True)
                for drink in first[: found.drinks]
            ]

    then = looked_at(menu, sales, shown)[0]

    too_much = figures.wrong.mean[listed] > POLICY.most_wrong
    assert too_much.sum() > 10
    assert (then.wrong.mean[listed] <= POLICY.most_wrong).all()
    assert (then.right.low[listed] >= POLICY.least_right).mean() >= 0.95


def of(figures, hire) -> Orders:
    ends = [(s.mean[hire], s.low[hire], s.high[hire]) for s in vars(figures).values()]
    return Orders(*(Expected(*map(float, each)) for each in ends))
