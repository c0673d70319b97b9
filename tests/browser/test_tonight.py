"""A bottle runs out on a busy evening: said, seen and looked up in a real browser, without scripts
too."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from barcourse.people.models import Membership
from tests.browser.conftest import Visit
from tests.browser.signing_in import at_once


@pytest.mark.parametrize(
    ("size", "scripts"), [("narrowest", True), ("phone", False), ("desktop", True)]
)
def test_gin_runs_out(open_browser, odalys: Membership, size: str, scripts: bool):
    visit = open_browser(size, java_script_enabled=scripts)
    page = at_once(visit, odalys)

    page.get_by_role("link", name="Off tonight").click()
    page.get_by_label("What is out").select_option("bottle:gin")
    page.get_by_label("Use instead").select_option("vodka")
    page.get_by_role("button", name="It is out").click()
    expect(page.get_by_text("drinks are poured with it")).to_be_visible()
    look_over(visit, scripts)
    page.get_by_role("button", name="Say it to everybody on shift").click()
    expect(page.get_by_text("gin is out: use vodka.")).to_be_visible()
    look_over(visit, scripts)

    visit.follow(page.get_by_role("link", name="Allergens").first)
    look_over(visit, scripts)
    page.get_by_label("Drink or ingredient").fill("negroni")
    page.get_by_role("button", name="Look it up").click()
    expect(page.get_by_text("stands in tonight")).to_be_visible()
    look_over(visit, scripts)
    visit.follow(page.get_by_role("link", name="milk"))
    look_over(visit, scripts)

    page.goto("/h/harbour-lights/book/drink/gin-and-tonic/")
    expect(page.get_by_text("vodka instead of gin")).to_be_visible()
    look_over(visit, scripts)

    page.get_by_role("link", name="Off tonight").click()
    page.get_by_role("button", name="It is there again").click()
    expect(page.get_by_text("Nothing is out")).to_be_visible()
    look_over(visit, scripts)


def look_over(visit: Visit, scripts: bool) -> None:
    """What looks the page over is a script itself."""
    if scripts:
        visit.check()
