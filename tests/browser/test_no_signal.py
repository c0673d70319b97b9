"""A card and a question sent where there is no signal: said so, what was chosen is kept, and the
next tap sends it."""

from __future__ import annotations

import pytest
from django.utils import timezone
from playwright.sync_api import Page, Route, expect

from assessments.models import Answer, CardMark
from assessments.models.quiz import Came
from tests.browser.acting import answer_right
from tests.browser.signing_in import by_the_form
from tests.factories import assessments as make

HOUSE = "/h/harbour-lights"
SAID = "No signal: tap again when it's back."


IS_SEEN = """() => {
  const box = document.querySelector("[data-no-signal]").getBoundingClientRect();
  const top = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
  return top !== null && top.closest("[data-no-signal]") !== null;
}"""
"""Nothing hangs over what is said."""


def lost(route: Route) -> None:
    route.abort("internetdisconnected")


def card(page: Page) -> None:
    page.goto(f"{HOUSE}/modules/highballs/cards/")
    page.get_by_text("Turn over").click()
    page.locator(".step label").first.click()


@pytest.mark.parametrize("is_told", [True, False], ids=["the phone knows", "the phone does not"])
def test_a_card_sent_without_a_signal_keeps_what_was_tapped(open_browser, nils, is_told: bool):
    """A phone on a network that leads nowhere takes itself to be online."""
    visit = open_browser("small_phone")
    page = by_the_form(visit, nils)
    card(page)
    if is_told:
        page.context.set_offline(True)
    else:
        page.route("**/*", lost)
    page.get_by_role("button", name="Next").click()

    expect(page.get_by_text(SAID)).to_be_visible()
    assert page.evaluate(IS_SEEN)
    assert page.locator("[name=missed]").first.is_checked()
    visit.check()
    assert not CardMark.objects.exists()

    page.context.set_offline(False)
    page.unroute_all()
    page.get_by_role("button", name="Next").click()
    expect(page.get_by_text("2 of")).to_be_visible()
    assert len(CardMark.objects.get().missed) == 1
    visit.complaints[:] = [c for c in visit.complaints if "ERR_INTERNET_DISCONNECTED" not in c]


def test_a_question_keeps_its_answer_and_takes_it_once(open_browser, nils):
    make.read(nils, at=timezone.now())
    quiz = make.start_quiz(nils, at=timezone.now())
    visit = open_browser("narrowest")
    page = by_the_form(visit, nils)
    page.goto(f"{HOUSE}/quiz/{quiz.code}/")
    answer_right(page)
    page.context.set_offline(True)
    for _ in range(2):
        page.get_by_role("button", name="That's my answer").click()
        expect(page.get_by_text(SAID)).to_be_visible()
    visit.check()

    page.context.set_offline(False)
    page.get_by_role("button", name="That's my answer").click()
    expect(page.get_by_text("2 of")).to_be_visible()
    assert Answer.objects.get().came == Came.RIGHT
