"""The board as somebody wants to look at it."""

import csv
import datetime as dt
import io
import json
from types import SimpleNamespace

import pytest
import time_machine
from django.core.management import call_command

from assessments import board
from assessments.board_look import Look, Order, in_order, look_at
from assessments.measures.readiness import Standing
from assessments.measures.sales_mix import ShiftKind
from recipes.models import Module
from tests.assessments.pages import address, text
from tests.assessments.test_board import only_must_knows, prove, station
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.people import hire as hire_somebody
from tests.factories.policies import ask_for, let
from tests.factories.tills import NIGHTS, take_in


@pytest.fixture
def three(odalys, tamsin, nils):
    """Nils is ready, Bo has shown something, Zoe nothing."""
    bo, zoe = hire_somebody(odalys, "Bo"), hire_somebody(odalys, "Zoe")
    only_must_knows(odalys)
    prove(tamsin, nils)
    make.watch(tamsin, bo, "gin-tonic")
    return [nils, bo, zoe]


def seen(member, hires, **asked):
    menu = make.menu_of(member, LATER)
    return look_at(menu, hires, Look(station(member), **asked))


def names(found):
    return [row.hire.name for row in found.rows]


@pytest.mark.parametrize(
    ("order", "first"),
    [
        (Order.STANDING, ["Nils", "Bo", "Zoe"]),
        (Order.RIGHT, ["Nils", "Bo", "Zoe"]),
        (Order.NAME, ["Bo", "Nils", "Zoe"]),
        (Order.WRONG, ["Bo", "Nils", "Zoe"]),
        (Order.MISSING, ["Nils", "Bo", "Zoe"]),
    ],
)
def test_in_what_order(three, odalys, order, first):
    assert names(seen(odalys, three, order=order)) == first


def stands(name, right_low, wrong, *, is_seen=True):
    return SimpleNamespace(
        hire=SimpleNamespace(name=name, code=name), standing=Standing.NOT_YET, is_seen=is_seen,
        right=right_low + 0.1, right_low=right_low, wrong=wrong,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("order", "by_name"),
    [
        (Order.STANDING, ["good", "fair", "weak"]),
        (Order.RIGHT, ["good", "fair", "weak"]),
        (Order.WRONG, ["weak", "fair", "good"]),
    ],
)
@pytest.mark.parametrize(("right_low", "wrong"), [(0.1, 0.8), (0.5, 0.35), (0.99, 0.0)])
def test_whoever_has_no_figures_comes_after_all_who_have(order, by_name, right_low, wrong):
    """Whatever is assumed of anybody."""
    unseen = stands("anybody", right_low, wrong, is_seen=False)
    rows = [unseen, stands("weak", 0.2, 0.6), stands("good", 0.9, 0.02), stands("fair", 0.6, 0.2)]

    assert [row.hire.name for row in in_order(rows, order)] == [*by_name, "anybody"]


def test_who_has_figures_is_told_for_everybody_at_once(three, odalys):
    rows = seen(odalys, three).rows

    assert [row.is_seen for row in rows] == [row.trials > 0 for row in rows] == [True, True, False]


def test_two_that_are_alike_stand_by_name(odalys):
    hires = [hire_somebody(odalys, name) for name in ("Vera", "ada", "Moss")]
    rows = board.board(station(odalys), make.menu_of(odalys), hires)

    for order in Order:
        assert [r.hire.name for r in in_order(rows, order)] == ["ada", "Moss", "Vera"]


def test_only_those_who_stand_so_and_all_are_counted(three, odalys):
    found = seen(odalys, three, standing=Standing.NOT_YET)

    assert names(found) == ["Bo", "Zoe"]
    assert (found.ready, len(found.everybody)) == (1, 3)


def test_figures_of_a_module_alone_and_standing_of_the_whole_station(three, odalys):
    module = Module.objects.in_house(odalys.venue).get(slug="highballs")
    whole = {r.hire: r for r in seen(odalys, three).rows}
    part = {r.hire: r for r in seen(odalys, three, module=module).rows}

    for hire in three:
        assert part[hire].verdict.standing is whole[hire].verdict.standing
        assert {d.module for d in part[hire].facts.drinks} == {module.name}
    assert part[three[1]].verdict.right != whole[three[1]].verdict.right
    assert len(part[three[0]].facts.drinks) < len(whole[three[0]].facts.drinks)


def test_a_kind_of_shift_weighs_drinks_as_it_orders(odalys, marek, tamsin, nils):
    take_in(marek, NIGHTS.decode("cp1252"), at=NOW)
    make.watch(tamsin, nils, "gin-tonic")

    def shares(shift):
        [row] = seen(odalys, [nils], shift=shift).rows
        return {d.slug: d.share for d in row.facts.drinks}

    assert shares(ShiftKind.WEEKEND_LATE) != shares(ShiftKind.WEEK_EARLY)


