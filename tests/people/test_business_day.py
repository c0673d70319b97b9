"""The day a night belongs to, also when the clocks change.

Changes of the clocks are facts of the time-zone database (tzdata): Lisbon 2026 forward on
29 March at 01:00 UTC, back on 25 October at 01:00 UTC; New York 2026 forward on 8 March at 07:00
UTC, back on 1 November at 06:00 UTC; Lord Howe changes by half an hour.
"""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barcourse.people.models import Venue


def utc(text):
    return dt.datetime.fromisoformat(text).replace(tzinfo=dt.UTC)


def venue(zone, hour=5):
    return Venue(timezone=zone, business_hour=hour)


@pytest.mark.parametrize(
    ("zone", "hour", "at", "day"),
    [
        # an ordinary night in winter Lisbon, which keeps UTC
        ("Europe/Lisbon", 5, "2026-03-05 22:00", "2026-03-05"),
        ("Europe/Lisbon", 5, "2026-03-06 04:59", "2026-03-05"),
        ("Europe/Lisbon", 5, "2026-03-06 05:00", "2026-03-06"),
        # the night the clocks go forward: 05:00 on the wall is 04:00 UTC
        ("Europe/Lisbon", 5, "2026-03-29 00:59", "2026-03-28"),
        ("Europe/Lisbon", 5, "2026-03-29 03:59", "2026-03-28"),
        ("Europe/Lisbon", 5, "2026-03-29 04:00", "2026-03-29"),
        # the night they go back: 05:00 on the wall is 05:00 UTC once more
        ("Europe/Lisbon", 5, "2026-10-25 04:59", "2026-10-24"),
        ("Europe/Lisbon", 5, "2026-10-25 05:00", "2026-10-25"),
        # a day that begins in the very hour that is skipped (New York, 02:00)
        ("America/New_York", 2, "2026-03-08 06:59", "2026-03-07"),
        ("America/New_York", 2, "2026-03-08 07:00", "2026-03-08"),
        # a day that begins in the very hour that comes twice (New York, 01:00)
        ("America/New_York", 1, "2026-11-01 04:59", "2026-10-31"),
        ("America/New_York", 1, "2026-11-01 05:00", "2026-11-01"),
        ("America/New_York", 1, "2026-11-01 06:30", "2026-11-01"),
        # half an hour, and the other side of the date line
        ("Australia/Lord_Howe", 5, "2026-04-04 17:59", "2026-04-04"),
        ("Australia/Lord_Howe", 5, "2026-04-04 18:30", "2026-04-05"),
        ("Pacific/Kiritimati", 0, "2026-01-01 09:59", "2026-01-01"),
        ("Pacific/Kiritimati", 0, "2026-01-01 10:00", "2026-01-02"),
    ],
)
def test_a_moment_belongs_to_one_business_day(zone, hour, at, day):
    assert venue(zone, hour).business_day(utc(at)) == dt.date.fromisoformat(day)


@pytest.mark.parametrize(
    ("zone", "hour", "day", "begins"),
    [
        ("Europe/Lisbon", 5, "2026-03-28", "2026-03-28 05:00"),
        ("Europe/Lisbon", 5, "2026-03-29", "2026-03-29 04:00"),
        ("Europe/Lisbon", 5, "2026-10-25", "2026-10-25 05:00"),
        ("America/New_York", 2, "2026-03-08", "2026-03-08 07:00"),  # as the clocks jump
        ("America/New_York", 1, "2026-11-01", "2026-11-01 05:00"),  # the first of the two
    ],
)
def test_a_business_day_begins_at_this_moment(zone, hour, day, begins):
    assert venue(zone, hour).business_day_begins(dt.date.fromisoformat(day)) == utc(begins)


@given(
    zone=st.sampled_from(["Europe/Lisbon", "America/New_York", "Australia/Lord_Howe", "UTC"]),
    hour=st.integers(0, 12),
    minutes=st.integers(0, 3 * 365 * 24 * 60),
)
def test_a_day_lasts_from_its_beginning_to_the_next_ones(zone, hour, minutes):
    house = venue(zone, hour)
    at = utc("2025-01-01") + dt.timedelta(minutes=minutes)

    day = house.business_day(at)

    assert house.business_day_begins(day) <= at
    assert at < house.business_day_begins(day + dt.timedelta(days=1))
