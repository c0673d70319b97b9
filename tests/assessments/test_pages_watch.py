"""Watch, sign-off and void on screen."""

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from assessments import handing_over, prints, record, record_second
from assessments.measures.marking import HelpLevel
from assessments.models import SignOff, Void, WatchedBuild
from assessments.sign_offs import best_sign_offs
from barcourse.people import enrol
from recipes import publish, publish_off
from recipes.grammar.aspects import Aspect
from recipes.menu import menu_at
from recipes.models import Ingredient
from recipes.publish import OnMenu
from tests.assessments.pages import address, fields, text
from tests.factories import assessments as make
from tests.factories.assessments import NOW
from tests.factories.people import hire as hire_somebody
from tests.factories.recipes import DAY, revise

FAILING, FAULT = "top:orange-juice", "straw"


def checklist_of(hire, drink="madras"):
    return address(hire, "watch_build", hire=hire.code, drink=drink)


def put_on_record(browser, hire, drink="madras", **said):
    """Watch on screen; the answer."""
    path = checklist_of(hire, drink)
    sent = {**fields(browser.get(path)), "help_level": "unprompted", "made_with": "stock"}
    return browser.send(path, {**sent, **said})


def page_of(member, build):
    return address(member, "build", code=build.code)


def test_whose_build(visit, odalys, tamsin, nils):
    bo = hire_somebody(odalys, "Bo")
    enrol.mark_left(by=odalys, membership=bo, at=NOW)
    make.sign_off(tamsin, nils, "gin-tonic")

    said = text(visit(tamsin).get(address(tamsin, "watch")))

    assert "Nils 1 of 4 must-knows signed off" in said
    assert "Bo" not in said
    assert "Tamsin" not in said


def test_nobody_to_watch_yet(visit, tamsin):
    assert "Nobody is being trained here yet." in text(visit(tamsin).get(address(tamsin, "watch")))


def test_as_many_queries_for_twenty_hires(visit, odalys, tamsin, nils, django_assert_num_queries):
    browser, path = visit(tamsin), address(tamsin, "watch")
    make.sign_off(tamsin, nils)
    browser.get(path)
    with django_assert_num_queries(15):  # among them what is out, handed over and under way
        browser.get(path)
    for number in range(19):
        make.sign_off(tamsin, hire_somebody(odalys, f"Hire{number}"))

    with django_assert_num_queries(15):
        assert text(browser.get(path)).count("must-knows signed off") == 20


def test_which_drink_what_is_still_to_prove_first(visit, tamsin, nils):
    make.sign_off(tamsin, nils, "gin-tonic")
    make.sign_off(tamsin, nils, "margarita")
    make.lemon_in_tonic(tamsin, at=NOW)

    said = text(visit(tamsin).get(address(nils, "watch_hire", hire=nils.code)))
    said = said[said.index("Changed since the sign-off") :]  # what is proposed stands above

    order = [
        "Changed since the sign-off", "Gin tonic Changed since by the house: finish",
        "Must-knows to sign off", "Cape codder", "Other drinks", "Madras",
        "Signed off (1)", "Margarita",
    ]  # fmt: skip
    assert [said.index(words) for words in order] == sorted(said.index(words) for words in order)


def test_what_is_passed_waits_for_its_word_and_not_for_a_build(visit, tamsin, pia, nils):
    path = address(nils, "watch_hire", hire=nils.code)
    first = visit(tamsin).get(path).context["proving"].builds[0].item.drink
    build = make.watch(tamsin, nils, first.slug, at=NOW - DAY)
    there = f'href="{page_of(nils, build)}"'

    page, of_another = visit(tamsin).get(path), visit(pia).get(path)

    assert f"{first.name} passed on March 6, 2026, waits for your sign-off Watch it" in text(page)
    assert first.slug not in [b.item.drink.slug for b in page.context["proving"].builds]
    assert "What is passed and waits for its sign-off is reckoned as shown." in text(page)
    assert there in page.content.decode()
    assert "waits for Tamsin to sign it off" in text(of_another)
    hires = address(tamsin, "watch")
    assert f"To sign off: {first.name}" in text(visit(tamsin).get(hires))
    assert "To sign off" not in text(visit(pia).get(hires))
    make.sign_off(tamsin, nils, first.slug)
    assert "To sign off" not in text(visit(tamsin).get(hires))
    assert "waits for" not in text(visit(tamsin).get(path))


