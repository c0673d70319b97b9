"""The glass rack says exactly the numbers beside it. Geometry is read back from the paths."""

import math
import re

import pytest
from django.template import Context, Template
from hypothesis import given
from hypothesis import strategies as st

from assessments import rack
from assessments.measures.whole_orders import whole_orders

SHARES = st.floats(min_value=0, max_value=1000, allow_nan=False)
COUNTS = st.integers(0, 100).flatmap(
    lambda right: st.integers(0, 100 - right).map(
        lambda ask: rack.Orders(right, ask, 100 - right - ask)
    )
)
NUMBER = r"(-?[\d.]+)"
CIRCLE = re.compile(rf"M{NUMBER} {NUMBER}a7 7 0 1 0 14 0a7 7 0 1 0 -14 0z")
PART = re.compile(rf"M{NUMBER} {NUMBER}A7 7 0 ([01]) 0 {NUMBER} {NUMBER}z")
STROKE = re.compile(rf"M{NUMBER} {NUMBER}L{NUMBER} {NUMBER}")


@pytest.mark.parametrize(
    ("shares", "orders"),
    [
        ((72.2, 18.9, 8.9), (72, 19, 9)),  # remainders .2 .9 .9
        ((0.722, 0.189, 0.089), (72, 19, 9)),  # shares of one do as well
        ((100, 0, 0), (100, 0, 0)),
        ((1, 1, 1), (33, 33, 34)),  # a tie never flatters
        ((49.5, 50.5, 0), (49, 51, 0)),
        ((99.6, 0.2, 0.2), (100, 0, 0)),
        ((0.4, 0.3, 99.3), (1, 0, 99)),
    ],
)
def test_shares_become_whole_orders(shares, orders):
    assert whole_orders(*shares) == orders


@given(SHARES, SHARES, SHARES)
def test_whole_orders_sum_to_one_hundred_and_lie_within_one_of_their_share(right, ask, wrong):
    shares = (right, ask, wrong)
    if sum(shares) == 0:
        return

    orders = whole_orders(*shares)

    assert sum(orders) == 100
    for share, count in zip(shares, orders, strict=True):
        assert abs(count - share / sum(shares) * 100) < 1 + 1e-6


@pytest.mark.parametrize(
    "shares", [(0, 0, 0), (-1, 50, 51), (math.nan, 1, 1), (math.inf, 1, 1)], ids=str
)
def test_what_is_no_share_is_refused(shares):
    with pytest.raises(ValueError, match="no shares"):
        whole_orders(*shares)


def test_seventy_two_nineteen_nine_fills_the_rack_as_said():
    slots = rack.slots(rack.Orders(72, 19, 9))

    assert slots[:18] == ((4, 0, 0),) * 18
    assert slots[18:22] == ((0, 4, 0),) * 4
    assert slots[22] == (0, 3, 1)
    assert slots[23:] == ((0, 0, 4),) * 2


@given(COUNTS)
def test_twenty_five_slots_of_four_hold_every_order_in_order(orders):
    slots = rack.slots(orders)

    assert len(slots) == 25
    assert all(sum(slot) == 4 for slot in slots)
    assert tuple(map(sum, zip(*slots, strict=True))) == orders
    kinds = [kind for slot in slots for kind in range(3) for _ in range(slot[kind])]
    assert kinds == sorted(kinds)
    assert sum(max(slot) < 4 for slot in slots) <= 2


@pytest.mark.parametrize("orders", [(50, 50, 1), (101, 0, -1), (0, 0, 0)], ids=str)
def test_a_rack_that_does_not_hold_a_hundred_is_refused(orders):
    with pytest.raises(ValueError, match="holds 100"):
        rack.slots(rack.Orders(*orders))


