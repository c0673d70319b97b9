"""The board on paper and as CSV."""

import csv
import datetime as dt
import io
from dataclasses import replace

import pytest

from assessments.board_look import Look
from assessments.measures.readiness import Standing
from assessments.measures.sales_mix import ShiftKind
from assessments.shifts import moment_of
from assessments.showing import Gap
from barcourse.papers.ready_board import BoardFacts, Figures, Stand, facts_of, ready_csv, ready_pdf
from tests.assessments.pages import address
from tests.factories import assessments as make
from tests.factories.people import hire as hire_somebody
from tests.papers import ready
from tests.papers.sheets import LONG, pages_of, text_of

READY = Stand("Nils", Standing.READY, Figures(88, 81, 94, 8, 4), "", (), (), "")
NOT_YET = Stand(
    LONG, Standing.NOT_YET, None, "", (Gap("5 must-knows aren't signed off.", ["Madras"]),),
    ("Madras isn't signed off.", "=1+1"), "Watch Madras.",
)  # fmt: skip


def facts(**said):
    rows = said.pop("rows", (READY, NOT_YET))
    return BoardFacts(
        **{
            "house": "Harbour Lights",
            "as_of": dt.datetime(2026, 3, 12, 15, 5, tzinfo=dt.UTC),
            "station": "Well",
            "shift": "Friday and Saturday, from ten on",
            "module": "",
            "stations": ("Well", "Beer point"),
            "everywhere": tuple((row.person, (row, row)) for row in rows),
            "rows": rows,
            "bar": 70,
            "most_wrong": 10,
            "second_right": 50,
            **said,
        }
    )


def test_it_says_who_stands_where_with_doubt_and_caution():
    text = text_of(ready_pdf(facts()))

    assert "Friday and Saturday, from ten on." in text
    assert "88 right, 8 ask, 4 wrong" in text
    assert "right: 81 to 94" in text
    assert "no figures yet" in text
    assert "5 must-knows aren't signed off. Madras" in text
    assert "nine times in ten" in text
    assert "local law decides" in text


def test_who_stands_for_one_shift_is_said_beside_the_name():
    once = replace(NOT_YET, once=("for one shift, 14 March, until ten, on the word of Marek",))

    assert text_of(ready_pdf(facts(rows=(once,)))).count("on the word of Marek") == 3
    [row] = read(ready_csv(facts(rows=(once,))))
    assert "on the word of Marek" in row["for one shift"]


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_no_column_is_too_narrow_for_its_words(size):
    said = "for one shift, Saturday, November 28, 2026, on the word of Marek: Two are ill."
    once = replace(READY, once=(said,) * 3)
    second = replace(READY, standing=Standing.SECOND, figures=None)
    stations = ("Well", "Service bar", "Beer point", "Bar back")
    text = text_of(ready_pdf(facts(
        stations=stations, everywhere=(("Nils", (once, once, once, second)),), rows=(), size=size,
    )))  # fmt: skip

    for word in (*stations, "second", "Saturday,", "November"):
        assert word in text


def test_a_long_list_of_drinks_is_cut_short(odalys, nils, monkeypatch):
    monkeypatch.setattr("barcourse.papers.ready_board.MOST_NAMED", 2)
    [row] = facts_of(make.menu_of(odalys, ready.ISSUED), Look(ready.station(nils, "well"))).rows
    [gap] = [g for g in row.gaps if g.of]

    assert len(gap.of) == 3
    assert gap.of[-1] == f"{sum('signed off' in m for m in row.missing) - 2} more"


def test_it_is_of_the_shift_and_of_those_that_were_asked_for(odalys, nils):
    look = Look(ready.station(nils, "well"), ShiftKind.WEEKEND_EARLY, standing=Standing.NOT_YET)
    at = moment_of(odalys.venue, ready.ISSUED, look.shift)
    text = text_of(ready_pdf(facts_of(make.menu_of(odalys, at), look)))

    assert "reckoned for Friday, March 13, 2026, until ten" in text
    assert "Whoever is “not yet” at Well, at every station" in text
    assert "Everybody" not in text


def test_that_spans_are_drawn_wider_is_said():
    assert "They were off." in text_of(ready_pdf(facts(wider="They were off.")))


def test_nobody_is_said_too():
    assert "Nobody." in text_of(ready_pdf(facts(rows=())))


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_many_people_take_as_many_pages_as_it_takes(size):
    rows = tuple(READY for _ in range(60))

    assert 3 <= pages_of(ready_pdf(facts(rows=rows, size=size))) <= 8


def test_the_same_facts_give_the_same_bytes():
    assert ready_pdf(facts()) == ready_pdf(facts())


def read(text):
    return list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"))))


def test_a_row_a_person_and_no_figure_where_there_is_none():
    nils, other = read(ready_csv(facts()))

    assert (nils["person"], nils["standing"], nils["right, low end"]) == ("Nils", "ready", "81")
    assert (nils["as of"], nils["missing"]) == ("2026-03-12 15:05", "0")
    assert (other["standing"], other["right"], other["missing"]) == ("not yet", "", "2")
    assert other["what is missing"] == "Madras isn't signed off. =1+1"


def test_standings_at_every_station_are_those_of_the_board(odalys, tamsin, nils):
    hire_somebody(odalys, "Bo")
    ready.make_ready(nils, tamsin)
    menu = make.menu_of(odalys, ready.ISSUED)

    found = facts_of(menu, Look(ready.station(nils)))

    assert found.stations == ("Well", "Service bar", "Beer point", "Bar back")
    assert [(n, [s.standing.value for s in stands]) for n, stands in found.everywhere] == [
        ("Nils", ["not_yet", "not_yet", "ready", "second"]), ("Bo", ["not_yet"] * 4),
    ]  # fmt: skip
    assert [s.person for s in found.rows] == ["Nils", "Bo"]
    assert [s.figures is None for s in found.rows] == [False, True]


def test_the_files_of_the_page_ask_for_what_it_shows(visit, marek, nils):
    browser = visit(marek)
    asked = f"{address(marek, 'who_is_ready')}?station=beer-point&standing=not_yet"
    page = browser.get(asked).content.decode()
    path = address(marek, "ready_csv")

    assert f'href="{path}?station=beer-point&amp;standing=not_yet"' in page
    got = browser.get(f"{path}?station=beer-point&standing=not_yet").content.decode()
    [row] = read(got)
    assert (row["station"], row["standing"]) == ("Beer point", "not yet")
    assert read(browser.get(f"{path}?standing=ready").content.decode()) == []


def test_with_a_module_the_head_says_of_what_standing_is(visit, marek, nils):
    path, browser = address(marek, "ready_csv"), visit(marek)
    for query, head in (("", "standing"), ("?module=highballs", "standing at the whole station")):
        [row] = read(browser.get(path + query).content.decode())
        assert row[head] == "not yet"


def test_whoever_reads_the_file_is_told_whose_sign_off_it_waits_for(visit, tamsin, nils):
    make.watch(tamsin, nils, "gin-tonic")
    page = visit(tamsin).get(address(tamsin, "who_is_ready")).content.decode()
    file = visit(tamsin).get(address(tamsin, "ready_csv")).content.decode()

    assert "waits for your sign-off" in page
    assert "your" not in file
    assert "waits for Tamsin to sign it off" in file