def test_nobody_learns_on_the_way_to_watch_how_a_build_came_that_they_mark_themselves(
    visit, tamsin, pia, nils
):
    path = address(nils, "watch_hire", hire=nils.code)
    make.watch(tamsin, nils, at=NOW)
    assert "waits for" not in text(visit(pia).get(path))
    assert "waits for your sign-off" in text(visit(tamsin).get(path))

    make.watch(tamsin, nils, "margarita", at=NOW - DAY)

    assert text(visit(pia).get(path)).count("waits for Tamsin to sign it off") == 1


@pytest.mark.parametrize(
    ("find", "found"),
    [
        ("MADR", {"Madras"}),
        ("vodka cran", {"Cape codder"}),
        (" breeze ", {"Sea breeze", "Bay breeze"}),
    ],
)
def test_a_drink_is_found_by_name_and_alias(visit, tamsin, nils, find, found):
    path = address(nils, "watch_hire", hire=nils.code)

    page = visit(tamsin).get(path, {"find": find})

    names = {d.item.drink.name for g in page.context["groups"] for d in g.drinks}
    assert names == found


def test_nothing_of_that_name(visit, tamsin, nils):
    path = address(nils, "watch_hire", hire=nils.code)

    assert "No drink on the menu is called that." in text(
        visit(tamsin).get(path, {"find": "\x00zz"})
    )


def test_the_checklist_has_every_step_and_all_of_them_done(visit, tamsin, nils):
    page = visit(tamsin).get(checklist_of(nils))

    keys = make.steps_of(tamsin, "madras")
    html = page.content.decode()
    assert [k for k in keys if f'value="{k}"' not in html] == []
    assert "off" not in fields(page)
    assert {"help_level", "made_with"} & set(fields(page)) == set()
    assert "Whatever the drink" in text(page)


def test_tonights_substitute_is_poured_and_proves_nothing_of_the_book(visit, tamsin, nils):
    stock = Ingredient.objects.in_house(tamsin.venue)
    publish_off.say_bottle_out(
        by=tamsin, ingredient=stock.get(slug="vodka"), substitute=stock.get(slug="gin"), at=NOW
    )
    browser = visit(tamsin)
    said = text(browser.get(checklist_of(nils)))

    assert "1 pour gin" in said
    assert "1 pour vodka" not in said
    assert "The book has other pours, so this build proves nothing of those" in said
    assert "stays as the book has it" not in said

    put_on_record(browser, nils)
    build = WatchedBuild.objects.get(hire=nils)
    book = menu_at(tamsin.venue, NOW).by_slug["madras"].drink

    assert prints.changed_since(build.fingerprints, book) == (Aspect.POURS,)

    record.sign_off(by=tamsin, watched=build, at=NOW)
    shown = text(browser.get(page_of(tamsin, build)))

    assert "Something stood in for a bottle that was out" in shown
    assert "it proves nothing of these: pours." in shown
    assert "Changed since by the house" not in shown
    assert not best_sign_offs([nils], [menu_at(tamsin.venue, NOW).by_slug["madras"]], NOW)[nils.pk][
        build.recipe_id
    ].proves


def test_a_build_of_the_book_keeps_its_sign_off_beside_one_with_a_substitute(visit, tamsin, nils):
    make.sign_off(tamsin, nils, "madras")
    stock = Ingredient.objects.in_house(tamsin.venue)
    publish_off.say_bottle_out(
        by=tamsin, ingredient=stock.get(slug="vodka"), substitute=stock.get(slug="gin"), at=NOW
    )
    put_on_record(visit(tamsin), nils)
    record.sign_off(by=tamsin, watched=WatchedBuild.objects.latest("pk"), at=NOW)
    item = menu_at(tamsin.venue, NOW).by_slug["madras"]

    assert best_sign_offs([nils], [item], NOW)[nils.pk][item.recipe.pk].proves


@pytest.mark.parametrize(
    ("off", "says"),
    [
        ([], "Passed."),
        ([FAULT], "Passed. "),
        ([FAILING], "Not passed."),
        ([FAULT, FAILING], "Not passed."),
    ],
)
def test_put_on_record(visit, tamsin, nils, off, says):
    browser = visit(tamsin)

    answer = put_on_record(browser, nils, off=off, seconds="38", note="Steady.")

    build = WatchedBuild.objects.get()
    assert answer["Location"] == page_of(tamsin, build)
    assert (build.hire, build.trainer, build.seconds) == (nils, tamsin, 38)
    assert build.off == sorted(off)
    said = text(browser.get(page_of(tamsin, build)))
    assert says in said
    assert "“Steady.”" in said
    assert "38 seconds" in said
    assert ("fault" in said) is (FAULT in off)
    assert ("fails" in said) is (FAILING in off)


