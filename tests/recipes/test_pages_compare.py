"""Any two revisions of a drink, side by side."""

import datetime as dt
import re

import pytest

from recipes.grammar.rules import GlassRule
from tests.factories.people import OPENED
from tests.factories.recipes import DAY, change_rules, revise
from tests.grammar import kitchen
from tests.recipes.pages import text

COMPARE = "/h/harbour-lights/book/drink/madras/compare/"
NOW = OPENED + 3 * DAY


@pytest.fixture(autouse=True)
def _three_days_on(time_machine):
    time_machine.move_to(NOW, tick=False)


def test_what_differs_says_so_aspect_by_aspect(visit, tamsin):
    revise(tamsin, "madras", glass="rocks")
    page = text(visit(tamsin).get(f"{COMPARE}?a=1&b=2"))

    assert "They differ in 1 aspect" in page
    assert "Glass Highball glass, 10 fl oz Rocks glass, 9 fl oz differs" in page
    assert "Pours 1 pour (1 fl oz) vodka 1 pour (1 fl oz) vodka the same" in page


def test_both_are_drawn_and_each_drawing_has_a_title_of_its_own(visit, tamsin):
    revise(tamsin, "madras", glass="rocks")
    page = visit(tamsin).get(f"{COMPARE}?a=1&b=2").content.decode()

    assert re.findall(r'<svg[^>]*aria-labelledby="([\w-]+)"', page) == [
        "madras-a-title", "madras-b-title",
    ]  # fmt: skip


def test_unsaid_it_is_the_newest_and_the_one_before(visit, tamsin):
    for glass in ("rocks", "pint"):
        revise(tamsin, "madras", glass=glass)

    page = text(visit(tamsin).get(COMPARE))

    assert "Glass Rocks glass, 9 fl oz Pint glass, 16 fl oz differs" in page


def test_any_two_in_any_order(visit, tamsin):
    for glass in ("rocks", "pint"):
        revise(tamsin, "madras", glass=glass)

    page = text(visit(tamsin).get(f"{COMPARE}?a=3&b=1"))

    assert "Glass Pint glass, 16 fl oz Highball glass, 10 fl oz differs" in page


def test_the_rules_of_then_or_of_now(visit, tamsin):
    """The glass grew on the second day; the revision of the first was built in the small one."""
    taller = kitchen.RULES.glasses | {"highball": GlassRule(name="Tall glass", amount=12)}
    change_rules(tamsin, glasses=taller, at=OPENED + DAY)
    revise(tamsin, "madras", straw=False, at=OPENED + DAY + dt.timedelta(hours=1))
    browser = visit(tamsin)

    then = text(browser.get(f"{COMPARE}?a=1&b=2&rules=then"))
    now = text(browser.get(f"{COMPARE}?a=1&b=2&rules=now"))

    assert "Glass Highball glass, 10 fl oz Tall glass, 12 fl oz differs" in then
    assert "Glass Tall glass, 12 fl oz Tall glass, 12 fl oz the same" in now
    assert "They differ in 2 aspects" in then
    assert "They differ in 1 aspect" in now


def test_a_revision_that_today_cannot_be_built_says_why(visit, tamsin):
    revise(tamsin, "madras", glass="hurricane")
    revise(tamsin, "madras", glass="rocks")
    glasses = {key: glass for key, glass in kitchen.RULES.glasses.items() if key != "hurricane"}
    default = kitchen.RULES.default_glass | {"blended": "pint"}
    change_rules(tamsin, glasses=glasses, default_glass=default, at=OPENED + 2 * DAY)

    now = text(visit(tamsin).get(f"{COMPARE}?a=2&b=3&rules=now"))
    then = text(visit(tamsin).get(f"{COMPARE}?a=2&b=3&rules=then"))

    assert "Under these rules it can't be built: This house has no glass “hurricane”." in now
    assert "They differ" not in now
    assert "Glass Hurricane glass, 15 fl oz Rocks glass, 9 fl oz differs" in then


@pytest.mark.parametrize("said", ["a=9&b=1", "a=x&b=1", "a=1&b=1&rules=never"])
def test_what_there_is_not_is_refused(visit, tamsin, said):
    answer = visit(tamsin).get(f"{COMPARE}?{said}")

    assert answer.status_code == 200
    assert "Select a valid choice." in text(answer)
    assert "They differ" not in text(answer)


def test_a_revision_with_itself_is_built_the_same(visit, tamsin):
    assert "They are built the same" in text(visit(tamsin).get(f"{COMPARE}?a=1&b=1"))


def test_the_drink_page_leads_here_once_there_are_two(visit, tamsin):
    browser, page = visit(tamsin), "/h/harbour-lights/book/drink/madras/"
    assert "Compare two revisions" not in text(browser.get(page))

    revise(tamsin, "madras", glass="rocks")

    assert COMPARE in browser.get(page).content.decode()
