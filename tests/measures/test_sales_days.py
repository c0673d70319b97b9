"""Which days of which exports count."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessments.measures.sales_days import Export, Part, counting, outdone

D = [dt.date(2026, 3, n) for n in range(1, 8)]


def of(*days, hours=None, told=None, **said):
    return Export(tuple(Part(day, hours, told) for day in days), **said)


NO_DAYS = of(None)


@pytest.mark.parametrize(
    ("newest_first", "expected"),
    [
        ([of(D[2]), of(D[0], D[1])], [(0,), (0, 1)]),
        ([of(D[1]), of(D[0], D[1], D[2])], [(0,), (0, 2)]),
        ([of(D[1]), of(D[1])], [(0,), ()]),
        ([of(D[1], hours=(18, 20)), of(D[1], hours=(12, 17))], [(0,), (0,)]),
        ([of(D[1], hours=(18, 20)), of(D[1], hours=(12, 18))], [(), (0,)]),
        ([of(D[1], hours=(12, 18)), of(D[1], hours=(18, 20))], [(0,), ()]),
        # It begins later and ends later, and tells less of the evening.
        ([of(D[1], hours=(17, 22)), of(D[1], hours=(13, 20))], [(), (0,)]),
        ([of(D[1], hours=(13, 20)), of(D[1], hours=(15, 22))], [(0,), ()]),
        ([of(D[1], hours=(18, 20)), of(D[1])], [(0,), ()]),
        ([of(D[1]), of(D[1], hours=(18, 20))], [(0,), ()]),
        ([of(D[0]), of(D[0], None)], [(0,), ()]),
        ([of(D[0]), of(D[0], D[1], None)], [(0,), (1, 2)]),
        ([of(D[0], None), of(D[1], None)], [(0, 1), (0, 1)]),
        ([NO_DAYS, NO_DAYS, of(D[0])], [(0,), (0,), (0,)]),
        ([of(None, instead=True), NO_DAYS, of(D[0])], [(0,), (), (0,)]),
        ([of(D[0], instead=True), NO_DAYS], [(0,), ()]),
        ([NO_DAYS, of(None, instead=True), NO_DAYS], [(0,), (0,), ()]),
        # The night's last hour, of a file that begins after midnight: the evening stays.
        ([of(D[1], hours=(19, 19)), of(D[1], hours=(10, 19))], [(), (0,)]),
        ([of(D[1], hours=(10, 19)), of(D[1], hours=(10, 19))], [(0,), ()]),
        ([of(D[1], hours=(10, 19)), of(D[1], hours=(12, 18))], [(0,), ()]),
        ([of(D[0], D[1], D[2], hours=(12, 18)), of(D[1], hours=(10, 19))], [(0, 2), (0,)]),
        # From the first to the last hour as long, and less told between them.
        ([of(D[1], hours=(11, 19), told=2), of(D[1], hours=(12, 18))], [(), (0,)]),
        ([of(D[1], hours=(11, 19), told=8), of(D[1], hours=(12, 18))], [(0,), ()]),
        ([of(D[1], hours=(12, 18)), of(D[1], hours=(11, 19), told=2)], [(0,), ()]),
        ([of(D[1]), of(None, span=(D[0], D[2]))], [(0,), ()]),
        ([of(D[3]), of(None, span=(D[0], D[2]))], [(0,), (0,)]),
        ([of(None, span=(D[0], D[2])), of(D[1], D[3])], [(0,), (1,)]),
        ([of(None, span=(D[0], D[2])), of(None, span=(D[2], D[3]))], [(0,), ()]),
    ],
)
def test_what_counts(newest_first, expected):
    assert counting(newest_first) == expected


SETS = st.sets(st.sampled_from(D), min_size=1)


@given(st.lists(SETS, max_size=6))
def test_each_day_is_told_once_and_by_the_newest(exports):
    """Whatever came in what order: every day that was told counts, once."""
    found = counting([of(*sorted(days)) for days in exports])
    told = [sorted(days)[n] for days, places in zip(exports, found, strict=True) for n in places]

    assert sorted(told) == sorted(set().union(*exports))
    for n, (days, places) in enumerate(zip(exports, found, strict=True)):
        newer = set().union(*exports[:n])
        assert {sorted(days)[p] for p in places} == days - newer


@given(st.permutations([(11, 13), (14, 14), (15, 19), (20, 23)]))
def test_parts_of_one_evening_add_up_in_any_order(parts):
    assert counting([of(D[0], hours=hours) for hours in parts]) == [(0,)] * 4


@given(st.lists(SETS, min_size=1, max_size=6), st.data())
def test_taking_one_back_is_as_if_it_had_never_come(exports, data):
    gone = data.draw(st.integers(0, len(exports) - 1))
    rest = [of(*sorted(e)) for n, e in enumerate(exports) if n != gone]
    before = counting([of(*sorted(e)) for e in exports])

    assert counting(rest)[:gone] == before[:gone]
    for was, now in zip(before[gone + 1 :], counting(rest)[gone:], strict=True):
        assert set(was) <= set(now)


def of_nights(*nights):
    """As a till by the calendar tells them: of each day its small hour, then its evening."""
    hours = {}
    for day in nights:
        hours.setdefault(day - 1, []).append(19)
        hours.setdefault(day, []).append(16)
    return Export(tuple(Part(D[d], (min(h), max(h))) for d, h in sorted(hours.items())))


def test_two_files_by_the_calendar_lose_no_evening():
    """The first tells the small hours of the 2nd, and the evenings of the 2nd and 3rd with their
    ends; the second begins with the small hours of the 3rd."""
    older, newer = of_nights(1, 2, 3), of_nights(3, 4)

    assert [p.day for p in older.parts] == [D[0], D[1], D[2], D[3]]
    found = counting([newer, older])
    told = {
        (part.day, part.hours)
        for export, places in zip((newer, older), found, strict=True)
        for part in (export.parts[n] for n in places)
    }
    assert told == {
        (D[0], (19, 19)), (D[1], (16, 19)), (D[2], (16, 19)), (D[3], (16, 19)), (D[4], (16, 16)),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("newest_first", "lost"),
    [
        ([of(D[1], hours=(2, 2)), of(D[1], hours=(1, 3))], [[0], []]),
        ([of(D[1], hours=(1, 3)), of(D[1], hours=(2, 2))], [[], []]),
        ([of(D[1], hours=(2, 2)), of(D[1], hours=(2, 2))], [[], []]),
        ([of(D[1], hours=(2, 4)), of(D[1], hours=(0, 3))], [[0], []]),
        ([of(D[1], hours=(2, 2)), of(D[1], hours=(3, 4))], [[], []]),
        ([of(D[1]), of(D[1], hours=(1, 3))], [[], []]),
    ],
)
def test_what_an_older_one_tells_more_of(newest_first, lost):
    assert outdone(newest_first, counting(newest_first)) == lost
