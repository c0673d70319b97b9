"""Calls on a phone: practised, a rush of twenty too, and read on the page of what guests say."""

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from assessments.measures.call_marking import opened
from assessments.measures.call_writing import CallAsked
from assessments.models import Call, CallAnswer, CallResult
from assessments.showing_calls import NOTHING, ask_field, count_field, field
from barcourse.people.models import Membership
from tests.browser.conftest import Visit
from tests.factories.people import PASSWORD


def asked(visit: Visit) -> CallAsked:
    code = re.search(r"/call-practice/([a-z0-9]+)/", visit.page.url)
    assert code, visit.page.url
    position = visit.page.locator("input[name=call]").input_value()
    return CallAsked.from_json(Call.objects.get(run__code=code[1], position=int(position)).asked)


def build(visit: Visit, *, stepping: bool = True) -> None:
    """Tap what somebody taps who knows the call: what to ask back, then step by step."""
    page = visit.page
    for number, drink in enumerate(asked(visit).drinks):
        tap(page, f"input[name='{count_field(number)}'][value='{drink.count}']")
        for about in drink.ask:
            tap(page, f"input[name='{ask_field(number)}'][value='{about.value}']")
        if stepping:
            page.locator("[data-next]").click()
        for part in drink.parts:
            if part.aspect in opened(drink.ask):
                continue  # that step doesn't come
            for n in sorted(part.right) or [NOTHING]:
                tap(page, f"input[name='{field(number, part)}'][value='{n}']")
            if stepping and part.takes_several and page.locator("[data-next]").is_visible():
                page.locator("[data-next]").click()


def tap(page: Page, choice: str) -> None:
    page.locator("label.choice", has=page.locator(choice)).tap()


def sign_in(visit: Visit, member: Membership) -> None:
    page = visit.page
    page.goto("/sign-in/")
    page.get_by_label("Sign-in").fill(member.person.sign_in)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url("**/h/harbour-lights/**")


def begin(visit: Visit, kind: str) -> None:
    visit.page.get_by_role("navigation").get_by_role("link", name="Call practice").click()
    form = visit.page.locator("form", has=visit.page.locator(f"[name=kind][value={kind}]"))
    form.get_by_role("button").click()
    visit.page.wait_for_url(re.compile(r"/call-practice/[a-z0-9]{10,}/"))


def within_one_screen(visit: Visit) -> None:
    """Every choice of a step and the button that goes on, without scrolling; no bar covers them."""
    page = visit.page
    height = page.evaluate("innerHeight")
    for target in (*page.locator("label.choice:visible").all(), page.locator("[data-next]")):
        box = target.bounding_box()
        assert box
        assert box["y"] + box["height"] <= height
        assert box["height"] >= 48
        assert target.evaluate(
            "e => { const b = e.getBoundingClientRect();"
            " return e.contains(document.elementFromPoint(b.x + b.width / 2, b.y + b.height / 2)) }"
        )


def test_a_hire_finishes_a_rush_of_twenty_calls_on_a_phone(
    open_browser: Any, nils: Membership
) -> None:
    visit = open_browser("small_phone", has_touch=True)
    sign_in(visit, nils)
    begin(visit, "rush")
    visit.check()
    visit.page.evaluate("window.stayed = true")
    for number in range(1, 21):
        expect(visit.page.get_by_text(f"{number} of 20", exact=True)).to_be_visible()
        if number == 8:
            visit.page.get_by_role("button", name="I'd ask a colleague").click()
            continue
        if number == 1:
            visit.check()
            within_one_screen(visit)
        build(visit)
        if number == 1:
            visit.check()
        visit.page.get_by_role("button", name="Serve it").click()

    expect(visit.page.get_by_role("heading", name="19 of 20 right")).to_be_visible()
    expect(visit.page.get_by_text("Asked: safe, but not yet alone.")).to_be_visible()
    assert visit.page.evaluate("window.stayed"), "a page was loaded anew between two calls"
    visit.check()
    result = CallResult.objects.get(hire=nils)
    assert (result.right, result.would_ask, result.wrong) == (19, 1, 0)
    assert not CallAnswer.objects.filter(milliseconds=None).exists()


