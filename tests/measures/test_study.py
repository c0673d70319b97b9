"""Minutes studied, from the moments of the answers."""

from datetime import UTC, date, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessments.measures.study import (
    LEAST_READ_S,
    LONGEST_S,
    PAUSE,
    UNTOLD_S,
    Moment,
    counted,
    seconds_by_day,
)

NOON = datetime(2026, 5, 4, 12, tzinfo=UTC)
TODAY = date(2026, 5, 4)


def at(seconds: float, milliseconds: int | None = 4000) -> Moment:
    return Moment(NOON + timedelta(seconds=seconds), milliseconds)


def read(seconds: float, took: float) -> Moment:
    return Moment(NOON + timedelta(seconds=seconds), int(1000 * took), is_read=True)


def day_of(moment: datetime) -> date:
    return moment.date()


@pytest.mark.parametrize(
    ("moments", "seconds"),
    [
        ([at(0)], 4),
        ([at(0, None)], UNTOLD_S),
        ([at(0, 3_600_000)], LONGEST_S),
        # a sitting: from the showing of the first to the last answer
        ([at(0), at(20), at(50)], 54),
        ([at(50), at(0), at(20)], 54),
        # a pause is nobody's study
        ([at(0), at(PAUSE.total_seconds())], 124),
        ([at(0), at(PAUSE.total_seconds() + 1)], 8),
        ([], None),
        # reading is what the page said, and never what came before it as well
        ([read(300, 300)], 300),
        ([at(0), read(300, 250)], 254),
        ([at(0), read(100, 5)], 9),
        ([at(0), read(20, 60)], 24),
        ([read(0, 60), at(20)], 80),
    ],
)
def test_seconds(moments, seconds):
    assert seconds_by_day(moments, day_of).get(TODAY) == seconds


def test_each_answer_falls_on_its_own_day():
    midnight = [at(12 * 3600 - 10), at(12 * 3600 + 20)]

    assert seconds_by_day(midnight, day_of) == {TODAY: 4, TODAY + timedelta(days=1): 30}


@given(st.lists(st.floats(0, 80_000), max_size=40))
def test_nobody_studies_longer_than_from_first_to_last_and_one_answer(seconds):
    moments = [at(s) for s in seconds]
    whole = sum(seconds_by_day(moments, day_of).values())

    assert whole <= 4 * len(seconds) + sum(_gaps(sorted(seconds))) + 1e-6
    if seconds:
        assert whole >= 4


def _gaps(seconds):
    return [b - a for a, b in pairwise(seconds) if b - a <= 120]


@pytest.mark.parametrize(
    ("words", "said", "so_far", "counts"),
    [
        (1000, 60, 0, 60),
        (1000, 3600, 0, 600),  # an idle hour before a thousand words
        (1000, 300, 500, 100),
        (1000, 10, 600, 0),
        (1, 60, 0, LEAST_READ_S),
        (0, 60, 0, LEAST_READ_S),
        (1000, 0, 0, 0),
    ],
)
def test_reading_counts_as_far_as_the_text_takes(words, said, so_far, counts):
    assert counted(said, "word " * words, so_far) == counts
