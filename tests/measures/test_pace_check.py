"""Tickets and pace."""

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessments.measures.pace_check import (
    MOST_ORDERS,
    ORDERS,
    Error,
    Order,
    draw_ticket,
    drinks_at_most,
    judge_pace,
)

MIX = {"madras": 0.5, "gin-tonic": 0.3, "negroni": 0.2}


def test_the_same_seed_is_the_same_ticket_whatever_the_order_of_the_menu():
    turned = dict(reversed(MIX.items()))

    assert draw_ticket(MIX, 20, 7) == draw_ticket(turned, 20, 7)
    assert draw_ticket(MIX, 20, 7) != draw_ticket(MIX, 20, 8)


@given(st.integers(1, MOST_ORDERS), st.integers(0, 10**6))
def test_every_order_is_one_to_four_drinks_of_the_menu(orders, seed):
    ticket = draw_ticket(MIX, orders, seed)

    assert len(ticket) == orders
    assert all(1 <= order.count <= 4 for order in ticket)
    assert {slug for order in ticket for slug, _ in order.drinks} <= set(MIX)
    assert all(len({s for s, _ in order.drinks}) == len(order.drinks) for order in ticket)


def test_a_ticket_follows_what_sells_and_how_many_come_at_once():
    tickets = [draw_ticket(MIX, MOST_ORDERS, seed) for seed in range(60)]
    drawn, sizes = Counter[str](), Counter[int]()
    for order in (o for ticket in tickets for o in ticket):
        sizes[order.count] += 1
        for slug, count in order.drinks:
            drawn[slug] += count

    assert {s: n / drawn.total() for s, n in drawn.items()} == pytest.approx(MIX, abs=0.02)
    assert sizes[1] / sizes.total() == pytest.approx(0.5, abs=0.03)


def test_where_nothing_is_known_of_what_sells_all_are_alike():
    ticket = draw_ticket({"a": 0.0, "b": 0.0}, MOST_ORDERS, 1)

    assert {slug for order in ticket for slug, _ in order.drinks} == {"a", "b"}


@pytest.mark.parametrize(("mix", "orders"), [({}, 5), (MIX, 0), (MIX, MOST_ORDERS + 1)])
def test_a_ticket_that_no_check_has_is_refused(mix, orders):
    with pytest.raises(ValueError, match="a ticket has"):
        draw_ticket(mix, orders, 1)


def test_an_order_counts_its_drinks():
    assert Order((("madras", 2), ("negroni", 1))).count == 3


def test_a_pace_in_drinks_an_hour():
    """20 drinks in 15 minutes; 80 x 24.43 / 40 and 80 x 59.34 / 40 by the chi-squared table."""
    pace = judge_pace(20, 900, {}, rung_up=True)

    assert pace.an_hour == pytest.approx(80)
    assert (pace.low, pace.high) == pytest.approx((48.87, 118.68), abs=0.02)


@pytest.mark.parametrize(
    ("drinks", "seconds", "whole"),
    [(20, 900, (80, 48, 119)), (20, 1200, (60, 36, 90)), (20, 1201, (59, 36, 89))],
)
def test_whole_drinks_are_told_by_one_rule(drinks, seconds, whole):
    """No drink counts before it is made, and the ends are rounded outwards: 48.87, 118.68."""
    assert judge_pace(drinks, seconds, {}, rung_up=True).whole == whole


@pytest.mark.parametrize(
    ("drinks", "seconds", "rung_up", "code"),
    [
        (9, 400, True, "pace_too_short"),
        (60, 6000, True, "pace_slow"),
        (60, 900, True, "pace_quick"),
        (200, 9200, True, "pace_usual"),
        (20, 900, True, "pace_unsure"),
        (200, 7000, False, "pace_usual"),
    ],
)
def test_what_is_said_of_it(drinks, seconds, rung_up, code):
    assert judge_pace(drinks, seconds, {}, rung_up=rung_up).reasons[0].code == code


@pytest.mark.parametrize(
    ("errors", "codes"),
    [
        ({}, ["pace_clean"]),
        ({Error.FINISH: 0}, ["pace_clean"]),
        ({Error.FINISH: 2, Error.RUNG_UP: 1}, ["pace_errors"]),
        ({Error.FINISH: 1, Error.AGE: 1}, ["pace_errors", "pace_must_not"]),
    ],
)
def test_errors_are_told_by_what_they_do(errors, codes):
    pace = judge_pace(20, 900, errors, rung_up=True)

    assert [r.code for r in pace.reasons[1:]] == codes
    assert pace.errors == sum(errors.values())


@pytest.mark.parametrize(
    ("drinks", "seconds", "errors"), [(0, 60, {}), (5, 0, {}), (5, 60, {Error.ICE: -1})]
)
def test_a_pace_that_cannot_be_is_refused(drinks, seconds, errors):
    with pytest.raises(ValueError, match=r"a rate needs|counted from 0"):
        judge_pace(drinks, seconds, errors, rung_up=True)


@pytest.mark.parametrize(
    ("orders", "share", "drinks"),
    [(0, 0.9, 0), (1, 0.5, 1), (1, 0.51, 2), (1, 0.8, 2), (1, 0.9, 3)],
)
def test_how_many_drinks_a_ticket_has_at_most(orders, share, drinks):
    """By hand: half of all orders one drink, eight in ten at most two, 92 in 100 at most three."""
    assert drinks_at_most(orders, share) == drinks


def test_nine_in_ten_of_the_tickets_drawn_have_no_more_drinks():
    tickets = [sum(o.count for o in draw_ticket(MIX, ORDERS, seed)) for seed in range(4000)]
    most = drinks_at_most(ORDERS)

    assert sum(n <= most for n in tickets) >= 0.9 * len(tickets)
    assert sum(n <= most - 1 for n in tickets) < 0.9 * len(tickets)
    with pytest.raises(ValueError, match="longest"):
        drinks_at_most(ORDERS, 1.0)
