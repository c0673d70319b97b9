"""Figures, days and hours as tills write them."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.grammar.till_cells import day_of, figures, hour_of, month_comes_first

D = dt.date(2026, 11, 2)


@pytest.mark.parametrize(
    ("cells", "read"),
    [
        (["1,234", "12"], [1234, 12]),
        (["1.234,50", "12"], [1234.5, 12]),
        (["1,234.50", "12"], [1234.5, 12]),
        (["1.234", "2,5"], [1234, 2.5]),
        (["1,234", "2.5"], [1234, 2.5]),
        (["1.234", "5"], [1234, 5]),
        (["1.000", "12.000"], [1, 12]),
        (["2,000", "3,000"], [2, 3]),
        (["1'200", "1 200", "1\u00a0200"], [1200, 1200, 1200]),
        (["(3)", "3-", "-3", "\u22123", "+3"], [-3, -3, -3, -3, 3]),
        (["12", "", "each", "1.2.3.x"], [12, None, None, None]),
    ],
)
def test_a_column_of_figures(cells, read):
    assert figures(cells) == read


@given(st.lists(st.integers(-99_999, 99_999), min_size=1))
def test_whole_numbers_with_thousands_read_back(numbers):
    assert figures([*(f"{n:,}" for n in numbers), "0.5"]) == [*numbers, 0.5]
    german = [f"{n:,}".replace(",", ".") for n in numbers]
    assert figures([*german, "0,5"]) == [*numbers, 0.5]


@pytest.mark.parametrize(
    ("cell", "month_first", "day"),
    [
        ("2026-11-02", False, D),
        ("2026-11-02T23:15:00", False, D),
        ("20261102", False, D),
        ("02.11.2026", False, D),
        ("02/11/26 23:15", False, D),
        ("11/02/2026", True, D),
        ("2 Nov 2026", True, D),
        ("Nov 2, 2026", False, D),
        ("31.02.2026", False, None),
        ("yesterday", False, None),
        ("", False, None),
    ],
)
def test_a_day(cell, month_first, day):
    assert day_of(cell, month_first=month_first) == day


@pytest.mark.parametrize(
    ("cells", "first"),
    [
        (["02/11/2026", "25/11/2026"], False),
        (["02/11/2026", "11/25/2026"], True),
        (["02/11/2026"], None),
        (["2026-11-25"], None),
        (["02.11.2026", "03.11.2026"], False),
        (["02.11.2026", "11.25.2026"], True),
    ],
)
def test_which_comes_first_is_seen_in_the_other_cells(cells, first):
    assert month_comes_first(cells) is first


@pytest.mark.parametrize(
    ("cell", "hour"),
    [
        ("23", 23),
        ("23:15", 23),
        ("23:00 - 23:59", 23),
        ("11 PM", 23),
        ("11:05 pm", 23),
        ("12 AM", 0),
        ("12:30 p.m.", 12),
        ("24:00", 0),
        ("1h05", 1),
        ("2026-11-02 01:15:00", 1),
        ("11/02/2026 11:05 PM", 23),
        ("77", None),
        ("late", None),
    ],
)
def test_an_hour(cell, hour):
    assert hour_of(cell) == hour