def test_a_drink_of_a_round_is_headed_once_it_is_built(open_browser: Any, nils: Membership) -> None:
    visit = open_browser("small_phone", has_touch=True)
    sign_in(visit, nils)
    begin(visit, "round")
    page = visit.page
    expect(page.get_by_role("heading", name="Drink 1 of 2")).to_be_visible()
    expect(page.get_by_role("heading", name="Drink 2 of 2")).to_be_hidden()
    build(visit)
    expect(page.get_by_role("heading", name="Drink 2 of 2")).to_be_visible()
    expect(page.get_by_role("heading", name="Drink 1 of 2")).to_be_visible()


def test_taps_come_back_after_a_reload_without_a_signal(
    open_browser: Any, nils: Membership
) -> None:
    visit = open_browser("small_phone", has_touch=True)
    sign_in(visit, nils)
    begin(visit, "single")
    build(visit)
    page, context = visit.page, visit.page.context
    tapped = page.locator("[data-step] input:checked").count()
    context.set_offline(True)
    page.get_by_role("button", name="Serve it").click()
    expect(page.get_by_text("No signal")).to_be_visible()
    assert not CallAnswer.objects.exists()

    context.set_offline(False)
    page.reload()
    expect(page.locator("[data-step] input:checked")).to_have_count(tapped)
    page.get_by_role("button", name="Serve it").click()
    expect(page.get_by_text("Right.", exact=True)).to_be_visible()


def test_a_call_answered_in_another_tab_is_told_where_it_was_built(
    open_browser: Any, nils: Membership
) -> None:
    visit = open_browser("small_phone", has_touch=True)
    sign_in(visit, nils)
    begin(visit, "rush")
    page = visit.page
    other = page.context.new_page()
    other.goto(page.url)
    other.get_by_role("button", name="I'd ask a colleague").click()
    expect(other.get_by_text("2 of 20", exact=True)).to_be_visible()

    page.get_by_role("button", name="I'd ask a colleague").click()
    expect(page.get_by_role("heading", name="That one is answered already")).to_be_visible()
    assert CallAnswer.objects.count() == 1
    page.get_by_role("link", name="Go on").click()
    expect(page.get_by_text("2 of 20", exact=True)).to_be_visible()


def test_half_a_build_outlasts_a_closed_tab(open_browser: Any, nils: Membership) -> None:
    visit = open_browser("phone", has_touch=True)
    sign_in(visit, nils)
    begin(visit, "rush")
    [drink] = asked(visit).drinks
    tap(visit.page, f"input[name='{count_field(0)}'][value='{drink.count}']")
    where, tab = visit.page.url, visit.page.context.new_page()
    visit.page.close()

    tab.goto(where)

    chosen = tab.locator(f"input[name='{count_field(0)}'][value='{drink.count}']")
    expect(chosen).to_be_checked()


@pytest.mark.parametrize(("size", "scripts"), [("narrowest", True), ("phone", False)])
def test_a_call_is_built_and_told_with_and_without_scripts(
    open_browser: Any, nils: Membership, size: str, scripts: bool
) -> None:
    visit = open_browser(size, java_script_enabled=scripts, has_touch=True)
    sign_in(visit, nils)
    begin(visit, "single")
    build(visit, stepping=scripts)
    visit.page.get_by_role("button", name="Serve it").click()
    expect(visit.page.get_by_text("Right.", exact=True)).to_be_visible()
    if scripts:
        visit.check()
    visit.page.get_by_role("link", name="Next call").click()
    expect(visit.page.get_by_role("group", name="How many?").first).to_be_visible()


@pytest.mark.parametrize("scripts", [True, False])
def test_a_question_of_a_call_is_answered_with_a_tap(
    open_browser: Any, nils: Membership, scripts: bool
) -> None:
    visit = open_browser("narrowest", java_script_enabled=scripts)
    sign_in(visit, nils)
    visit.page.goto("/h/harbour-lights/calls/")
    visit.page.get_by_label("What does the guest say?").fill("double gin tonic, a madras")
    if not scripts:
        visit.page.get_by_role("button", name="Read it").click()
    visit.page.get_by_role("link", name="tall", exact=True).click()
    expect(visit.page.get_by_label("What does the guest say?")).to_have_value(
        "double gin tonic tall, a madras"
    )
    expect(visit.page.get_by_role("heading", name="Ready to build")).to_be_visible()
    if scripts:
        visit.check()
