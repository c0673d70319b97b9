"""An evening on the bar's shared tablet: the manager makes it one, then people take turns."""

from __future__ import annotations

import io

import pypdf
import pytest
from playwright.sync_api import expect

from assessments.models import SpotMark
from barcourse.people import log, shared_tablet
from barcourse.people.models import Membership, Refusal, SideDone
from tests.browser.acting import press
from tests.browser.conftest import Visit
from tests.browser.signing_in import by_the_form
from tests.factories.people import OPENED


def take_over(visit: Visit, member: Membership, pin: str) -> None:
    press(visit, member.name)
    visit.page.get_by_label("Your PIN").fill(pin)
    press(visit, "Take over")


@pytest.mark.parametrize("size", ["narrowest", "desktop"])
def test_an_evening_on_the_tablet(open_browser, odalys, marek, nils, tamsin, size: str):
    for member, pin in ((nils, "4917"), (tamsin, "82640")):
        shared_tablet.set_pin(by=member, pin=pin, at=OPENED)
    tablet = open_browser(size)
    page = by_the_form(tablet, marek)
    page.goto("/h/harbour-lights/people/")
    press(tablet, "Shared tablets")
    page.get_by_label("What do you call it?").fill("The well")
    press(tablet, "Make this a shared tablet")
    expect(page.get_by_role("heading", name="Whose turn?")).to_be_visible()

    take_over(tablet, nils, "4918")
    expect(page.get_by_text("That isn't it.")).to_be_visible()
    page.get_by_label("Your PIN").fill("4917")
    press(tablet, "Take over")
    tablet.follow(page.get_by_role("link", name="Refusals"))
    tablet.check()
    page.get_by_label("no valid proof of age").check()
    press(tablet, "Note it")
    expect(page.get_by_text("Noted as of ")).to_be_visible()
    page.get_by_role("button", name="Hand over").click()

    take_over(tablet, tamsin, "82640")
    page.goto("/h/harbour-lights/side-work/?station=beer-point")
    page.get_by_label("Cellar looked at").check()
    press(tablet, "Sign what is ticked")
    expect(page.get_by_text("Signed, with the time and your name.")).to_be_visible()
    page.goto(f"/h/harbour-lights/watch/service/{nils.code}/gin-and-tonic/")
    page.get_by_role("button", name="Mended").first.click()
    expect(page.get_by_text("On record: Gin and Tonic by Nils, mended.")).to_be_visible()
    page.get_by_role("button", name="Hand over").click()
    expect(page.get_by_role("heading", name="Whose turn?")).to_be_visible()

    assert SpotMark.objects.get().trainer == tamsin
    assert (Refusal.objects.get().by, SideDone.objects.get().by) == (nils, tamsin)
    assert log.check(marek.venue) == []


@pytest.mark.parametrize("size", ["phone"])
def test_an_officer_at_the_door(open_browser, odalys, nils, size: str):
    visit = open_browser(size)
    page = by_the_form(visit, odalys)
    page.goto("/h/harbour-lights/papers/")
    press(visit, "Permits")
    page.get_by_label("Whose?").select_option(label="Nils")
    page.get_by_label("Number").fill("A 12")
    press(visit, "Note it")
    press(visit, "Papers")
    with page.expect_download() as got:
        page.get_by_role("link", name="Inspection folder (PDF)").click()

    paper = pypdf.PdfReader(io.BytesIO(got.value.path().read_bytes()))
    words = " ".join(" ".join(sheet.extract_text().split()) for sheet in paper.pages)
    assert "A 12" in words
    assert "from the age of 21" in words
