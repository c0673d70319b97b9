"""What a trainer tapped stays until it is on record, whatever becomes of the page meanwhile."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page, Route, expect

from assessments.models import WatchedBuild
from barcourse.people.models import Membership
from tests.browser.acting import help_was
from tests.browser.signing_in import by_the_form
from tests.factories.people import PASSWORD

HERE_AGAIN = "What you had tapped is here again."
ON_RECORD = "Put on record"


def watch(hire_: Membership) -> str:
    return f"/h/harbour-lights/watch/{hire_.code}/madras/"


def tap_off(page: Page) -> None:
    page.get_by_role("button", name="Start").click()
    page.locator(".step", has_text="fails").first.click()
    help_was(page, "unprompted")
    page.clock.fast_forward(30_000)


def tapped(page: Page) -> int:
    return page.locator("input[name=off]:checked").count()


def seconds(page: Page) -> int:
    return int(page.locator("input[name=seconds]").input_value() or 0)


def test_a_reload_loses_neither_taps_nor_time(
    open_browser: Any, tamsin: Membership, nils: Membership
) -> None:
    visit = open_browser("phone")
    page = by_the_form(visit, tamsin)
    page.clock.install()
    page.goto(watch(nils))
    expect(page.get_by_text(HERE_AGAIN)).to_be_hidden()
    tap_off(page)

    page.reload()
    expect(page.get_by_text(HERE_AGAIN)).to_be_visible()
    assert tapped(page) == 1
    expect(page.get_by_role("button", name="Stop")).to_be_visible()
    page.clock.fast_forward(30_000)
    assert 60 <= seconds(page) <= 70
    visit.check()
    page.get_by_role("button", name=ON_RECORD).click()
    page.wait_for_url("**/builds/**")
    assert not WatchedBuild.objects.get().passed

    for back in (page.go_back, lambda: page.goto(watch(nils))):
        back()
        expect(page.get_by_role("button", name="Start")).to_be_visible()
        assert tapped(page) == 0
        expect(page.get_by_text(HERE_AGAIN)).to_be_hidden()


def test_a_fresh_sign_in_leads_back_to_what_was_tapped(
    open_browser: Any, tamsin: Membership, nils: Membership
) -> None:
    page = by_the_form(open_browser("phone"), tamsin)
    page.clock.install()
    page.goto(watch(nils))
    tap_off(page)
    page.context.clear_cookies(name="barcourse_session")
    page.get_by_role("button", name=ON_RECORD).click()

    page.get_by_label("Sign-in").fill(tamsin.person.sign_in)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()

    page.wait_for_url(f"**{watch(nils)}")
    expect(page.get_by_text(HERE_AGAIN)).to_be_visible()
    assert tapped(page) == 1


def test_start_afresh_and_nobody_else_meets_the_taps(
    open_browser: Any, odalys: Membership, tamsin: Membership, nils: Membership
) -> None:
    visit = open_browser("phone")
    page = by_the_form(visit, tamsin)
    page.clock.install()
    page.goto(watch(nils))
    tap_off(page)
    page.reload()
    page.get_by_role("button", name="Start afresh").click()
    expect(page.get_by_text(HERE_AGAIN)).to_be_hidden()
    assert tapped(page) == 0

    tap_off(page)
    page.context.clear_cookies()
    by_the_form(visit, odalys)
    page.goto(watch(nils))
    assert tapped(page) == 0


def test_a_reload_in_a_pace_check_keeps_the_ticket(
    open_browser: Any, tamsin: Membership, nils: Membership
) -> None:
    page = by_the_form(open_browser("phone"), tamsin)
    page.goto(f"/h/harbour-lights/watch/pace/{nils.code}/")
    ticket = page.get_by_role("heading", name="Ticket").first.inner_text()
    page.get_by_role("button", name="Start").click()
    page.wait_for_timeout(600)

    page.reload()
    assert page.get_by_role("heading", name="Ticket").first.inner_text() == ticket
    expect(page.get_by_role("button", name="Stop")).to_be_visible()


def test_places_of_a_round_come_back(
    open_browser: Any, tamsin: Membership, nils: Membership
) -> None:
    page = by_the_form(open_browser("phone"), tamsin)
    page.goto(f"/h/harbour-lights/watch/round/{nils.code}/?d=madras&d=gin-and-tonic")
    first = page.locator("[data-places] button").nth(2)
    first.click()

    page.reload()
    expect(page.locator("[data-places] button").nth(2)).to_have_attribute("aria-pressed", "true")


def kept_there(page: Page, tap: Any) -> None:
    """Tap, and wait until the house has it."""
    with page.expect_response(lambda answer: answer.request.method == "PUT"):
        tap()


def tap_and_close(page: Page, hire_: Membership) -> None:
    page.goto(watch(hire_))
    page.get_by_role("button", name="Start").click()
    kept_there(page, page.locator(".step", has_text="fails").first.click)
    page.close()


def test_a_closed_tab_or_a_dead_phone_loses_no_watch(
    open_browser: Any, tamsin: Membership, nils: Membership
) -> None:
    visit = open_browser("phone")
    tap_and_close(by_the_form(visit, tamsin), nils)
    visit.page = visit.page.context.new_page()
    page = visit.listen().page
    page.goto("/h/harbour-lights/watch/")
    expect(page.get_by_text("Madras by Nils")).to_be_visible()
    visit.check()
    visit.follow(page.get_by_role("link", name="Go on"))
    expect(page.get_by_text(HERE_AGAIN)).to_be_visible()
    expect(page.get_by_role("button", name="Stop")).to_be_visible()
    assert tapped(page) == 1

    other = by_the_form(open_browser("small_phone"), tamsin)  # the first one is dead
    other.goto(watch(nils))
    expect(other.get_by_text(HERE_AGAIN)).to_be_visible()
    assert tapped(other) == 1
    record(other)
    page.reload()
    expect(page.get_by_text(HERE_AGAIN)).to_be_hidden()
    assert tapped(page) == 0
    assert WatchedBuild.objects.count() == 1


def record(page: Page) -> None:
    help_was(page, "unprompted")
    for sure in page.locator(".choice", has_text="It is so"), None:
        with page.expect_navigation():
            page.get_by_role("button", name=ON_RECORD).click()
        if sure is None or not sure.count():
            break  # a build of some seconds is doubted before it is sealed
        sure.click()
    page.wait_for_url("**/builds/**")


def test_a_tap_that_the_house_has_while_the_page_is_on_its_way_stays(
    open_browser: Any, tamsin: Membership, nils: Membership
) -> None:
    page = by_the_form(open_browser("phone"), tamsin)
    page.goto(watch(nils))
    kept = []
    page.on("response", lambda answer: kept.append(answer.request.method == "PUT"))

    def come_late(route: Route) -> None:
        drawn = route.fetch()  # before the house has the tap
        while not any(kept):
            page.wait_for_timeout(100)
        page.wait_for_timeout(300)
        route.fulfill(response=drawn)

    page.route(f"**{watch(nils)}", come_late, times=1)
    page.locator(".step", has_text="fails").first.click()
    page.reload()

    expect(page.get_by_text(HERE_AGAIN)).to_be_visible()
    assert tapped(page) == 1


def test_what_is_dropped_stays_dropped(
    open_browser: Any, tamsin: Membership, nils: Membership
) -> None:
    visit = open_browser("phone")
    page = by_the_form(visit, tamsin)
    page.goto(watch(nils))
    kept_there(page, page.locator(".step", has_text="fails").first.click)
    page.goto("/h/harbour-lights/watch/")
    visit.follow(page.get_by_role("button", name="Drop it"))
    expect(page.get_by_text("Nothing of it went on record.")).to_be_visible()
    page.goto(watch(nils))
    expect(page.get_by_text(HERE_AGAIN)).to_be_hidden()
    assert tapped(page) == 0


def test_started_afresh_it_is_not_under_way(
    open_browser: Any, tamsin: Membership, nils: Membership
) -> None:
    visit = open_browser("phone")
    page = by_the_form(visit, tamsin)
    page.goto(watch(nils))
    kept_there(page, page.locator(".step", has_text="fails").first.click)
    page.reload()
    visit.follow(page.get_by_role("button", name="Start afresh"))
    expect(page.get_by_text(HERE_AGAIN)).to_be_hidden()
    page.goto("/h/harbour-lights/watch/")
    expect(page.get_by_role("heading", name="Under way")).to_be_hidden()


def test_an_answer_outlasts_a_sign_in_and_goes_with_its_question(
    open_browser: Any, tamsin: Membership, nils: Membership
) -> None:
    page = by_the_form(open_browser("phone"), nils)
    page.goto("/h/harbour-lights/modules/")
    page.get_by_role("link", name="Highballs").first.click()
    page.get_by_role("button", name="Take the quiz").click()
    quiz, answer = page.url, page.get_by_role("button", name="That's my answer")
    picked = page.locator("[name=choice], [name^=part-]")
    picked.last.check()
    page.context.clear_cookies(name="barcourse_session")
    answer.click()
    page.get_by_label("Sign-in").fill(nils.person.sign_in)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()

    page.wait_for_url(quiz)
    expect(page.get_by_text(HERE_AGAIN)).to_be_visible()
    expect(picked.last).to_be_checked()
    with page.expect_navigation():
        answer.click()
    expect(page.get_by_text(HERE_AGAIN)).to_be_hidden()
    assert page.locator("[name=choice]:checked, [name^=part-]:checked").count() == 0


def test_what_was_tapped_of_a_question_outlasts_a_closed_tab(
    open_browser: Any, nils: Membership
) -> None:
    page = by_the_form(open_browser("phone"), nils)
    page.goto("/h/harbour-lights/modules/")
    page.get_by_role("link", name="Highballs").first.click()
    page.get_by_role("button", name="Take the quiz").click()
    page.wait_for_url("**/quiz/**")
    quiz, picked = page.url, "[name=choice], [name^=part-]"
    page.locator(picked).last.check()
    page.wait_for_function("Object.keys(localStorage).some((key) => key.startsWith('kept '))")
    later = page.context.new_page()
    page.close()

    later.goto(quiz)
    expect(later.get_by_text(HERE_AGAIN)).to_be_visible()
    expect(later.locator(picked).last).to_be_checked()
