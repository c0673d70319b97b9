"""A pasted rota: what a line says of who, day and hour, and what it leaves open."""

import datetime as dt

import pytest

from assessments import rota_open
from assessments.rota_lines import RotaLine, RotaWords, hour_in, read_rota
from assessments.wording_rota import WORDS as WORDED
from assessments.wording_rota import word
from recipes.grammar.reasons import Reason

NOW = dt.datetime(2026, 3, 12, 15, 0)  # noqa: DTZ001  (a Thursday, on the house's clock)
PEOPLE = {"n": "Nils", "t": "Tamsin Reed", "p": "Pia", "o": "Tom Reed"}
WORDS = RotaWords(
    weekdays={"thursday": 3, "thu": 3, "friday": 4, "saturday": 5, "sat": 5, "samstag": 5},
    months={"march": 3, "mar": 3},
)
SATURDAY = dt.date(2026, 3, 14)
SIX = dt.time(18)


def read(text, words=WORDS, now=NOW):
    return read_rota(text, people=PEOPLE, words=words, now=now)


def one(text, **said):
    [line] = read(text, **said)
    return line.who, line.day, line.hour


@pytest.mark.parametrize(
    "said",
    [
        "Nils, Saturday, 18:00",
        "Nils Sat 1800",
        "Nils Sat 1800-0200",
        "Nils\tSat\t6pm",
        "Sat 18:00-02:00 Nils",
        "nils 2026-03-14 18.00",
        "Nils; 14/3; 6 p.m. till close",
        "Nils 14.3. 18:00",
        "Nils Sat 14/03/26 18h00",
        "NILS 14 March 18",
        "Nils, Mar 14, 6 PM - 2 AM",
        "Samstag 18:00 Nils (bar)",
    ],
)
def test_a_line_says_who_on_which_day_from_when(said):
    assert one(said) == ("n", SATURDAY, SIX)


def test_a_line_is_kept_as_it_was_said():
    assert read("  Nils,  Sat 18:00\n\n") == (RotaLine("Nils, Sat 18:00", "n", SATURDAY, SIX),)


@pytest.mark.parametrize(
    ("said", "who", "day", "hour"),
    [
        ("Wanda Sat 18:00", None, SATURDAY, SIX),
        ("Reed Sat 18:00", None, SATURDAY, SIX),  # two of that name
        ("Tom Reed Sat 18:00", "o", SATURDAY, SIX),
        ("Tamsin Sat 18:00", "t", SATURDAY, SIX),
        ("Nils 18:00", "n", None, SIX),
        ("Nils Sat Friday 18:00", "n", None, SIX),
        ("Nils Friday 14/3 18:00", "n", None, SIX),  # the fourteenth is a Saturday
        ("Nils 31/2 18:00", "n", None, SIX),
        ("Nils Sat", "n", SATURDAY, None),
        ("Nils Sat 6", "n", SATURDAY, None),  # in the morning or in the evening
        ("Nils Sat 6-2am", "n", SATURDAY, None),
        ("Nils Sat 25:00", "n", SATURDAY, None),
        ("Nils Sat 13pm", "n", SATURDAY, None),
    ],
)
def test_what_is_not_said_or_said_in_two_ways_stays_open(said, who, day, hour):
    assert one(said) == (who, day, hour)
    assert read(said)[0].is_open is (None in (who, day, hour))


HALF_PAST_NINE = dt.time(9, 30)


@pytest.mark.parametrize(
    ("said", "hour"),
    [
        ("Nils 14.3. 9.30", HALF_PAST_NINE),  # days with dots stand beside a clock of 24 hours
        ("Nils 14.3. 9.30.", HALF_PAST_NINE),
        ("Nils 14.3.2026 9:30", HALF_PAST_NINE),
        ("Nils 14.3. 9.30-14.00", HALF_PAST_NINE),
        ("Nils Sat 9.30-17.00", HALF_PAST_NINE),  # its other hour is of such a clock
        ("Nils Sat 9-17", dt.time(9)),
        ("Nils Sat 0:30", dt.time(0, 30)),
        ("Nils Sat 9.30", None),
        ("Nils 14.3. 9", None),
        ("Nils Sat 9-2", None),
    ],
)
def test_an_hour_of_one_figure_is_known_beside_a_clock_of_24_hours(said, hour):
    assert one(said) == ("n", SATURDAY, hour)


