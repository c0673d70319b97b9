"""A name is asked about once, in however many sizes it was sold."""

import io
import json

import pytest
from django.core.management import call_command

from assessments import record_sales
from assessments.models import CallMapping, SalesLine
from assessments.models.sales import Place
from assessments.sales_alike import alike
from assessments.sales_told import Meant
from recipes.menu import menu_at
from tests.assessments.pages import address, fields, text
from tests.assessments.till_pages import send_file
from tests.factories.assessments import NOW, menu_of
from tests.factories.tills import rows, take_in

SIZES = "Item,Single,Double\nMystery Punch,10,4\nMadras,3,1\n"
RECEIPTS = rows("Mystery Punch,10", "Mystery Punch Double,4", "Madras,4")


@pytest.fixture
def menu(odalys):
    return menu_at(odalys.venue, NOW)


@pytest.mark.parametrize(
    ("names", "heads"),
    [
        (["punch", "double punch"], ["punch"]),
        (["punch double", "double punch", "punch"], ["punch"]),
        (["tall punch", "half punch", "punch s"], ["punch"]),  # nobody sold it bare
        (["pint ale x", "half ale x"], ["ale x"]),
        (["punch no ice", "punch"], ["punch"]),
        (["punches", "punch"], ["punch"]),
        (["punch-bowl", "punch bowl"], ["punch bowl"]),
        (["double punch"], ["double punch"]),
        (["punch", "diet punch"], ["punch", "diet punch"]),
        (["punch", "0.0 punch double"], ["punch", "0.0 punch double"]),
        (["punch", "2x punch"], ["punch", "2x punch"]),
        (["punch", "bottle punch"], ["punch", "bottle punch"]),
        (["punch", "pineapple punch"], ["punch", "pineapple punch"]),
        (["punch", "bunch"], ["punch", "bunch"]),
    ],
)
def test_names_that_differ_in_how_it_is_served_are_one(menu, names, heads):
    found = alike(names, menu, {})

    assert [*found] == names
    assert list(dict.fromkeys(found.values())) == heads


def test_what_was_told_and_still_waits_is_asked_by_its_own_name(menu):
    """Of it somebody said already what it is without the size."""
    told = {"punch": Meant(menu.by_slug["madras"].recipe)}

    assert alike(["punch d", "punch l"], menu, told) == {n: n for n in ("punch d", "punch l")}


@pytest.mark.parametrize("till", [SIZES, RECEIPTS], ids=["columns", "receipts"])
@pytest.mark.parametrize("to", ["whiskey-cola", "-"])
def test_one_question_tells_every_size(visit, marek, till, to):
    browser, path = visit(marek), address(marek, "sales_names")
    take_in(marek, till)
    page = browser.get(address(marek, "sales_mix"))
    sent = fields(page, path)

    assert sent["said"] == ["mystery punch"]
    assert "mystery punch, 14 sold" in text(page)
    assert "mystery punch (10)" in text(page)
    browser.send(path, sent | {"pick-0": to if to == "-" else "", "drink": "" if to == "-" else to})

    after = text(browser.get(address(marek, "sales_mix")))
    assert "Which drink is it?" not in after
    place = Place.NOT_OURS if to == "-" else Place.MAPPED
    told = SalesLine.objects.filter(said__contains="punch")
    assert {row.place for row in told} == {place}
    assert sum(row.quantity for row in told) == 14
    assert [row.said for row in CallMapping.objects.all()] == ["mystery punch"]


def test_a_size_that_does_not_follow_by_itself_is_told_with_it(visit, marek):
    """The L beside a gin tonic may be the light one: here somebody saw it and said so."""
    browser, path = visit(marek), address(marek, "sales_names")
    take_in(marek, rows("Mystery Punch,10", "Mystery Punch L,4"))
    sent = fields(browser.get(address(marek, "sales_mix")), path)
    assert sent["said"] == ["mystery punch"]

    browser.send(path, sent | {"drink": "gin-tonic"})

    told = {row.said: row.place for row in SalesLine.objects.all()}
    assert told == dict.fromkeys(["mystery punch", "mystery punch l"], Place.MAPPED)
    assert {row.said for row in CallMapping.objects.all()} == {*told}


def test_a_name_that_nobody_sold_bare_is_told_and_told_otherwise(visit, marek):
    browser, path = visit(marek), address(marek, "sales_names")
    mix = address(marek, "sales_mix")
    take_in(marek, "Item,Double,Triple\nMystery Punch,4,2\n")
    browser.send(path, fields(browser.get(mix), path) | {"drink": "madras"})
    assert "mystery punch: Madras" in text(browser.get(mix))

    again = browser.get(f"{mix}?otherwise=mystery+punch")
    assert "mystery punch, 6 sold" in text(again)
    browser.send(path, fields(again, path) | {"drink": "negroni"})

    assert {row.recipe.slug for row in SalesLine.objects.all()} == {"negroni"}


def test_what_was_sent_wrongly_keeps_its_sizes(visit, marek):
    browser, path = visit(marek), address(marek, "sales_names")
    take_in(marek, SIZES)
    sent = fields(browser.get(address(marek, "sales_mix")), path)

    shown = browser.send(path, sent | {"drink": "no such drink"})

    assert "mystery punch, 14 sold" in text(shown)
    again = fields(shown, path)
    browser.send(path, again | {"drink": "madras"})
    assert {row.place for row in SalesLine.objects.all()} == {Place.MAPPED}


def test_other_names_are_not_told_along(visit, marek):
    """A form can't tell a name that was never sold."""
    take_in(marek, SIZES)
    sent = {"said": "mystery punch", "drink": "madras", "alike-0": ["margarita"]}

    assert visit(marek).send(address(marek, "sales_names"), sent).status_code == 404
    assert CallMapping.objects.count() == 0


def test_the_preview_asks_once(visit, marek):
    shown = text(send_file(visit(marek), address(marek, "sales_take"), SIZES))

    assert "1 name waits to be told" in shown
    assert "mystery punch Mystery Punch, Single (10), Mystery Punch, Double (4) 14" in shown


def test_the_command_asks_once(odalys, tmp_path):
    path, out = tmp_path / "till.csv", io.StringIO()
    path.write_text(SIZES)
    call_command("import_sales", str(path), "--dry-run", "--json", stdout=out)

    [asked] = json.loads(out.getvalue())["ask"]
    assert (asked["item"], asked["quantity"]) == ("mystery punch", 14)
    assert asked["written"] == {"mystery punch": 10, "double mystery punch": 4}

    out = io.StringIO()
    call_command("import_sales", str(path), "--dry-run", stdout=out)
    said = "14 mystery punch (mystery punch (10), double mystery punch (4)): which drink?"
    assert said in out.getvalue()


def test_forgotten_it_is_one_question_again(marek):
    take_in(marek, SIZES)
    for to in ("madras", record_sales.FORGET):
        record_sales.tell_names(by=marek, told={"mystery punch": to}, menu=menu_of(marek), at=NOW)

    waiting = SalesLine.objects.filter(place=Place.WAITING)
    assert {row.said for row in waiting} == {"mystery punch", "double mystery punch"}
