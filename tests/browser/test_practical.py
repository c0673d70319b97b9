"""A trainer's hour in a real browser: a drink in service, pours, a pace, a round, two at once."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from barcourse.people.models import Membership
from tests.browser.acting import help_was
from tests.browser.conftest import Visit
from tests.browser.signing_in import at_once
from tests.factories.people import hire

FIVE = ("1.02", "0.97", "1.0", "1.05", "1.2")


def look_over(visit: Visit, scripts: bool) -> None:
    """What looks the page over is a script itself."""
    if scripts:
        visit.check()


@pytest.mark.parametrize(
    ("size", "scripts"), [("narrowest", True), ("phone", False), ("desktop", True)]
)
def test_what_hands_can_do(
    open_browser, odalys: Membership, tamsin: Membership, nils: Membership, size: str, scripts: bool
):
    hire(odalys, "Bo")
    visit = open_browser(size, java_script_enabled=scripts)
    page = at_once(visit, tamsin)
    watch = "/h/harbour-lights/watch/"

    page.goto(watch)
    look_over(visit, scripts)
    visit.follow(page.get_by_role("link", name="In service").last)
    look_over(visit, scripts)
    visit.follow(page.get_by_role("link", name="Gin and Tonic", exact=True).first)
    look_over(visit, scripts)
    page.get_by_role("button", name="Mended").first.click()
    expect(page.get_by_text("On record: Gin and Tonic by Nils, mended.")).to_be_visible()

    page.goto(f"{watch}pours/{nils.code}/")
    look_over(visit, scripts)
    page.get_by_label("Poured from").select_option("gin")
    for number, pour in enumerate(FIVE, start=1):
        page.get_by_label(f"Pour {number}", exact=True).fill(pour)
    page.get_by_text("water", exact=True).click()
    page.get_by_role("button", name="Put on record").click()
    expect(page.get_by_text("Not passed: one of 5 is out of tolerance.")).to_be_visible()
    look_over(visit, scripts)

    page.goto(f"{watch}pace/{nils.code}/?seed=7&orders=5")
    look_over(visit, scripts)
    if scripts:
        page.get_by_role("button", name="Start").click()
        page.wait_for_timeout(1100)
        page.get_by_role("button", name="Put on record").click()
        page.get_by_label("It is so").check()  # nobody is that fast
    else:
        page.get_by_label("Seconds taken").fill("240")
    page.get_by_role("button", name="Put on record").click()
    expect(page.get_by_text("drinks an hour, likely")).to_be_visible()
    look_over(visit, scripts)

    page.goto(f"{watch}round/{nils.code}/")
    for drink in ("Gin and Tonic", "Gin and Tonic", "Nitro Stout"):
        if not page.get_by_role("link", name=drink, exact=True).is_visible():
            page.get_by_text("other drinks").click()
        visit.follow(page.get_by_role("link", name=drink, exact=True))
    look_over(visit, scripts)
    visit.follow(page.get_by_role("link", name="Watch this round"))
    look_over(visit, scripts)
    if scripts:
        for step in ("Start the", "Start the", "Ice, all"):  # the second takes it back
            page.get_by_role("button", name=step).click()
    else:
        page.get_by_label("Ice, all").fill("1")
    help_was(page, "unprompted")
    page.get_by_role("button", name="Put on record").click()
    expect(page.get_by_text("One of 9 steps out of turn.")).to_be_visible()
    look_over(visit, scripts)

    page.goto(f"{watch}together/")
    look_over(visit, scripts)
    visit.follow(page.get_by_role("button", name="Watch both"))
    look_over(visit, scripts)
    for number in (0, 1):
        help_was(page, "unprompted", number)
    page.get_by_role("button", name="Put both on record").click()
    expect(page.get_by_text("Both are on record.")).to_be_visible()
    look_over(visit, scripts)

    page.goto(f"/h/harbour-lights/hires/{nils.code}/")
    expect(page.get_by_text("1 drink marked in service")).to_be_visible()
    look_over(visit, scripts)