@pytest.mark.parametrize(
    "said", ["Nils Sat off", "Nils: Sat - day off", "Nils, Sat, x", "Nils Sat -", "off Nils Sat"]
)
def test_who_is_off_has_no_shift_and_nothing_left_to_say(said):
    [line] = read(said)

    assert (line.who, line.day, line.hour, line.is_off) == ("n", SATURDAY, None, True)
    assert not line.is_open


@pytest.mark.parametrize("said", ["Nils - Sat", "Nils Sat 18:00 -", "Nils Sat late"])
def test_a_line_between_words_is_not_off(said):
    assert not read(said)[0].is_off


@pytest.mark.parametrize(
    ("said", "sentences"),
    [
        ("Zora Sat 18:00", ["Nobody here is called “Zora”."]),
        ("Reed Sat 18:00", ["“Reed” may be any of these: Tamsin Reed, Tom Reed."]),
        ("Sat 18:00", ["It names nobody."]),
        ("Nils 18:00", ["It says no day."]),
        ("Nils 31/2 18:00", ["“31/2” is no day of the calendar."]),
        ("Nils Sat Friday 18:00", ["It says more than one day."]),
        ("Nils Friday 14/3 18:00", ["Its date is another day of the week than it says."]),
        ("Nils Sat", ["It says no hour."]),
        ("Nils Sat 25:00", ["“25:00” is no time of day."]),
        ("Nils Sat 13pm", ["“13pm” is no time of day."]),
        ("Nils Sat 18:75", ["“18:75” is no time of day."]),
        ("Nils Sat 6", ["“6”: in the morning or in the evening?"]),
        ("Zora 31/2", ["Nobody here is called “Zora”.", "“31/2” is no day of the calendar.",
                       "It says no hour."]),
        ("Nils Sat 18:00", []),
        ("Nils Sat off", []),
    ],
)  # fmt: skip
def test_what_is_left_to_say_is_said_by_the_words_of_the_line(said, sentences):
    assert [word(reason) for reason in read(said)[0].left] == sentences


def test_every_reason_has_its_words():
    assert set(rota_open.CODES) == set(WORDED)
    for code, names in rota_open.CODES.items():
        assert word(Reason(code, tuple((name, "18:75") for name in names)))


def test_a_month_stands_first_where_the_country_says_so():
    words = RotaWords(WORDS.weekdays, WORDS.months, month_first=True)

    assert one("Nils 4/3 18:00", words=words)[1] == dt.date(2026, 4, 3)
    assert one("Nils 4/3 18:00")[1] == dt.date(2026, 3, 4)
    assert one("Nils 14/3 18:00", words=words)[1] == one("Nils 3/14 18:00")[1] == SATURDAY


@pytest.mark.parametrize(
    ("said", "day"), [("Nils Thu 18:00", NOW.date()), ("Nils Thu 14:00", dt.date(2026, 3, 19))]
)
def test_a_weekday_is_the_next_whose_hour_has_not_come(said, day):
    assert one(said)[1] == day


def test_a_day_without_a_year_is_the_one_nearest_to_today():
    december = dt.datetime(2026, 12, 30, 15, 0)  # noqa: DTZ001

    assert one("Nils 2/1 18:00", now=december)[1] == dt.date(2027, 1, 2)
    assert one("Nils 29/12 18:00", now=december)[1] == dt.date(2026, 12, 29)


def test_a_day_alone_holds_for_the_lines_below_that_say_none():
    found = read("Saturday 14/3\n18:00 Nils\nPia 20:00\nFriday\nNils 17:00\nPia Sat Friday 17:00")

    friday = dt.date(2026, 3, 13)
    assert [(line.who, line.day) for line in found] == [
        ("n", SATURDAY), ("p", SATURDAY), ("n", friday), ("p", None),
    ]  # fmt: skip


def test_what_is_no_shift_at_all_is_handed_back_open():
    assert read("Rota of the bar") == (RotaLine("Rota of the bar", None, None, None),)
    assert read("Friday\nSee you there") == (RotaLine("See you there", None, None, None),)
    assert read(" \n ") == ()


@pytest.mark.parametrize(
    ("said", "hour"),
    [
        ("0900", dt.time(9)), ("0915-1730", dt.time(9, 15)), ("2345", dt.time(23, 45)),
        ("2026", None), ("900", None), ("2400", None), ("09001", None),
    ],
)  # fmt: skip
def test_four_figures_are_an_hour_where_they_end_on_a_quarter(said, hour):
    assert hour_in(said) == hour
