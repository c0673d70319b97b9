"""The run of the pours as a picture."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessments.measures.pours import PourTarget, is_within
from assessments.run_plot import HEIGHT, WIDTH, plot

FREE = PourTarget(30, 3)


def points(path):
    return [(float(x), float(y)) for x, y in re.findall(r"([\d.]+) ([\d.]+)", path)]


@given(st.lists(st.floats(0, 80), min_size=1, max_size=30))
def test_every_pour_lies_on_the_paper_in_its_order(pours):
    drawn = points(plot(pours, FREE).run)

    assert len(drawn) == len(pours)
    assert [x for x, _ in drawn] == sorted(x for x, _ in drawn)
    assert all(0 <= x <= WIDTH and 0 <= y <= HEIGHT for x, y in drawn)
    by_height = sorted(range(len(pours)), key=lambda n: -pours[n])
    heights = [drawn[n][1] for n in by_height]
    assert heights == sorted(heights)


@given(st.lists(st.floats(0, 80), min_size=1, max_size=30))
def test_what_is_off_is_a_cross_and_the_rest_a_dot(pours):
    drawn = plot(pours, FREE)
    off = sum(not is_within(p, FREE) for p in pours)

    assert drawn.off.count("M") == 2 * off
    assert drawn.good.count("M") == len(pours) - off


def test_the_strip_is_what_the_house_allows():
    drawn = plot([27, 30, 33], FREE)
    top, height = (float(v) for v in drawn.band)
    (_, low), (_, target), (_, high) = points(drawn.run)

    assert (top, top + height) == pytest.approx((high, low))
    assert drawn.target == f"M0 {target:g}H{WIDTH}"


def test_nothing_poured_is_no_picture():
    with pytest.raises(ValueError, match="nothing was poured"):
        plot([], FREE)
