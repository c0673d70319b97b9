"""How long a text was read is told when the page is left; an idle tab tells nothing more."""

from __future__ import annotations

from django.utils import timezone
from playwright.sync_api import Request, expect

from assessments.models import ReadingTime
from tests.browser.signing_in import by_the_form

MODULE = "/h/harbour-lights/modules/service/"
IDLE = 3_600_000


def is_lesson_told(request: Request) -> bool:
    return request.url.endswith("/reading/") and "lesson=&" not in (request.post_data or "")


def test_a_lesson_that_is_left_tells_how_long_it_was_read(open_browser, nils):
    visit = open_browser("phone")
    page = by_the_form(visit, nils)
    page.clock.install(time=timezone.now())
    page.goto(MODULE)
    page.get_by_role("link", name="Ice is food").click()
    expect(page.get_by_role("link", name="Back to")).to_be_visible()
    page.clock.run_for(8_000)

    # What a page sends while it is left isn't told by the browser: the house has it, or not.
    visit.follow(page.get_by_role("link", name="Back to"))
    for _ in range(200):
        if ReadingTime.objects.filter(text__gt="").exists():
            break
        page.wait_for_timeout(50)
    page.goto("/h/harbour-lights/shift/")
    expect(page.get_by_text("1 minute studied today")).to_be_visible()
    row = ReadingTime.objects.get(text__gt="")
    assert (row.hire, row.module.slug) == (nils, "service")
    assert 7 <= row.seconds <= 10
    visit.check()


def test_an_idle_hour_is_a_minute_at_the_most(open_browser, nils):
    visit = open_browser("phone")
    page = by_the_form(visit, nils)
    page.clock.install(time=timezone.now())
    page.goto(MODULE)
    page.get_by_role("link", name="Ice is food").click()
    expect(page.get_by_role("link", name="Back to")).to_be_visible()
    page.clock.run_for(IDLE)

    with page.expect_request(is_lesson_told) as told:
        page.evaluate("dispatchEvent(new Event('pagehide'))")

    assert "seconds=60" in (told.value.post_data or "")
