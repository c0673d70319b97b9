"""A pasted rota with names down and days across: every filled cell is a shift, read or asked."""

import datetime as dt

import pytest

from assessments.rota_grid import find_grid, read_grid
from assessments.wording_rota import word
from tests.assessments.test_rota_lines import PEOPLE, WORDS

NOW = dt.datetime(2026, 3, 12, 15, 0)  # noqa: DTZ001  (a Thursday, on the house's clock)
DAYS = {"fri": 4, "monday": 0, "mon": 0, "tuesday": 1, "tue": 1, "wed": 2, "sunday": 6, "sun": 6}
WEEK = type(WORDS)(WORDS.weekdays | DAYS, WORDS.months)
THU, FRI, SAT, SUN = (dt.date(2026, 3, day) for day in (12, 13, 14, 15))
SIX, FOUR = dt.time(18), dt.time(16)


def read(text, begins=None):
    grid = find_grid(text, people=PEOPLE, words=WEEK, now=NOW)
    return [(x.who, x.day, x.hour) for x in read_grid(grid, people=PEOPLE, begins=begins)]


DATED = [
    "\tFri 13/3\tSat 14/3\nNils\t18:00-02:00\t\nPia\toff\t16-23",
    "Name\tFriday 13 March\tSaturday 14 March\nNils\t6pm-2am\t-\nPia\t\t4 pm",
    "Name;13.3.;14.3.\nNils;18h00;\nPia;–;16:00",
    "Name,2026-03-13,2026-03-14\nNils,18:00,\nPia,off,16.00",
    "| Name | Fri 13 | Sat 14 |\n| Nils | 18:00 | |\n| Pia | | 16:00 |",
    "Name    Fri 13    Sat 14\nNils    18:00     off\nPia     off       16:00",
    "\tFriday\tSaturday\n\t13/3\t14/3\nNils\t18:00\t\nPia\t\t16:00",
    "Fri 13/3\tSat 14/3\nNils\t18:00\t\nPia\t\t16:00",  # its corner was lost
    "Name\tRole\tFri 13th\tSat 14th\nNils\tbar\t18:00\t\nPia\tfloor\t\t16:00",
    "\tNils\tPia\nFri 13/3\t18:00\t\nSat 14/3\t\t16:00",  # days down, names across
    "The bar's rota\n\n\tFri 13/3\tSat 14/3\nNils\t18:00\t\nPia\t\t16:00",
]


@pytest.mark.parametrize("text", DATED)
def test_a_cell_is_a_shift_of_its_row_s_name_on_its_column_s_day(text):
    assert sorted(read(text)) == [("n", FRI, SIX), ("p", SAT, FOUR)]


def test_a_day_with_two_times_of_work_has_two_shifts():
    """In one cell, or on a second row without a name."""
    one = read("\tFri 13/3\tSat 14/3\nNils\t10:00-14:00 / 18:00-23:00\t")
    two = read("\tFri 13/3\tSat 14/3\nNils\t10-14\t\n\t18-23\t")

    assert one == two == [("n", FRI, dt.time(10)), ("n", FRI, SIX)]


@pytest.mark.parametrize(
    ("cell", "hour"), [("late", None), ("6-2", None), ("x", None), ("18", SIX)]
)
def test_a_cell_that_says_no_hour_is_asked_about(cell, hour):
    assert read(f"\tFri 13/3\tSat 14/3\nNils\t{cell}\t") == [("n", FRI, hour)]


@pytest.mark.parametrize("cell", ["x", "X", "-", "\u2014", "/", "off", "OFF", "Off."])
def test_beside_hours_a_cross_a_line_and_off_say_that_nobody_works(cell):
    text = f"\tFri 13/3\tSat 14/3\nNils\t{cell}\t18:00\nPia\t16:00\t{cell}"

    assert read(text) == [("n", SAT, SIX), ("p", FRI, FOUR)]


def test_where_no_cell_says_an_hour_a_cross_may_be_a_shift_and_is_asked_about():
    assert read("\tFri 13/3\tSat 14/3\nNils\tx\toff\nPia\t\tx") == [
        ("n", FRI, None), ("p", SAT, None),
    ]  # fmt: skip


def test_under_days_with_dots_an_hour_of_one_figure_is_of_24():
    assert read("\t13.3.\t14.3.\nNils\t9.30\tx") == [("n", FRI, dt.time(9, 30))]


@pytest.mark.parametrize(
    ("text", "sentences"),
    [
        ("\tFri 13/3\tSat 14/3\nZora\t18:00\t", ["Nobody here is called “Zora”."]),
        ("\tFri 13/3\tSat 14/3\nNils\t25:00\t", ["“25:00” is no time of day."]),
        ("\tFri 14/3\tSat 14/3\nNils\t18:00\t", ["“Fri 14/3” is no day of the calendar."]),
        ("\tFri 13/3\tSat 14/3\nNils\t\t\t16:00",
         ["Its row has more or fewer cells than there are days: which day is it?"]),
    ],
)  # fmt: skip
def test_what_a_cell_leaves_open_is_said_by_its_words(text, sentences):
    grid = find_grid(text, people=PEOPLE, words=WEEK, now=NOW)

    [cell] = read_grid(grid, people=PEOPLE)
    assert [word(reason) for reason in cell.left] == sentences


def test_weekdays_alone_say_no_week_and_are_asked_for_their_first_day():
    text = "\tFri\tSat\tSun\tMon\nNils\t18:00\t\t\t18:00"
    grid = find_grid(text, people=PEOPLE, words=WEEK, now=NOW)

    assert grid.needs_first_day
    assert read(text) == [("n", None, SIX), ("n", None, SIX)]
    assert read(text, begins=dt.date(2026, 3, 20)) == [
        ("n", dt.date(2026, 3, 20), SIX), ("n", dt.date(2026, 3, 23), SIX),
    ]  # fmt: skip


def test_after_a_dated_column_weekdays_run_on():
    text = "\tFri 13/3\tSat\tSun\nNils\t18:00\t18:00\t16:00"

    assert read(text) == [("n", FRI, SIX), ("n", SAT, SIX), ("n", SUN, FOUR)]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        # a name of nobody here, a heading between rows, a day that contradicts itself
        ("\tFri 13/3\tSat 14/3\nWanda\t18:00\t", [(None, FRI, SIX)]),
        ("\tFri 13/3\tSat 14/3\nFloor\t\t\nNils\t18:00\t", [(None, None, None), ("n", FRI, SIX)]),
        ("\tFri 14/3\tSat 14/3\nNils\t18:00\t16:00", [("n", None, SIX), ("n", SAT, FOUR)]),
        # blanks between cells lose the empty ones: which day it is nobody can tell
        ("Name   Fri 13   Sat 14\nNils            16:00", [("n", None, FOUR)]),
        # more cells than days
        ("\tFri 13/3\tSat 14/3\nNils\t\t\t16:00", [("n", None, FOUR)]),
    ],
)
def test_what_nobody_could_tell_stays_open_and_nothing_is_dropped(text, found):
    assert read(text) == found


@pytest.mark.parametrize(
    "text",
    [
        "Nils, Saturday, 18:00\nPia, Friday, 16:00", "Nils\tSat\t6pm", "Saturday 14/3\n18:00 Nils",
        "Sat 18:00, Sun 18:00", "", "Fri\tSat",
    ],
)  # fmt: skip
def test_a_shift_a_line_is_no_grid(text):
    assert find_grid(text, people=PEOPLE, words=WEEK, now=NOW) is None
