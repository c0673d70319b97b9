"""What was shown at one moment: judged by what was known before it, in whatever order it stands."""

from dataclasses import fields
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessments.measures.orders import Menu, Shown, fit, forecast, trials
from assessments.measures.orders.population import FIRST_DAYS
from assessments.measures.orders.replay import replay

MENU = Menu(topics=((0, 1, 2), (0, 3), (0, 4, 5, 6)), n_topics=7)
SALES = np.array([0.5, 0.2, 0.3])
RIGHT, ASK, WRONG = "right", "ask", "wrong"


def build(drink, day, outcome, *, chosen=False) -> Shown:
    return Shown(drink, MENU.topics[drink], day, outcome, chosen=chosen)


BEFORE = [build(0, 0.0, RIGHT), build(1, 0.0, WRONG), build(2, 0.1, ASK)]
ROUND = [build(0, 1.0, RIGHT), build(1, 1.0, WRONG, chosen=True), build(2, 1.0, ASK)]


@pytest.mark.parametrize("before", [[], BEFORE])
def test_builds_of_one_moment_give_the_same_figures_in_whatever_order_they_are_listed(before):
    fits = [fit(trials(MENU, [[*before, *listed]])) for listed in permutations(ROUND)]
    every = [forecast(f, MENU, SALES, 3.0).right for f in fits]

    assert {(r.mean[0], r.low[0], r.high[0]) for r in every} == {
        (every[0].mean[0], every[0].low[0], every[0].high[0])
    }


@given(st.data())
def test_no_order_of_the_list_changes_a_figure(data):
    outcomes, days = st.sampled_from([RIGHT, ASK, WRONG]), st.sampled_from([0.0, 1.0, 1.5])
    one = st.builds(
        lambda drink, day, outcome, choices, of, chosen: Shown(
            drink, MENU.topics[drink][:of], day, outcome, choices, chosen=chosen and not choices,
            alone=MENU.topics[drink][:of] if of == 1 and choices else (),
        ),
        st.integers(0, 2), days, outcomes, st.sampled_from([0, 2, 4]), st.integers(1, 4),
        st.booleans(),
    )  # fmt: skip
    listed = data.draw(st.lists(one, max_size=8))
    otherwise = data.draw(st.permutations(listed))
    found, again = trials(MENU, [listed]), trials(MENU, [otherwise])

    for field in fields(found):
        assert np.array_equal(getattr(found, field.name), getattr(again, field.name)), field.name
    for was, then in zip(
        *(replay(MENU, [shown], [8]) for shown in (listed, otherwise)), strict=True
    ):
        assert was == then


def test_what_is_built_at_one_moment_is_judged_by_what_was_known_before_it():
    found = trials(MENU, [[build(0, 0.0, RIGHT), build(0, 1.0, WRONG), build(1, 1.0, RIGHT)]])

    assert found.drink.tolist() == [0, 0, 1]
    assert found.unseen.tolist() == [3, 0, 1]
    assert found.ages == pytest.approx([1 / FIRST_DAYS] * 4)  # the pour they share counts a day old
    assert found.last[0, :4].tolist() == [1.0, 0.0, 0.0, 1.0]  # and is fresh by the right one


def test_a_drink_chosen_twice_at_once_held_if_it_came_right_each_time():
    twice = [build(0, 1.0, RIGHT, chosen=True), build(0, 1.0, WRONG, chosen=True)]

    assert not trials(MENU, [twice]).held[0, 0]
    assert not trials(MENU, [twice[::-1]]).held[0, 0]
