"""Calls on a phone: practised, a rush of twenty too, and read on the page of what guests say."""

import re
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from assessments.measures.call_marking import opened
from assessments.measures.call_writing import CallAsked
from assessments.models import Call, CallAnswer, CallResult
from assessments.showing_calls import NOTHING, ask_field, count_field, field
from barcourse.people.models import Membership
from tests.browser.conftest import Visit
from tests.browser.signing_in import at_once, by_the_form


def asked(visit: Visit) -> CallAsked:
    code = re.search(r"/call-practice/([a-z0-9]+)/", visit.page.url)
    assert code, visit.page.url
    position = visit.page.locator("input[name=call]").input_value()
    return CallAsked.from_json(Call.objects.get(run__code=code[1], position=int(position)).asked)


def build(visit: Visit, *, stepping: bool = True, leave_out: str = "") -> None:
    """Tap what somebody taps who knows the call: what to ask back, then step by step."""
    page = visit.page
    for number, drink in enumerate(asked(visit).drinks):
        tap(page, f"input[name='{count_field(number)}'][value='{drink.count}']")
        for about in drink.ask:
            tap(page, f"input[name='{ask_field(number)}'][value='{about.value}']")
        everything = all(part.aspect in opened(drink.ask) for part in drink.parts)
        if stepping and not everything:  # "a beer": all else waits for the answer, and it is served
            on(page)
        for part in drink.parts:
            if part.aspect in opened(drink.ask) or field(number, part) == leave_out:
                continue  # that step doesn't come
            for n in sorted(part.right) or [NOTHING]:
                tap(page, f"input[name='{field(number, part)}'][value='{n}']")
            if stepping and part.takes_several and page.locator("[data-next]").is_visible():
                on(page)


def seen(page: Page) -> None:
    """A step that has just come takes no tap before somebody can have seen it."""
    page.locator("[data-fresh]").wait_for(state="detached")


def tap(page: Page, choice: str) -> None:
    seen(page)
    page.locator("label.choice", has=page.locator(choice)).tap()


def on(page: Page) -> None:
    seen(page)
    page.locator("[data-next]").click()


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
    at_once(visit, nils)
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
        if number == 20:
            assert visit.page.evaluate("window.stayed"), "a page was loaded anew between two calls"
        visit.page.get_by_role("button", name="Serve it").click()

    expect(visit.page.get_by_role("heading", name="19 of 20 right")).to_be_visible()
    expect(visit.page.get_by_text("Asked: safe, but not yet alone.")).to_be_visible()
    expect(visit.page).to_have_url(re.compile(r"/result/$"))
    visit.check()
    result = CallResult.objects.get(hire=nils)
    assert (result.right, result.would_ask, result.wrong) == (19, 1, 0)
    assert not CallAnswer.objects.filter(milliseconds=None).exists()


@pytest.mark.parametrize(("size", "beside"), [("small_phone", False), ("desktop", True)])
def test_of_a_round_a_phone_shows_the_drink_that_is_built_and_a_wide_page_what_was(
    open_browser: Any, nils: Membership, size: str, beside: bool
) -> None:
    visit = open_browser(size, has_touch=True)
    at_once(visit, nils)
    begin(visit, "round")
    page = visit.page
    expect(page.get_by_role("heading", name="Drink 1 of 2")).to_be_visible()
    expect(page.get_by_role("heading", name="Drink 2 of 2")).to_be_hidden()
    build(visit)
    expect(page.get_by_role("heading", name="Drink 2 of 2")).to_be_visible()
    expect(page.get_by_role("heading", name="Drink 1 of 2")).to_be_hidden()
    expect(page.get_by_text("Drink 1:")).to_be_visible(visible=beside)
    expect(page.get_by_text("Drink 2:")).to_be_visible()
    visit.check()


TWO_TAPS = """spots => {
  for (const { x, y } of spots) {
    const target = document.elementFromPoint(x, y);
    for (const kind of ["pointerdown", "pointerup", "click"])
      target.dispatchEvent(new PointerEvent(kind, { bubbles: true, cancelable: true }));
  }
}"""
"""Both come before the page draws what the first one led to: the worst of a slow phone."""


def middle(choice: Locator) -> dict[str, float]:
    box = choice.bounding_box()
    assert box
    return {"x": box["x"] + box["width"] / 2, "y": box["y"] + box["height"] / 2}


@pytest.mark.parametrize("second", [0, 1, -1], ids=["the same", "its neighbour", "the last"])
def test_two_quick_taps_on_one_step_choose_nothing_on_the_next(
    open_browser: Any, nils: Membership, second: int
) -> None:
    visit = open_browser("small_phone", has_touch=True)
    at_once(visit, nils)
    begin(visit, "single")
    page, ticked = visit.page, visit.page.locator("[data-step] input:checked")
    tap(page, f"input[name='{count_field(0)}'][value='1']")
    on(page)
    for chosen in (2, 3):
        seen(page)
        choices = page.locator("label.choice:visible")
        page.evaluate(TWO_TAPS, [middle(choices.first), middle(choices.nth(second))])
        expect(ticked).to_have_count(chosen)
    assert not CallAnswer.objects.exists()