@given(COUNTS)
def test_the_filled_paths_show_the_orders_that_are_right(orders):
    """A whole circle is four orders; a part ends at its quarter of the slot's width."""
    drawing = rack.draw(orders)

    circles = [(float(x) + 7, float(y)) for x, y in CIRCLE.findall(drawing.full)]
    assert circles == [rack.centre(slot) for slot in range(orders.right // 4)]
    parts = PART.findall(drawing.full)
    assert len(parts) == (orders.right % 4 > 0)
    for x, top, large, end_x, bottom in parts:
        centre_x, centre_y = rack.centre(orders.right // 4)
        assert x == end_x
        assert (float(x) - (centre_x - 7)) / 14 == pytest.approx(orders.right % 4 / 4, abs=1e-3)
        assert float(top) + float(bottom) == pytest.approx(2 * centre_y, abs=0.02)
        assert math.dist((float(x), float(top)), (centre_x, centre_y)) == pytest.approx(7, abs=0.02)
        assert large == ("1" if orders.right % 4 == 3 else "0")


@given(COUNTS)
def test_the_hatching_lies_in_the_slots_of_orders_that_are_asked_about(orders):
    drawing = rack.draw(orders)
    asked = {slot for slot, kinds in enumerate(rack.slots(orders)) if kinds.ask}

    hatched = set()
    for x, y, end_x, end_y in STROKE.findall(drawing.hatch):
        start, end = (float(x), float(y)), (float(end_x), float(end_y))
        slot = int((start[1] - 3) // 18) * 5 + int((start[0] - 3) // 18)
        kinds, centre = rack.slots(orders)[slot], rack.centre(slot)
        hatched.add(slot)
        assert max(math.dist(start, centre), math.dist(end, centre)) <= 7.02
        left = centre[0] - 7 + 14 * kinds.right / 4
        right = centre[0] - 7 + 14 * (kinds.right + kinds.ask) / 4
        assert left - 0.02 <= start[0] < end[0] <= right + 0.02
    assert hatched == asked


def test_every_slot_has_its_rim():
    drawing = rack.draw(rack.Orders(0, 0, 100))

    assert len(CIRCLE.findall(drawing.rims)) == 25
    assert (drawing.full, drawing.hatch, drawing.bar) == ("", "", "")


@pytest.mark.parametrize(
    ("bar", "path"),
    [
        (0, "M3 3H93"),
        (80, "M3 75H93"),  # four full rows: a straight line below them
        (84, "M3 93H21V75H93"),  # and one slot of the fifth row
        (85, "M3 93H26.5V75H93"),  # and a quarter of the next slot: 21 + 2 + 14 / 4
        (50, "M3 57H48V39H93"),  # twelve and a half slots
        (100, "M3 93H93"),
    ],
)
def test_the_bar_runs_below_the_slots_that_must_be_full(bar, path):
    assert rack.bar_path(bar) == path


@given(st.integers(1, 99))
def test_the_bar_meets_the_edge_of_a_rack_that_is_exactly_at_the_bar(bar):
    drawing = rack.draw(rack.Orders(bar, 0, 100 - bar), bar)

    part = PART.search(drawing.full)
    if part:
        assert f"H{part[1]}V" in drawing.bar
    else:
        assert re.match(r"M3 \d+H(21|39|57|75|93)", drawing.bar)


@pytest.mark.parametrize("bar", [-1, 101, math.nan])
def test_a_bar_outside_the_rack_is_refused(bar):
    with pytest.raises(ValueError, match="a bar lies between"):
        rack.draw(rack.Orders(100, 0, 0), bar)


def test_a_whisker_is_drawn_at_two_units_an_order():
    drawn = rack.whisker(63, 81, 72, 85)

    assert drawn.whisker == "M126 7v10M126 12H162M162 7v10"
    assert drawn.middle.startswith("M144 5l")
    assert drawn.bar == "M170 1v22"
    assert rack.whisker(0, 0, 0).bar == ""


@pytest.mark.parametrize(
    "interval", [(81, 63, 72, None), (63, 81, 90, None), (-1, 5, 2, None), (1, 5, 2, 101)], ids=str
)
def test_an_interval_out_of_order_is_refused(interval):
    with pytest.raises(ValueError, match=r"interval runs|bar lies"):
        rack.whisker(*interval)


def render(source):
    return Template("{% load rack %}" + source).render(Context())


def test_the_rack_says_its_numbers_to_those_who_hear_it():
    drawn = render("{% rack 72.2 18.9 8.9 85 64 %}")

    words = (
        "Glass rack: of 100 orders 72 right, would ask on 19, 9 wrong. The house wants 85 right."
    )
    assert f'role="img" aria-label="{words}"><title>{words}</title>' in drawn
    assert 'width="64" height="64"' in drawn
    assert "M3 93H26.5V75H93" in drawn


def test_a_rack_without_a_bar_draws_and_says_none():
    drawn = render("{% rack 100 0 0 %}")

    assert "The house wants" not in drawn
    assert "#963420" not in drawn


def test_two_racks_on_a_page_share_no_id():
    assert " id=" not in render("{% rack 50 25 25 85 %}{% span 40 60 50 85 %}")


def test_the_span_says_its_interval():
    drawn = render("{% span 63.4 80.6 72 85 %}")

    assert "<title>72 of 100, likely between 63 and 81. The house wants 85 right.</title>" in drawn
