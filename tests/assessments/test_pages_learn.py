"""Next shift, modules, lessons and cards on screen."""

import pytest

from assessments.measures.marking import HelpLevel
from assessments.models import CardMark, Reading
from recipes import publish
from recipes.models import Module
from recipes.publish import OnMenu
from tests.assessments.pages import address, fields, text
from tests.factories import assessments as make
from tests.factories.assessments import GATE, NOW
from tests.factories.recipes import SHOTS, revise


def shift(visit, hire):
    return visit(hire).get(address(hire, "next_shift"))


def test_a_new_hire_is_sent_to_the_first_module_and_the_one_nobody_is_ready_without(visit, nils):
    said = text(shift(visit, nils))

    assert "Welcome. Start here" in said
    assert said.index("Read Highballs") < said.index("Read Service and safety")
    assert "Read Rocks" not in said
    assert "Turn the cards" not in said


def test_a_new_hire_sees_no_figures_made_of_nothing(visit, nils):
    said = text(shift(visit, nils))

    assert "No figures yet" in said
    assert "of 100 orders" not in said
    assert "What still stands between you and ready" in said
    assert "4 must-knows aren't signed off." in said
    assert "Service and safety isn't passed yet. Nobody is ready without it." in said


def test_the_first_button_leads_to_the_module(visit, nils):
    page = shift(visit, nils).content.decode()

    assert f'href="{address(nils, "module", module="highballs")}"' in page


def test_after_reading_the_cards_come_first(visit, nils):
    make.read(nils)
    said = text(shift(visit, nils))

    assert "10 drinks to look at, about 5 minutes" in said
    assert said.index("Turn the cards") < said.index("Read Service and safety")
    assert said.index("Read Service and safety") < said.index("Take the quiz: Highballs")


def test_with_evidence_there_are_figures(visit, tamsin, nils):
    make.sign_off(tamsin, nils)

    said = text(shift(visit, nils))
    assert "of 100 orders right" in said
    assert "No figures yet" not in said


def test_where_all_is_passed_and_fresh_what_is_left_is_behind_the_bar(visit, nils):
    for module in Module.objects.in_house(nils.venue):
        make.take_quiz(nils, module.slug)
    for item in make.menu_of(nils).items:
        make.turn_card(nils, item.drink.slug)

    said = text(shift(visit, nils))
    assert "Nothing is fading" in said
    assert "Build Gin tonic for the trainer, unprompted." in said


def test_other_stations_stand_below(visit, nils):
    said = text(shift(visit, nils))

    assert said.index("Other stations") < said.index("Service bar")
    assert "Bar back" not in said


def test_modules_say_how_far_one_is(visit, nils):
    make.read(nils, "rocks")
    make.answer(make.start_quiz(nils, "shots"), most=1)
    make.take_quiz(nils, "beer")
    make.take_quiz(nils, GATE, make.wrong)

    said = text(visit(nils).get(address(nils, "modules")))
    for module, state in (
        ("Highballs 17 drinks", "to read"),
        ("Rocks 6 drinks", "read"),
        ("Shots 2 drinks", "quiz begun"),
        ("Beer 4 drinks", "passed"),
        ("Service and safety nobody is ready without it", "not passed yet"),
    ):
        assert f"{module} {state}" in said


def test_a_module_reads(visit, nils):
    said = text(visit(nils).get(address(nils, "module", module="highballs")))

    assert "What to know of it." in said
    assert "17 drinks" in said
    assert "Madras" in said
    assert "Gin tonic must-know" in said


def test_a_module_is_marked_read_from_its_page(visit, nils):
    page, path = (
        address(nils, "module", module="highballs"),
        address(nils, "module_read", module="highballs"),
    )
    browser = visit(nils)

    answer = browser.send(path, fields(browser.get(page), path))

    assert answer["Location"] == page
    assert Reading.objects.get().module.slug == "highballs"
    after = text(browser.get(page))
    assert "Noted. Now turn its cards or take its quiz." in after
    assert "I have read this" not in after


def test_a_lesson_reads_and_leads_on(visit, nils):
    said = text(visit(nils).get(address(nils, "lesson", module=GATE, lesson="ice")))

    assert "The scoop, never the glass." in said
    assert "1 of 1" in said
    assert "Back to Service and safety" in said


def test_a_lesson_of_another_module_is_not_found(visit, nils):
    assert visit(nils).get(address(nils, "lesson", module="rocks", lesson="ice")).status_code == 404