@pytest.mark.parametrize("level", HelpLevel)
@pytest.mark.parametrize("made_with", ["stock", "water"])
def test_help_and_stock_are_put_on_record(visit, tamsin, nils, level, made_with):
    put_on_record(visit(tamsin), nils, help_level=level.value, made_with=made_with)

    build = WatchedBuild.objects.get()
    assert (build.help_level, build.made_with) == (level.value, made_with)


def test_a_pass_is_signed_off_on_its_page_and_that_is_said(visit, tamsin, nils):
    browser, build = visit(tamsin), make.watch(tamsin, nils)
    path = address(tamsin, "sign_off", code=build.code)

    answer = browser.send(path, fields(browser.get(page_of(tamsin, build)), path))

    assert answer["Location"] == page_of(tamsin, build)
    said = text(browser.get(answer["Location"]))
    assert "Signed off: Nils, Madras." in said
    assert "Signed off on March 7, 2026 by Tamsin." in said
    assert SignOff.objects.get().watched == build


@pytest.mark.parametrize(
    ("said", "has_button"),
    [({}, True), ({"off": [FAULT]}, True), ({"off": [FAILING]}, False),
     ({"help_level": HelpLevel.PROMPTED}, True)],
)  # fmt: skip
def test_where_the_sign_off_button_stands(visit, tamsin, pia, nils, said, has_button):
    build = make.watch(tamsin, nils, **said)
    path = address(tamsin, "sign_off", code=build.code)

    assert (path in visit(tamsin).get(page_of(tamsin, build)).content.decode()) is has_button
    assert path not in visit(pia).get(page_of(tamsin, build)).content.decode()


def test_with_help_a_sign_off_says_that_it_proves_nothing(visit, tamsin, nils):
    browser = visit(tamsin)
    build = make.watch(tamsin, nils, help_level=HelpLevel.PROMPTED)
    before = text(browser.get(page_of(tamsin, build)))
    record.sign_off(by=tamsin, watched=build, at=NOW)

    assert "There was help: a sign-off goes on record, and it doesn't prove the drink." in before
    assert "There was help, so it doesn't prove the drink." in text(
        browser.get(page_of(tamsin, build))
    )


def test_what_the_verb_refuses_is_said_on_the_page(visit, tamsin, pia, nils):
    build = make.watch(tamsin, nils)

    answer = visit(pia).send(address(pia, "sign_off", code=build.code))

    assert answer.status_code == 200
    assert "Only whoever watched the build can sign it off." in text(answer)
    assert not SignOff.objects.exists()


def test_a_void_and_its_reason_stand_on_the_page(visit, tamsin, pia, nils):
    build = make.sign_off(tamsin, nils).watched
    browser, path = visit(pia), address(pia, "void", code=build.code)
    page = browser.get(page_of(pia, build))

    answer = browser.send(path, {**fields(page, path), "reason": "Another hire built it."})

    said = text(browser.get(answer["Location"]))
    assert "Voided. It stays on record and no longer counts." in said
    assert "Voided by Pia on March 7, 2026. Another hire built it." in said
    assert Void.objects.get().watched == build
    assert path not in browser.get(page_of(pia, build)).content.decode()


def test_a_void_without_a_reason_is_asked_for_one(visit, tamsin, nils):
    build = make.watch(tamsin, nils)

    answer = visit(tamsin).send(address(tamsin, "void", code=build.code), {"reason": " \x07 "})

    assert answer.status_code == 200
    assert "None of that can be read." in text(answer)
    assert not Void.objects.exists()


def test_nobody_voids_or_signs_their_own(visit, tamsin, pia):
    build = make.watch(tamsin, pia)
    browser = visit(pia)
    page = browser.get(page_of(pia, build)).content.decode()

    for verb, says in (
        ("sign_off", "Nobody signs for themselves."),
        ("void", "Nobody voids their own record."),
    ):
        path = address(pia, verb, code=build.code)
        assert path not in page
        assert says in text(browser.send(path, {"reason": "mine"}))
    assert (SignOff.objects.count(), Void.objects.count()) == (0, 0)


