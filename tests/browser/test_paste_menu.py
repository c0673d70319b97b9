"""The first hour in a real browser: a menu is pasted, recipes come in from a sheet."""

from __future__ import annotations

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from tests.browser.signing_in import at_once

MENU = """Gin & Tonic 9.50
Margerita 11
Cognac & tonic 9
Madras – vodka, cranberry, grapefruit 9
Salted almonds 4"""
SHEET = """name,ingredients
Harbour Mist,40 ml vodka; top cola
Fog,1 pour lime juce
Haze,50 ml navy rum"""
GOOD = """name,ingredients
Harbour Mist,40 ml vodka; top cola
Madras,1 pour gin; top cranberry juice"""


def address(name: str) -> str:
    return reverse(name, kwargs={"house": "harbour-lights"})


def group(page: Page, said: str):
    return page.get_by_role("group", name=said)


@pytest.mark.parametrize("size", ["phone", "desktop", "narrowest"])
def test_a_menu_is_pasted(open_browser, odalys, size):
    visit = open_browser(size)
    page = at_once(visit, odalys)
    page.goto(address("book"))
    visit.follow(page.get_by_role("link", name="Paste your menu"))
    visit.check()
    page.get_by_label("Your menu").fill(MENU)
    page.get_by_role("button", name="Look at the lines").click()
    expect(page.locator("summary .taken", has_text="Margarita")).to_be_visible()
    visit.check()
    group(page, "Madras").get_by_text("Sea Breeze", exact=True).click()
    group(page, "Salted almonds").get_by_text("Leave it out").click()
    page.get_by_label("other drinks off the menu").check()
    page.get_by_role("button", name="That is our menu").click()

    expect(page.get_by_text("That is the menu: 1 new drink")).to_be_visible()


@pytest.mark.parametrize("size", ["phone", "desktop", "narrowest"])
def test_recipes_come_in_from_a_sheet(open_browser, odalys, size):
    visit = open_browser(size)
    page = at_once(visit, odalys)
    page.goto(address("book_import"))
    visit.check()
    page.get_by_label("Or its rows, pasted").fill(SHEET)
    page.get_by_role("button", name="Look at the rows").click()
    expect(page.get_by_text("Did you mean lime juice?")).to_be_visible()
    page.get_by_label("Take unknown ingredients in as new").check()
    page.get_by_role("button", name="Look once more").click()
    expect(page.get_by_text("navy rum")).to_be_visible()
    visit.check()
    page.get_by_role("link", name="Choose another sheet").click()
    page.get_by_label("Or its rows, pasted").fill(GOOD)
    page.get_by_role("button", name="Look at the rows").click()
    page.get_by_role("button", name="Take them in").click()

    expect(page.get_by_text("Taken in: 1 new drink, 1 changed.")).to_be_visible()
