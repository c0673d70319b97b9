"""A planned quiz with every kind of question, a drill, the report and a try-out in a real browser,
at 320 pixels too and without scripts."""

from __future__ import annotations

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from assessments import record_set
from assessments.measures.marking import RIGHT_DRINK
from assessments.measures.quiz import ItemKind
from barcourse.people.models import Membership
from recipes.menu import menu_at
from recipes.models import Module
from tests.browser.acting import answer_right, asked_on
from tests.browser.signing_in import at_once
from tests.browser.test_tonight import look_over
from tests.factories import assessments as make

SHOWN = {ItemKind.BUILD, ItemKind.SEVERAL, ItemKind.ORDER, ItemKind.AMOUNT, ItemKind.ASK_BACK,
         ItemKind.CARD}  # fmt: skip
HOUSE = "/h/harbour-lights"


def plan(by: Membership) -> None:
    said = dict.fromkeys(record_set.SHEET_FIELDS, 0) | {
        "name": "Everything", "length": 11, "cards": 1, "critical": [], "pass_mark": 80,
        "minutes": 20, "mix": ["build", "several", "order", "amount", "ask_back"],
    }  # fmt: skip
    modules = list(Module.objects.in_house(by.venue).filter(slug="highballs"))
    record_set.save_sheet(by=by, sheet=None, said=said, modules=modules, at=timezone.now())


def mix_up(by: Membership, hire: Membership) -> None:
    at = timezone.now()
    watched = make.watch(by, hire, "bay-breeze", off=(RIGHT_DRINK.key,), at=at)
    made = menu_at(hire.venue, at).by_slug["sea-breeze"].recipe
    record_set.say_made_instead(by=by, watched=watched, made=made, at=at)


@pytest.mark.parametrize(("size", "scripts"), [("narrowest", True), ("phone", False)])
def test_every_kind_of_question_on_a_phone(open_browser, tamsin, nils, size: str, scripts: bool):
    plan(tamsin)
    visit = open_browser(size, java_script_enabled=scripts)
    page = at_once(visit, nils)
    page.goto(f"{HOUSE}/modules/")
    page.get_by_role("button", name="Take it").click()

    seen = set()
    while page.get_by_role("button", name="That's my answer").count():
        kind = asked_on(page).kind
        if kind in SHOWN - seen:
            look_over(visit, scripts)
        seen.add(kind)
        answer_right(page)
        with page.expect_navigation():
            page.get_by_role("button", name="That's my answer").click()
        page.wait_for_load_state("load")
    assert seen >= SHOWN
    expect(page.get_by_text("11 of 11 right.")).to_be_visible()
    look_over(visit, scripts)


@pytest.mark.parametrize("size", ["narrowest", "desktop"])
def test_a_mix_up_and_its_drill(open_browser, tamsin, nils, size: str):
    plan(tamsin)
    mix_up(tamsin, nils)
    make.take_quiz(nils, answering=make.wrong, at=timezone.now())
    visit = open_browser(size)
    page = at_once(visit, tamsin)
    for path in ("quizzes/", "quizzes/new/", "quizzes/report/?of=highballs"):
        page.goto(f"{HOUSE}/{path}")
        visit.check()

    page.goto(f"{HOUSE}/mix-ups/")
    visit.check()
    visit.follow(page.get_by_role("link", name="Sea breeze given for Bay breeze").first)
    visit.check()
    page.get_by_role("button", name="Set the drill").click()
    page.goto(f"{HOUSE}/hires/{nils.code}/try-out/")
    visit.follow(page.get_by_role("button", name="Offer a try-out"))
    visit.check()

    mine = open_browser(size)
    page = at_once(mine, nils)
    page.goto(f"{HOUSE}/shift/")
    mine.check()
    mine.follow(page.get_by_role("button", name="Tell apart: Bay breeze and Sea breeze"))
    mine.check()
    page.goto(f"{HOUSE}/shift/")
    page.get_by_role("button", name="Begin the try-out").click()
    expect(page.get_by_text("25 minutes left")).to_be_visible()
    mine.check()
