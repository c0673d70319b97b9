"""A manager's evening in a real browser: a policy is set, the till comes in, why somebody isn't
ready is read, and they stand for one shift all the same."""

from __future__ import annotations

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from barcourse.people.models import Membership
from tests.browser.conftest import Visit
from tests.browser.signing_in import at_once
from tests.factories.tills import checks
from tests.papers.ready import pass_the_gate


def look_over(visit: Visit, scripts: bool) -> None:
    """What looks the page over is a script itself."""
    if scripts:
        visit.check()


@pytest.mark.parametrize(("size", "scripts"), [("narrowest", True), ("desktop", False)])
def test_why_somebody_is_not_ready_and_one_shift(
    open_browser, marek: Membership, nils: Membership, size: str, scripts: bool
):
    pass_the_gate(nils, timezone.now())
    visit = open_browser(size, java_script_enabled=scripts)
    page = at_once(visit, marek)

    page.get_by_role("link", name="Set what ready takes").click()
    page.get_by_label("Ready: of 100 orders at least so many right").fill("80")
    page.get_by_label("Pour check passed in the last so many days").fill("30")
    page.get_by_role("button", name="See who would stand otherwise").click()
    expect(page.get_by_text("Nobody would stand otherwise.")).to_be_visible()
    look_over(visit, scripts)
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_text("Saved.")).to_be_visible()
    expect(page.get_by_text("Set for: Well, every shift.")).to_be_visible()
    look_over(visit, scripts)

    page.get_by_role("link", name="Who is ready").last.click()
    page.get_by_role("link", name="Sales mix").click()
    export = {"name": "till.xlsx", "mimeType": "application/octet-stream", "buffer": checks()}
    page.get_by_role("link", name="Take in what the till sold").click()
    page.get_by_label("The file").set_input_files(export)
    visit.follow(page.get_by_role("button", name="Look at the rows"))
    look_over(visit, scripts)
    page.get_by_role("button", name="Take it in").click()
    expect(page.get_by_text("Taken in:")).to_be_visible()
    look_over(visit, scripts)

    page.goto("/h/harbour-lights/ready/?station=well&shift=weekend-late")
    row = page.get_by_role("row").filter(has_text="Nils")
    row.get_by_text("All that is missing").click()
    expect(row.get_by_text("No pour check in the last 30 days.")).to_be_visible()
    expect(row.get_by_text("Pour five times for a trainer")).to_be_visible()
    look_over(visit, scripts)

    page.get_by_role("link", name="Plan a trainer's hour").click()
    expect(page.get_by_text("Well: with 60 minutes")).to_be_visible()
    page.get_by_label("Nils").check()
    page.get_by_label("Minutes").select_option("20")
    page.get_by_role("button", name="Plan it").click()
    expect(page.get_by_text("Well: with 20 minutes")).to_be_visible()
    expect(page.get_by_label("Nils")).to_be_checked()
    look_over(visit, scripts)
    page.get_by_role("link", name="Who is ready").last.click()

    row.get_by_role("link", name="For one shift").click()
    expect(page.get_by_text("Your word lifts neither the safety module")).to_be_visible()
    page.get_by_label("Why?").fill("Two are ill.")
    look_over(visit, scripts)
    page.get_by_role("button", name="Let them stand").click()
    expect(page.get_by_text("over by itself after that shift")).to_be_visible()
    expect(page.get_by_text("On the word of Marek: Two are ill.")).to_be_visible()
    look_over(visit, scripts)


REACHES_IN = """summary => {
    summary.textContent += " and as many words more as another language may take for the same";
    const text = document.createRange();
    text.selectNodeContents(summary);
    const below = summary.closest(".line").querySelector(".quiet:last-child").firstChild;
    const next = document.createRange();
    next.selectNodeContents(below);
    const lines = [...text.getClientRects()];
    return [lines.length, next.getBoundingClientRect().top - lines.at(-1).bottom];
}"""
"""How many lines a heading is broken into that unfolds, and how far below it the next words begin,
in pixels; below nothing where they overlap by more than their own leading."""


@pytest.mark.parametrize("size", ["narrowest", "desktop"])
def test_a_heading_of_several_lines_does_not_reach_into_what_stands_below(
    open_browser, marek: Membership, nils: Membership, size: str
):
    page = at_once(open_browser(size), marek)
    page.goto(f"/h/harbour-lights/hires/{nils.code}/")

    lines, apart = page.locator(".line .more > summary").first.evaluate(REACHES_IN)

    assert lines > 1
    assert apart >= -1
