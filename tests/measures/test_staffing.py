"""People for an hour: published tables of the queue, and a bar simulated guest by guest."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from assessments.measures.staffing import (
    Aim,
    Demand,
    Wait,
    chance_of_waiting,
    judge_hour,
    seconds_an_order,
    staff_for,
    wait_with,
    whole,
)
from tests.measures.queueing import simulate

NINE_OF_TEN = Aim(120, 0.9)


@pytest.mark.parametrize(
    ("an_hour", "seconds", "people", "waiting", "mean_wait"),
    [
        # One server, 24 an hour, 30 an hour served: L 4 and W 1/6 h, so Lq 3.2, Wq 8 min. Textbook.
        (24, 120, 1, 0.8, 480.0),
        # Bronson, Operations Research (1982): 30 an hour, 1.5 min each: Lq 2.25, Wq 4.5 min.
        (30, 90, 1, 0.75, 270.0),
        # Two servers of 30 an hour, 20 an hour come: p0 1/2, Lq 1/12, so Wq 15 s. Textbook.
        (20, 120, 2, 1 / 6, 15.0),
        # Hillier and Lieberman, the county hospital: 2 an hour, 3 an hour, two doctors.
        (2, 1200, 2, 0.167, 3600 / 24),
    ],
)
def test_published_queues(an_hour, seconds, people, waiting, mean_wait):
    found = wait_with(Demand(an_hour, seconds), people, 60)

    assert found.chance_of_waiting == pytest.approx(waiting, abs=5e-4)
    assert found.mean_wait_seconds == pytest.approx(mean_wait, rel=1e-9)


def test_a_published_call_centre():
    """360 calls in half an hour of 240 s each, 55 people, 15 s: a 48, occupancy .873, C .239, mean
    wait 8.2 s, .846 within. Inputs are a published worked example of Erlang C."""
    demand = Demand(720, 240)
    found = wait_with(demand, 55, 15)

    assert demand.busy == pytest.approx(48)
    assert demand.busy / 55 == pytest.approx(0.873, abs=5e-4)
    assert found.chance_of_waiting == pytest.approx(0.239, abs=5e-4)
    assert found.mean_wait_seconds == pytest.approx(8.2, abs=0.05)
    assert found.share_within == pytest.approx(0.846, abs=5e-4)


@given(st.floats(0.01, 60), st.integers(1, 90))
def test_the_recursion_is_the_sum_of_the_textbook(busy, people):
    """C = (a^c/c!)(c/(c-a)) / (sum a^k/k! + the same): written out with logarithms."""
    assume(busy < people)
    terms = [k * math.log(busy) - math.lgamma(k + 1) for k in range(people + 1)]
    last = math.exp(terms[-1]) * people / (people - busy)
    expected = last / (sum(math.exp(t) for t in terms[:-1]) + last)

    assert chance_of_waiting(busy, people) == pytest.approx(expected, rel=1e-9)


@given(st.floats(0, 900), st.floats(5, 300), st.floats(0, 600), st.floats(0.05, 0.99))
def test_it_is_the_fewest_that_hold(orders, seconds, wait, share):
    demand, aim = Demand(orders, seconds), Aim(wait, share)
    found = staff_for(demand, aim)

    assert found.share_within >= share
    if not orders:
        assert found == Wait(0, 0.0, 0.0, 1.0)
        return
    assert found.people == 1 or not wait_with(demand, found.people - 1, wait).holds(aim)
    assert found.people > demand.busy


@given(st.floats(1, 600), st.floats(5, 200), st.integers(1, 40))
def test_one_more_never_makes_anybody_wait_longer(orders, seconds, people):
    demand = Demand(orders, seconds)
    few, more = wait_with(demand, people, 60), wait_with(demand, people + 1, 60)

    assert more.share_within >= few.share_within
    assert more.chance_of_waiting <= few.chance_of_waiting


@pytest.mark.parametrize("people", [0, 1, 2])
def test_overload_is_said_and_never_averaged(people):
    """100 orders of 72 s are two people at work all hour: two have nothing to spare."""
    found = wait_with(Demand(100, 72), people, 600)

    assert (found.overloaded, found.mean_wait_seconds) == (True, None)
    assert (found.chance_of_waiting, found.share_within) == (1.0, 0.0)


def test_what_becomes_of_the_hour():
    demand = Demand(180, 3600 / 70)

    short = judge_hour(demand, 2, NINE_OF_TEN)
    assert (short.code, short.values) == ("hour_overrun", {"count": 2, "orders": 180, "made": 140})
    assert judge_hour(demand, 3, Aim(10, 0.99)).code == "hour_slow"
    assert judge_hour(demand, 4, NINE_OF_TEN).code == "hour_held"
    for people in (0, 3):
        assert judge_hour(Demand(0, 60), people, NINE_OF_TEN).code == "hour_empty"


@pytest.mark.parametrize(
    ("orders", "people", "code", "said"),
    [
        (26.0, 0, "hour_nobody", {"count": 26}),
        (26.1, 0, "hour_nobody", {"count": 26}),
        (25.5, 0, "hour_nobody", {"count": 26}),
        (0.2, 0, "hour_nobody", {"count": 1}),
        (26.0, 1, "hour_held", {"count": 1, "wait": 30}),
        (70.0, 1, "hour_brim", {"count": 1}),
        (70.4, 1, "hour_brim", {"count": 1}),
        (70.5, 1, "hour_overrun", {"count": 1, "orders": 71, "made": 70}),
        (140.0, 2, "hour_brim", {"count": 2}),
        (141.0, 2, "hour_overrun", {"count": 2, "orders": 141, "made": 140}),
    ],
)
def test_too_many_orders_are_counted_as_they_are_shown(orders, people, code, said):
    """One person makes 70 an hour."""
    found = judge_hour(Demand(orders, 3600 / 70), people, Aim(600, 0.1))

    assert (found.code, found.values) == (code, said)
    if code != "hour_held":
        assert said.get("orders", whole(orders)) == whole(orders)


@pytest.mark.parametrize(
    ("orders", "shown"), [(0, 0), (0.2, 1), (0.5, 1), (1.4, 1), (26.1, 26), (26.5, 27)]
)
def test_orders_as_a_page_counts_them(orders, shown):
    assert whole(orders) == shown


def test_nobody_is_needed_where_nobody_comes():
    found = staff_for(Demand(0, 60), NINE_OF_TEN)

    assert (found.people, found.chance_of_waiting, found.mean_wait_seconds) == (0, 0.0, 0.0)


def test_a_round_takes_its_drinks_and_the_handling():
    assert seconds_an_order(72) == 50
    assert seconds_an_order(72, 2.5, 20) == 145


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: Demand(-1, 60),
        lambda: Demand(math.nan, 60),
        lambda: Demand(10, 0),
        lambda: Aim(-1, 0.9),
        lambda: Aim(60, 1),
        lambda: Aim(60, 0),
        lambda: seconds_an_order(0),
        lambda: seconds_an_order(70, 0),
        lambda: seconds_an_order(70, 1, -1),
        lambda: staff_for(Demand(1_000_000, 60), NINE_OF_TEN),
    ],
)
def test_an_hour_that_no_bar_has_is_refused(wrong):
    with pytest.raises(ValueError, match=r"counted|takes|share|above|holds"):
        wrong()


@pytest.mark.parametrize(("orders", "people"), [(180, 4), (180, 3), (60, 1), (400, 7)])
def test_a_simulated_bar_waits_as_reckoned(orders, people):
    demand = Demand(orders, 3600 / 70)
    seen = simulate(
        orders_an_hour=orders, people=people, wait_seconds=120, orders=120_000, seed=5,
        time_of_one=lambda draw: draw.expovariate(1 / demand.seconds_an_order),
    )  # fmt: skip
    found = wait_with(demand, people, 120)

    assert seen.waited == pytest.approx(found.chance_of_waiting, abs=0.03)
    assert seen.mean_wait == pytest.approx(found.mean_wait_seconds, rel=0.12)
    assert seen.within == pytest.approx(found.share_within, abs=0.03)


def test_rounds_that_vary_less_wait_less_than_reckoned():
    """Two drinks in five orders of ten, one in three, four in two; each drink 30 to 60 s, 20 s for
    the till: the reckoned wait is too long, never too short."""
    takes = seconds_an_order(80, 2.1, 20)

    def one(draw):
        drinks = draw.choices((1, 2, 4), (0.3, 0.5, 0.2))[0]
        return 20 + sum(draw.uniform(30, 60) for _ in range(drinks))

    seen = simulate(
        orders_an_hour=90, people=4, wait_seconds=60, orders=120_000, seed=5, time_of_one=one
    )
    found = wait_with(Demand(90, takes), 4, 60)

    assert seen.mean_wait < found.mean_wait_seconds
    assert seen.within > found.share_within