def test_a_card_shows_the_build_as_it_is_today(visit, tamsin, nils):
    make.read(nils)
    revise(tamsin, "madras", glass="pint", at=NOW)
    items = make.menu_of(nils).of_module(make.module_of(nils))
    number = [i.drink.slug for i in items].index("madras") + 1

    said = text(
        visit(nils).get(f"{address(nils, 'module_cards', module='highballs')}?card={number}")
    )

    assert f"{number} of {len(items)}" in said
    assert "pint glass" in said.lower()
    assert "cranberry juice" in said


def test_turning_a_card_leads_to_the_next_one(visit, nils):
    path, browser = address(nils, "module_cards", module="beer"), visit(nils)
    seen = []
    for number in range(1, 5):
        here = f"{path}?card={number}"
        sent = {**fields(browser.get(here)), "missed": ["mixers"], "ms": "1800"}
        seen += sent["drink"]
        answer = browser.send(here, sent)
        onward = (
            f"{path}?card={number + 1}" if number < 4 else address(nils, "module", module="beer")
        )
        assert answer["Location"] == onward

    assert [c.recipe.slug for c in CardMark.objects.order_by("pk")] == seen
    assert {(tuple(c.missed), c.milliseconds) for c in CardMark.objects.all()} == {
        (("mixers",), 1800)
    }


def test_the_shift_s_cards_end(visit, nils):
    make.read(nils, "shots")
    path, browser, turned = address(nils, "shift_cards"), visit(nils), 0
    page = browser.get(path)
    while "Turn over" in text(page):
        left = len(SHOTS) - turned
        assert f"{left} left" in text(page)
        onward = browser.send(path, fields(page))["Location"]
        assert onward == f"{path}?left={left - 1}"
        page, turned = browser.get(onward), turned + 1

    assert turned == CardMark.objects.count() == len(SHOTS)
    assert "That was all for now" in text(page)


def test_a_round_ends_though_more_cards_wait(visit, nils):
    make.read(nils, "shots")
    path, browser = address(nils, "shift_cards"), visit(nils)
    page = browser.get(f"{path}?left=1")
    assert "1 left" in text(page)

    sent = {**fields(page), "missed": ["pours"]}
    page = browser.get(browser.send(path, sent)["Location"])

    assert "That was this round" in text(page)
    assert "What you missed comes back in about ten minutes." in text(page)
    assert "Turn over" in text(browser.get(path))


def test_a_round_is_never_longer_than_what_is_due(visit, nils):
    make.read(nils, "shots")
    path, browser = address(nils, "shift_cards"), visit(nils)

    assert f"{len(SHOTS)} left" in text(browser.get(f"{path}?left=999"))
    assert [browser.get(f"{path}?left={bad}").status_code for bad in ("-1", "x", "")] == [404] * 3


def test_before_anything_was_read_there_are_no_cards(visit, nils):
    said = text(visit(nils).get(address(nils, "shift_cards")))

    assert "Read a module first" in said


@pytest.mark.parametrize("page", ["shift_cards", "module_cards"])
def test_a_card_of_a_drink_just_changed_is_shown_again_as_it_is_now(visit, tamsin, nils, page):
    make.read(nils, "shots")
    path = address(nils, page, **({"module": "shots"} if page == "module_cards" else {}))
    browser = visit(nils)
    sent = fields(browser.get(path))
    revise(tamsin, sent["drink"][0], glass="rocks", at=NOW)

    answer = browser.send(path, sent)

    assert answer.status_code == 200
    assert "The house has just changed" in text(answer)
    assert "rocks glass" in text(answer).lower()
    assert not CardMark.objects.exists()
    assert browser.send(path, fields(answer)).status_code == 302


def test_a_card_of_another_module_is_not_this_module_s(visit, nils):
    path = address(nils, "module_cards", module="shots")

    assert visit(nils).send(path, {"drink": "madras"}).status_code == 404
    assert not CardMark.objects.exists()


def test_a_drink_off_the_menu_hangs_nowhere(visit, odalys, nils):
    publish.set_menu(by=odalys, standing={"madras": OnMenu.OFF}, at=NOW)
    make.read(nils)
    browser = visit(nils)

    assert "Madras" not in text(browser.get(address(nils, "module", module="highballs")))
    assert browser.send(address(nils, "shift_cards"), {"drink": "madras"}).status_code == 404


def test_help_shown_is_no_figure(visit, tamsin, nils):
    make.watch(tamsin, nils, help_level=HelpLevel.SHOWN)

    assert "No figures yet" in text(shift(visit, nils))