def test_the_page_shows_what_the_address_asks_for(three, visit, marek):
    path, browser = address(marek, "who_is_ready"), visit(marek)
    page = browser.get(f"{path}?station=well&standing=not_yet&order=name&module=highballs")

    assert [row.hire.name for row, _ in page.context["rows"]] == ["Bo", "Zoe"]
    said = text(page)
    assert "Well: 1 of 3 ready" in said
    assert "of Highballs alone; standing is for the whole station" in said
    assert "Nobody stands so." in text(browser.get(f"{path}?standing=second"))
    late = text(browser.get(f"{path}?shift=weekend-late"))
    assert "Friday and Saturday, from ten on." in late


def test_another_station_keeps_what_was_asked_for_save_the_module(three, visit, marek):
    page = visit(marek).get(f"{address(marek, 'who_is_ready')}?order=name&module=highballs")

    assert 'href="?order=name&amp;station=beer-point"' in page.content.decode()


@pytest.mark.parametrize(
    "query", ["shift=lunch", "module=attic", "standing=boss", "order=luck",
              "station=beer-point&module=attic"],
)  # fmt: skip
def test_what_there_is_none_of_is_not_found(visit, marek, nils, query):
    for page in ("who_is_ready", "ready_pdf", "ready_csv"):
        assert visit(marek).get(f"{address(marek, page)}?{query}").status_code == 404


def as_command(shift):
    out = io.StringIO()
    call_command("who_is_ready", "--station", "well", "--shift", shift, "--json", stdout=out)
    return {row["person"]: row for row in json.loads(out.getvalue())}


@pytest.mark.parametrize("shift", sorted(ShiftKind))
def test_screen_file_and_command_reckon_for_the_same_moment(three, odalys, visit, marek, shift):
    ask_for(odalys, "well", shift, least_right=0.6)
    with time_machine.travel(LATER + dt.timedelta(days=20), tick=False):
        told = as_command(shift)
        page = visit(marek).get(f"{address(marek, 'who_is_ready')}?station=well&shift={shift}")
        paper = visit(marek).get(f"{address(marek, 'ready_csv')}?station=well&shift={shift}")

    for row, shown in page.context["rows"]:
        said = told[row.hire.name]
        assert row.standing.value == said["standing"]
        for name in ("right", "right_low", "right_high", "ask", "wrong"):
            figure = round(getattr(row.verdict, name), 4) if row.trials else None
            assert figure == said[name], name
        if row.trials:  # else figures that rest on nothing are no reason on the screen
            assert shown.missing == said["missing"]
    read = csv.DictReader(io.StringIO(paper.content.decode().removeprefix("\ufeff")))
    assert {row["person"]: int(row["missing"]) for row in read} == {
        row.hire.name: len(shown.missing) for row, shown in page.context["rows"]
    }


def test_the_board_says_for_which_moment(three, visit, marek):
    path = address(marek, "who_is_ready")
    with time_machine.travel(LATER, tick=False):  # a Saturday afternoon
        said = [text(visit(marek).get(path + q)) for q in ("", "?shift=week-late")]

    assert "Reckoned for now, on an ordinary shift." in said[0]
    assert "Reckoned for Sunday, March 8, 2026, from ten in the evening on." in said[1]


FRIDAY, SATURDAY = "2026-03-13", "2026-03-14"


def test_a_word_for_saturday_is_seen_on_friday_s_board_and_is_saturday_s_own(visit, marek, nils):
    make.take_quiz(nils, make.GATE)
    let(marek, nils, days=7, late=True, reason="Two are ill.")
    path, browser = address(marek, "who_is_ready"), visit(marek)
    with time_machine.travel(NOW + dt.timedelta(days=5), tick=False):  # the Thursday before
        friday = browser.get(f"{path}?shift=weekend-late")
        saturday = browser.get(f"{path}?shift=weekend-late&day={SATURDAY}")
        week = browser.get(f"{path}?shift=week-late")
        files = [
            browser.get(f"{address(marek, 'ready_csv')}?shift=weekend-late&day={day}")
            for day in (FRIDAY, SATURDAY)
        ]

    when = "Saturday, March 14, 2026, from ten in the evening on"
    said = f"{when}. On the word of Marek: Two are ill."
    assert "Reckoned for Friday, March 13, 2026, from ten" in text(friday)
    assert f"For another shift : {said}" in text(friday)
    assert f"day={SATURDAY}" in friday.content.decode()
    assert f"Reckoned for {when}." in text(saturday)
    assert f"For one shift : {said}" in text(saturday)
    assert f'name="day" value="{SATURDAY}"' in saturday.content.decode()
    assert "of Marek" not in text(week)
    for file, which in zip(files, ("another", "one"), strict=True):
        once = f"for {which} shift, {when}, on the word of Marek: Two are ill."
        assert once in file.content.decode()


