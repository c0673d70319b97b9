"""Setting signed-off drinks in columns."""

from hypothesis import given
from hypothesis import strategies as st

from barcourse.papers.columns import COLUMNS, LEAST_HEIGHT, Day, Line, More, in_columns
from barcourse.papers.shown import SignedDrink
from tests.papers.sheets import drinks

names = st.text("abc ", min_size=1, max_size=80).filter(str.strip)
signed = st.builds(
    SignedDrink,
    slug=st.just("a"),
    name=names,
    revision=st.integers(1, 9),
    day=st.sampled_from(["2026-03-09", "2026-03-10", "2026-03-11"]),
)


@given(st.lists(signed, max_size=40), st.integers(0, 16))
def test_nothing_is_lost_and_nothing_is_too_high(given, most):
    columns = in_columns(given, most)
    entries = [entry for column in columns for entry in column]
    more = sum(entry.count for entry in entries if isinstance(entry, More))

    assert len(columns) <= COLUMNS
    assert all(sum(entry.rows for entry in column) <= most for column in columns)
    assert not any(isinstance(column[-1], Day) for column in columns)
    if columns:
        assert sum(isinstance(entry, Line) for entry in entries) + more == len(given)


@given(st.lists(signed, max_size=40), st.integers(4, 16))
def test_drinks_stand_under_their_day_in_order(given, most):
    under = None
    kept = []
    for column in in_columns(given, most):
        for entry in column:
            if isinstance(entry, Day):
                assert under is None or entry.day > under
                under = entry.day
            elif isinstance(entry, Line):
                assert entry.drink.day == under
                kept.append(entry.drink)

    assert kept == sorted(given, key=lambda drink: drink.day)[: len(kept)]


def test_no_drinks_take_no_room():
    assert in_columns((), 10) == []


def test_a_few_stay_in_one_column():
    [column] = in_columns(drinks(5, days=1), 12)

    assert len(column) == LEAST_HEIGHT


def test_many_are_set_evenly():
    columns = in_columns(drinks(30, days=3), 20)

    assert [len(column) for column in columns] == [11, 11, 11]


def test_what_has_no_room_is_counted():
    columns = in_columns(drinks(100, days=1), 9)

    assert columns[-1][-1] == More(100 - (3 * 9 - 2))


def test_a_long_name_takes_the_rows_it_needs():
    name = "Dark rum and ginger beer with a squeeze of lime"

    assert Line(SignedDrink("a", name, 1, "2026-03-09")).rows == 3