def test_one_s_own_build_is_not_put_on_record(visit, tamsin):
    answer = visit(tamsin).send(checklist_of(tamsin), {"help_level": "shown", "made_with": "stock"})

    assert "Nobody signs for themselves. Ask another trainer." in text(answer)
    assert not WatchedBuild.objects.exists()


def test_nobody_who_has_left_is_watched(visit, odalys, tamsin, nils):
    enrol.mark_left(by=odalys, membership=nils, at=NOW)
    browser = visit(tamsin)

    assert browser.get(address(nils, "watch_hire", hire=nils.code)).status_code == 404
    assert browser.get(checklist_of(nils)).status_code == 404
    record_page = text(browser.get(address(nils, "hire_record", code=nils.code)))
    assert "trainee, has left" in record_page
    assert "Watch a build" not in record_page


def test_a_drink_changed_meanwhile_is_looked_at_once_more(visit, tamsin, pia, nils):
    browser, path = visit(tamsin), checklist_of(nils)
    sent = {**fields(browser.get(path)), "help_level": "unprompted", "made_with": "stock"}
    revise(pia, "madras", glass="rocks", at=NOW)

    answer = browser.send(path, {**sent, "off": [FAULT, FAILING], "seconds": "40", "note": "Neat."})

    assert answer.status_code == 200
    assert "The house has just changed Madras." in text(answer)
    assert "rocks glass" in text(answer).lower()
    again = fields(answer)
    assert (again["off"], again["seconds"], again["note"]) == ([FAILING, FAULT], ["40"], ["Neat."])
    assert not WatchedBuild.objects.exists()
    assert browser.send(path, again).status_code == 302


def test_a_step_that_is_not_on_the_list_is_refused(visit, tamsin, nils):
    answer = put_on_record(visit(tamsin), nils, off=["pour:absinthe"])

    assert answer.status_code == 200
    assert not WatchedBuild.objects.exists()


def test_a_hire_reads_their_own_build_and_can_only_answer_it(visit, tamsin, nils):
    build = make.watch(tamsin, nils, off=[FAILING], note="Slower.")

    page = visit(nils).get(address(nils, "my_build", code=build.code))

    assert "Not passed." in text(page)
    assert "“Slower.”" in text(page)
    sent_to = re.findall(r'<form method="post" action="([^"]*)"', page.content.decode())
    assert sent_to == ["/sign-out/", address(nils, "answer_build", code=build.code)]


def test_times_are_read_off_the_house_s_clock(visit, tamsin, nils):
    """Lisbon keeps summer time from 29 March: 15:00 UTC is 16:00 there."""
    build = make.watch(tamsin, nils, at=NOW + 30 * DAY)

    assert "April 6, 2026, 4 p.m." in text(visit(tamsin).get(page_of(tamsin, build)))


def test_an_old_build_shows_the_steps_of_then(visit, tamsin, nils):
    build = make.watch(tamsin, nils, off=["glass"])
    revise(tamsin, "madras", glass="rocks", at=NOW)

    said = text(visit(tamsin).get(page_of(tamsin, build)))
    assert "highball glass" in said.lower()
    assert "rocks glass" not in said.lower()


def test_a_build_of_a_drink_off_the_menu_stays_readable(visit, odalys, tamsin, nils):
    build = make.sign_off(tamsin, nils).watched
    publish.set_menu(by=odalys, standing={"madras": OnMenu.OFF}, at=NOW)

    assert "Signed off on" in text(visit(tamsin).get(page_of(tamsin, build)))
    said = text(visit(tamsin).get(address(nils, "hire_record", code=nils.code)))
    assert "Off the menu now" in said


def test_whose_build_asks_the_database_as_often_however_many_there_are(
    visit, odalys, marek, tamsin, pia, nils
):
    browser, path = visit(pia), address(pia, "watch")

    def asked():
        with CaptureQueriesContext(connection) as found:
            assert browser.get(path).status_code == 200
        return len(found)

    make.sign_off(tamsin, nils)
    make.watch(pia, nils, "margarita")  # waits for her own word, before and after
    asked()
    few = asked()
    for number in range(6):
        hire = hire_somebody(odalys, f"Hire{number}")
        make.sign_off(tamsin, hire)
        make.watch(tamsin, hire, "bay-breeze")
    enrol.mark_left(by=odalys, membership=tamsin, at=NOW)
    record_second.hand_over_all(
        by=marek, builds=handing_over.left_open(nils.venue, NOW), to=pia, at=NOW
    )

    assert len(browser.get(path).context["taken_over"]) == 6
    assert asked() == few
