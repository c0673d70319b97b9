"""What may be said of a pasted line: another drink, a spirit with its mixers, a double, nothing."""

import io
import uuid
from decimal import Decimal

import openpyxl
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from recipes import shipped
from recipes.models import Recipe
from tests.factories.recipes import recipe
from tests.recipes.pages import text, typed
from tests.recipes.test_paste_menu import BOOK, NOW, PASTE, look, poured, take

REAL_COURSE, REAL_RULES = shipped.shipped_course, shipped.shipped_rules


@pytest.fixture(autouse=True)
def _on_a_friday_in_march(time_machine, monkeypatch):
    time_machine.move_to(NOW, tick=False)
    monkeypatch.setattr(shipped, "shipped_course", REAL_COURSE)
    monkeypatch.setattr(shipped, "shipped_rules", REAL_RULES)


def send(browser, name: str, data: bytes):
    file = SimpleUploadedFile(name, data)
    return browser.post(PASTE, {"form_key": str(uuid.uuid4()), "menu": "", "file": file})


def test_any_drink_of_the_book_may_be_named_in_a_lines_place(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "Fog Bell 11\nMadras 8")

    answer = take(browser, shown, **{"other-1": "french 75"})

    assert answer.redirect_chain == [(BOOK, 302)], text(answer)
    assert recipe(tamsin, "french-75").price == Decimal(11)
    assert "Fog Bell" in recipe(tamsin, "french-75").aliases


def test_a_name_that_no_drink_has_is_said(visit, tamsin):
    browser = visit(tamsin)

    answer = take(browser, look(browser, "Madras 8"), **{"other-1": "Fog Bell"})

    assert "There is no drink “Fog Bell” in the book." in text(answer)
    assert typed(answer, "menu")["other-1"] == "Fog Bell"


def test_a_clear_line_may_be_another_drink_and_keeps_its_own_names(visit, tamsin):
    browser = visit(tamsin)
    take(browser, look(browser, "Madras 8"), **{"other-1": "Sea Breeze"})

    assert recipe(tamsin, "sea-breeze").price == Decimal(8)
    assert "Madras" not in recipe(tamsin, "sea-breeze").aliases
    assert recipe(tamsin, "madras").price is None


def test_a_bare_spirit_is_poured_with_its_mixers(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "Tequila 6\nMadras 8")
    assert "do-1" not in typed(shown, "menu")
    assert "With a mixer: Tequila Tonic" in text(shown)

    take(browser, shown, **{"do-1": "mixed", "drop_rest": "on"})

    assert poured(tamsin) == {"tequila-tonic", "tequila-soda", "tequila-pineapple", "madras"}
    assert recipe(tamsin, "tequila-tonic").price is None


def test_a_bare_spirit_is_its_shot(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "Tequila 6\nMadras 8")

    take(browser, shown, **{"do-1": "drink tequila-shot", "drop_rest": "on"})

    assert poured(tamsin) == {"tequila-shot", "madras"}
    assert recipe(tamsin, "tequila-shot").price == Decimal(6)


def test_a_double_leaves_the_price_of_its_drink_alone(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "Gin & Tonic 9\nGin & Tonic (double) 14")
    assert "These are left out" in text(shown)

    take(browser, shown)

    assert recipe(tamsin, "gin-and-tonic").price == Decimal(9)


def test_every_open_line_is_left_out_with_one_tap(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "Fog Bell 11\nTequila 6\nSalted almonds 4\nMadras 8")
    assert "3 lines need a word from you" in text(shown)
    answered = {**typed(shown, "menu"), "do-2": "drink tequila-shot", "leave_open": "1"}

    left = browser.post(PASTE, answered)

    assert "a word from you" not in text(left)
    form = typed(left, "menu")
    assert [form[f"do-{n}"] for n in (1, 2, 3)] == ["leave", "drink tequila-shot", "leave"]
    assert recipe(tamsin, "madras").price is None
    take(browser, left, drop_rest="on")
    assert poured(tamsin) == {"tequila-shot", "madras"}


def test_open_lines_lead_to_each_other_and_clear_ones_are_folded(visit, tamsin):
    shown = look(visit(tamsin), "Fog Bell 11\nMadras 8\nSalted almonds 4")
    page = shown.content.decode()

    assert '<a class="tap" href="#line-3">' in page
    assert '<a class="tap" href="#then">' in page
    assert '<details class="fold ruled" id="line-2">' in page
    assert '<option value="French 75">' in page


def test_a_sheet_with_sales_proposes_its_best_sellers(visit, tamsin):
    book, out = openpyxl.Workbook(), io.BytesIO()
    sold = [("Madras", 8, 5), ("Cosmopolitan", 12, 90), ("Sea Breeze", 9, 300), ("Negroni", 12, 2)]
    for row in (("Qty", "Price", "Item"), *((n, price, name) for name, price, n in sold)):
        book.active.append(row)
    book.save(out)
    browser = visit(tamsin)
    shown = send(browser, "sold.xlsx", out.getvalue())
    assert "80 % of what your sheet says was sold" in text(shown)

    take(browser, shown, drop_rest="on")

    known = Recipe.objects.in_house(tamsin.venue).filter(must_know=True, is_poured=True)
    assert {r.slug for r in known} == {"sea-breeze", "cosmopolitan"}
    assert recipe(tamsin, "cosmopolitan").price == Decimal(12)


def test_a_file_that_is_no_menu_says_so(visit, tamsin):
    answer = send(visit(tamsin), "menu.png", b"\x89PNG\r\n\x1a\n\0\0")

    assert "This file can't be read." in text(answer)