@pytest.mark.parametrize(
    ("day", "reckoned"),
    [
        ("", "Saturday, March 7, 2026, from ten in the evening on"),
        ("2026-03-07", "Saturday, March 7, 2026, from ten in the evening on"),
        ("2026-03-08", "Friday, March 13, 2026, from ten in the evening on"),
        ("0001-01-01", "Saturday, March 7, 2026, from ten in the evening on"),
        ("2026-04-07", "Friday, April 10, 2026, from ten in the evening on"),
        ("2026-04-08", None),
        ("9999-12-31", None),
        ("Saturday", None),
    ],
)
def test_which_shift_a_day_asks_for(three, visit, marek, day, reckoned):
    with time_machine.travel(LATER, tick=False):  # a Saturday afternoon
        query = f"?shift=weekend-late&day={day}"
        page = visit(marek).get(address(marek, "who_is_ready") + query)

    assert (page.status_code == 404) is (reckoned is None)
    assert reckoned is None or f"Reckoned for {reckoned}." in text(page)


@pytest.mark.parametrize(
    ("day", "reckoned", "as_of"),
    [
        ("2026-03-20", "Reckoned for Friday, March 20, 2026.", "2026-03-20 05:00"),
        ("2026-03-07", "Reckoned for now, on an ordinary shift.", "2026-03-07 16:00"),
        ("2026-01-01", "Reckoned for now, on an ordinary shift.", "2026-03-07 16:00"),
        ("2026-04-08", None, None),
        ("Saturday", None, None),
    ],
)
def test_a_day_without_a_kind_of_shift_is_that_day(three, visit, marek, day, reckoned, as_of):
    """As it is when that day begins; a day that isn't ahead is now. The form sends one when its
    kind of shift is taken off."""
    browser = visit(marek)
    with time_machine.travel(LATER, tick=False):  # a Saturday, in the afternoon
        now = browser.get(address(marek, "who_is_ready"))
        page = browser.get(f"{address(marek, 'who_is_ready')}?day={day}")
        files = [
            browser.get(f"{address(marek, name)}?day={day}") for name in ("ready_csv", "ready_pdf")
        ]

    if reckoned is None:
        assert [got.status_code for got in (page, *files)] == [404] * 3
        return
    assert reckoned in text(page)
    later = day == "2026-03-20"
    assert ("As it is now" in text(page)) is later
    lows = [[row.right_low for row, _ in got.context["rows"] if row.trials] for got in (page, now)]
    assert (lows[0] != lows[1]) is later  # what nobody uses fades
    assert {row["as of"] for row in rows_of(files[0])} == {as_of}
    assert f"who-is-ready-{as_of[:10]}" in files[1]["Content-Disposition"]


def rows_of(file):
    return list(csv.DictReader(io.StringIO(file.content.decode().removeprefix("\ufeff"))))


def test_a_word_for_one_shift_stands_on_the_board_of_that_shift_alone(visit, marek, nils):
    make.take_quiz(nils, make.GATE)
    let(marek, nils, late=True, reason="Two are ill.")
    with time_machine.travel(LATER, tick=False):  # the afternoon of that shift
        for shift, there in (("", True), ("weekend-late", True), ("week-late", False)):
            for page in ("who_is_ready", "ready_csv"):
                got = visit(marek).get(f"{address(marek, page)}?shift={shift}").content.decode()
                assert ("of Marek" in got) is there, (shift, page)


def test_a_module_that_pours_nothing_is_no_choice(visit, marek, three):
    """Nothing could be said of it: neither figures nor what is missing."""
    path, gate = address(marek, "who_is_ready"), Module.objects.in_house(marek.venue).gates()[0]
    browser = visit(marek)

    assert f'value="{gate.slug}"' not in browser.get(path).content.decode()
    whole, asked = browser.get(path), browser.get(f"{path}?module={gate.slug}&order=name")
    assert (asked.context["look"].module, asked.context["look"].order) == (None, Order.NAME)
    assert len(asked.context["rows"]) == len(whole.context["rows"]) == 3
    said = text(asked)
    assert f"Nothing of {gate.name} is poured at Well" in said
    assert "Whoever has not passed it yet has it under what is missing." in said
    other = text(browser.get(f"{path}?station=beer-point&module=highballs"))
    assert "Nothing of Highballs is poured at Beer" in other
    assert "Whoever has not passed it yet" not in other
    csv_there = address(marek, "ready_csv")
    assert f'href="{csv_there}?order=name&amp;station=well"' in asked.content.decode()
    for page in ("ready_pdf", "ready_csv"):  # a file would be taken for that of the module
        assert browser.get(f"{address(marek, page)}?module={gate.slug}").status_code == 404
