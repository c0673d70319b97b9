"""The house rules in a real browser: every page of them readable, and changed without scripts."""

import pytest

from recipes.menu import menu_at
from recipes.models import RulesVersion
from tests.browser.signing_in import at_once

RULES = "/h/harbour-lights/book/rules/"
PAGES = ("", "change/", "kinds/", "glasses/", "ice/", "garnish/", "words/", "preset/")


@pytest.mark.parametrize("size", ["narrowest", "desktop"])
def test_every_page_of_the_rules_is_readable(open_browser, odalys, size):
    visit = open_browser(size)
    at_once(visit, odalys)
    for page in PAGES:
        visit.page.goto(RULES + page)
        for fold in visit.page.locator("details.fold:not([open]) > summary").all()[:2]:
            fold.click()
        visit.check()


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without"])
def test_a_garnish_rule_is_moved_looked_at_and_published(open_browser, odalys, scripts):
    visit = open_browser("phone", java_script_enabled=scripts)
    page = visit.page
    at_once(visit, odalys)
    page.goto(f"{RULES}garnish/")
    page.get_by_role("button", name="Move rule 7 up").click()
    page.get_by_role("button", name="Move rule 6 up").click()
    page.get_by_role("button", name="Move rule 5 up").click()
    page.get_by_role("button", name="See what would change").click()
    page.get_by_text("Garnish rule 5").wait_for()
    if scripts:
        visit.check()
    page.get_by_role("button", name="Publish these rules").click()
    page.wait_for_url(f"**{RULES}")

    version = RulesVersion.objects.in_house(odalys.venue).newest_first().first()
    keys = [rule.key for rule in menu_at(odalys.venue, version.published_at).rules.garnish]
    assert keys[3] == "everything-else"
    assert "never gets its turn" in page.content()


def test_ice_is_measured_on_a_phone(open_browser, odalys):
    visit = open_browser("phone")
    page = visit.page
    at_once(visit, odalys)
    page.goto(f"{RULES}ice/")
    page.get_by_label("How much water went in").fill("4")
    visit.follow(page.get_by_role("button", name="See what would change"))
    visit.check()
    page.get_by_role("button", name="Publish these rules").click()

    page.get_by_text("measured here").wait_for()