def test_the_second_tap_of_serve_it_neither_leaves_what_came_of_it_nor_builds_the_next_call(
    open_browser: Any, nils: Membership
) -> None:
    visit = open_browser("small_phone", has_touch=True)
    at_once(visit, nils)
    begin(visit, "single")
    page = visit.page
    page.evaluate(
        "document.addEventListener('htmx:afterSwap', () =>"
        " document.elementFromPoint(...window.spot).click())"
    )
    build(visit)
    serve = page.get_by_role("button", name="Serve it")
    spot = middle(serve)
    page.evaluate("spot => { window.spot = [spot.x, spot.y] }", spot)
    serve.click()
    expect(page.get_by_text("Right.", exact=True)).to_be_visible()
    seen(page)
    expect(page.get_by_role("link", name="Next call")).to_be_visible()


@pytest.mark.parametrize("scripts", [True, False])
def test_serve_it_says_which_part_is_missing_and_leads_there(
    open_browser: Any, nils: Membership, scripts: bool
) -> None:
    visit = open_browser("small_phone", java_script_enabled=scripts, has_touch=True)
    at_once(visit, nils)
    begin(visit, "single")
    page = visit.page
    if scripts:
        build(visit)
        page.evaluate(
            "document.querySelectorAll('#d0-glass input').forEach(i => { i.checked = false })"
        )
        page.get_by_role("button", name="Serve it").click()
        expect(page.get_by_role("alert")).to_have_text("Still to choose: Glass")
    else:
        build(visit, stepping=False, leave_out="d0-glass")
        page.get_by_role("button", name="Serve it").click()
        expect(page.get_by_role("alert")).to_contain_text("Choose something for every part of it")
        page.get_by_role("link", name="Glass").click()
    expect(page.get_by_role("group", name="Glass")).to_be_in_viewport()
    assert not CallAnswer.objects.exists()
    if scripts:
        visit.check()


def test_who_was_signed_out_in_a_rush_is_led_to_the_door_and_back_to_what_they_built(
    open_browser: Any, nils: Membership
) -> None:
    visit = open_browser("small_phone", has_touch=True)
    at_once(visit, nils)
    begin(visit, "rush")
    build(visit)
    page = visit.page
    tapped, where = page.locator("[data-step] input:checked").count(), page.url
    other = page.context.new_page()
    other.goto("/h/harbour-lights/call-practice/")
    other.get_by_role("button", name="Sign out").click()
    other.wait_for_url(lambda url: "/h/" not in url)
    page.get_by_role("button", name="Serve it").click()
    page.wait_for_url("**/sign-in/**")
    assert not CallAnswer.objects.exists()

    by_the_form(visit, nils)
    page.goto(where)
    expect(page.locator("[data-step] input:checked")).to_have_count(tapped)
    page.get_by_role("button", name="Serve it").click()
    expect(page.get_by_text("2 of 20", exact=True)).to_be_visible()


def test_who_signed_in_anew_in_another_tab_finds_what_they_had_tapped(
    open_browser: Any, nils: Membership
) -> None:
    visit = open_browser("small_phone", has_touch=True)
    at_once(visit, nils)
    begin(visit, "rush")
    build(visit)
    page = visit.page
    tapped = page.locator("[data-step] input:checked").count()
    cookies = [c for c in page.context.cookies() if "csrf" not in c["name"]]
    page.context.clear_cookies()
    page.context.add_cookies(cookies)
    page.get_by_role("button", name="Serve it").click()
    expect(page.get_by_text("1 of 20", exact=True)).to_be_visible()
    expect(page.locator("[data-step] input:checked")).to_have_count(tapped)
    assert not CallAnswer.objects.exists()
    page.get_by_role("button", name="Serve it").click()
    expect(page.get_by_text("2 of 20", exact=True)).to_be_visible()


def test_taps_come_back_after_a_reload_without_a_signal(
    open_browser: Any, nils: Membership
) -> None:
    visit = open_browser("small_phone", has_touch=True)
    at_once(visit, nils)
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


@pytest.mark.parametrize("back", [False, True])
def test_after_a_reload_a_call_goes_on_at_the_step_it_was_at(
    open_browser: Any, nils: Membership, back: bool
) -> None:
    visit = open_browser("small_phone", has_touch=True)
    at_once(visit, nils)
    begin(visit, "single")
    page = visit.page
    for _step in range(4):
        seen(page)
        if page.locator("[data-next]").is_disabled():
            page.locator("[data-step]:not([hidden]) label.choice").first.tap()
            seen(page)
        else:
            on(page)
    if back:
        seen(page)
        page.get_by_role("button", name="Back", exact=True).click()
        seen(page)
    here = page.locator("[data-step]:not([hidden]) legend").first.inner_text()
    tapped = page.locator("[data-step] input:checked").count()
    assert here not in ("How many?", "What do you ask back?", "Glass")
    assert tapped

    page.reload()
    expect(page.locator("[data-step]:not([hidden])")).to_have_count(1)
    expect(page.locator("[data-step]:not([hidden]) legend").first).to_have_text(here)
    expect(page.locator("[data-step] input:checked")).to_have_count(tapped)


def test_a_call_answered_in_another_tab_is_told_where_it_was_built(
    open_browser: Any, nils: Membership
) -> None:
    visit = open_browser("small_phone", has_touch=True)
    at_once(visit, nils)
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
    at_once(visit, nils)
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
    at_once(visit, nils)
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
    at_once(visit, nils)
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
