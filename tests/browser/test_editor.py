"""The editor of the house book in a real browser: it follows the typing, and every page of it can
be read by everyone."""

from __future__ import annotations

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from barcourse.people.models import Membership
from recipes.models import Recipe, Scenario
from tests.browser.signing_in import at_once


def address(name: str, **parts: str) -> str:
    return reverse(name, kwargs={"house": "harbour-lights", **parts})


def publish_with_scripts(page: Page) -> None:
    page.get_by_label("What goes in").fill("2 pours vodka\ntop cranberry juice")
    button = page.get_by_role("button", name="Publish this revision")
    expect(button).to_be_visible()
    button.click()


def publish_without(page: Page) -> None:
    page.get_by_label("What goes in").fill("2 pours vodka\ntop cranberry juice")
    page.get_by_role("button", name="See the steps").click()
    page.get_by_role("button", name="Publish this revision").click()


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without"])
def test_a_drink_is_changed(open_browser, odalys: Membership, scripts: bool):
    visit = open_browser("phone", java_script_enabled=scripts)
    page = at_once(visit, odalys)
    page.goto(address("drink_change", slug="madras"))

    (publish_with_scripts if scripts else publish_without)(page)
    page.wait_for_url("**/book/drink/madras/")

    expect(page.get_by_text("revision 2 is published and counts from now")).to_be_visible()
    row = Recipe.objects.get(venue=odalys.venue, slug="madras")
    assert row.revisions.get(number=2).build.parts[0].amount == 2


def test_the_preview_follows_the_typing(open_browser, odalys: Membership):
    visit = open_browser("desktop")
    page = at_once(visit, odalys)
    page.goto(address("drink_new"))
    preview = page.locator("#preview")

    page.get_by_label("What goes in").press_sequentially("1 pour gin; top ginger be")
    expect(preview).to_contain_text("Did you mean ginger beer?")
    page.get_by_label("What goes in").press_sequentially("er")
    expect(preview).to_contain_text("This is how it would be built")
    expect(preview.locator("svg").first).to_be_visible()
    expect(preview.get_by_role("button", name="Add this drink")).to_have_count(0)
    page.get_by_label("Name of the drink").fill("Quay Buck")
    expect(preview.get_by_role("button", name="Add this drink")).to_be_visible()
    visit.check()
    preview.get_by_role("button", name="Add this drink").click()
    page.wait_for_url("**/book/drink/quay-buck/")

    assert Recipe.objects.filter(venue=odalys.venue, slug="quay-buck").exists()


@pytest.mark.parametrize("size", ["phone", "desktop", "narrowest"])
def test_every_page_of_the_editor_can_be_read_by_everyone(open_browser, odalys, size):
    visit = open_browser(size)
    page = at_once(visit, odalys)
    asked = Scenario.objects.filter(venue=odalys.venue).select_related("lesson__module")[0]
    lesson = {"module": asked.lesson.module.slug, "lesson": asked.lesson.slug}
    pages = {
        "book": {},
        "drink": {"slug": "madras"},
        "drink_new": {},
        "drink_change": {"slug": "madras"},
        "drink_card": {"slug": "madras"},
        "drink_retire": {"slug": "madras"},
        "drink_compare": {"slug": "madras"},
        "ingredients": {},
        "ingredient_new": {},
        "ingredient": {"ingredient": "vodka"},
        "ingredient_label": {"ingredient": "vodka"},
        "lessons": {},
        "module_notes": {"module": lesson["module"]},
        "lesson_new": {"module": lesson["module"]},
        "lesson_edit": lesson,
        "lesson_remove": lesson,
        "question_new": lesson,
        "question_edit": {**lesson, "question": asked.slug},
        "question_remove": {**lesson, "question": asked.slug},
    }

    for name, parts in pages.items():
        answer = page.goto(address(name, **parts))
        assert answer is not None
        assert answer.status == 200, name
        visit.check()
