"""What names on the till mean, as it is said on the page of the sales mix."""

import pytest
import time_machine
from django.utils import timezone

from assessments.models import CallMapping, OrdersByHour
from recipes import publish_recipes
from tests.assessments.pages import address, fields, text
from tests.assessments.till_pages import send_file
from tests.factories.assessments import LATER, NOW, menu_of
from tests.factories.tills import rows, take_in


@pytest.fixture
def page(odalys):
    return address(odalys, "sales_mix")


@pytest.fixture
def take(odalys):
    return address(odalys, "sales_take")


def test_a_name_is_asked_about_once(visit, marek, page):
    take_in(marek)
    browser = visit(marek)
    asked = browser.get(page)
    sent = fields(asked, address(marek, "sales_names"))

    assert sent["said"] == ["beer", "burger"]
    assert sent["drink"] == ["", ""]
    assert "Draught lager Nothing that is taught Leave it open" in text(asked)
    browser.send(address(marek, "sales_names"), sent)
    assert CallMapping.objects.count() == 0  # what nobody ticked is not told
    again = {**fields(asked, address(marek, "sales_names")), "pick-1": ["-"]}
    browser.send(address(marek, "sales_names"), again | {"pick-0": ["draught-lager"]})
    shown = text(browser.get(page))
    assert "Which drink is it?" not in shown
    assert "of that nothing that is taught 88" in shown
    assert CallMapping.objects.count() == 2


def test_what_is_left_open_stays_so(visit, marek, page):
    take_in(marek)
    browser = visit(marek)
    browser.send(address(marek, "sales_names"), {"said": ["beer"], "drink": [""]})

    assert "beer, 450 sold" in text(browser.get(page))
    assert CallMapping.objects.count() == 0


def test_a_drink_of_no_menu_is_not_found(visit, marek):
    path = address(marek, "sales_names")

    assert visit(marek).send(path, {"said": ["x"], "drink": ["nope"]}).status_code == 404


def test_a_told_name_is_told_otherwise_or_forgotten(visit, marek, page):
    take_in(marek, "item,qty,date,hour\nBeer,3,2026-03-06,20\nMadras,1,2026-03-06,20\n")
    browser, path = visit(marek), address(marek, "sales_names")
    browser.send(path, {"said": ["beer"], "drink": ["draught-lager"]})
    assert "beer: Draught lager by Marek" in text(browser.get(page))

    asked = browser.get(f"{page}?otherwise=beer")
    told = {"said": ["beer"], "pick-0": ["draught-lager"], "was": ["draught-lager"]}
    stands = fields(asked, path)
    assert {name: stands[name] for name in told} == told
    browser.send(path, {"said": ["beer"], "drink": ["-"]})
    assert "beer: nothing that is taught by Marek" in text(browser.get(page))

    browser.send(path, {"said": ["beer"], "drink": ["?"]})
    shown = text(browser.get(page))
    assert "Names that were told" not in shown
    assert "beer, 3 sold" in shown
    assert CallMapping.objects.count() == 0


def test_a_page_that_lay_open_overwrites_nobody(visit, marek, page):
    take_in(marek, rows("Beer,3", "Burger,2"))
    browser, path = visit(marek), address(marek, "sales_names")
    stale = {**fields(browser.get(page), path), "drink": ["madras", "-"]}
    browser.send(path, {"said": ["beer"], "drink": ["draught-lager"]})

    said = text(browser.send(path, stale, follow=True))

    assert "Somebody has told “beer” meanwhile" in said
    assert "1 name told." in said
    told = {row.said: row.recipe and row.recipe.slug for row in CallMapping.objects.all()}
    assert told == {"beer": "draught-lager", "burger": None}


def test_what_the_program_read_by_itself_is_shown_and_corrected(visit, marek, page, take):
    browser, path = visit(marek), address(marek, "sales_names")
    shown = send_file(browser, take, rows("Gin Tonic DBL,3", "Madras,1"))
    assert "What 2 names were read as" in text(shown)
    take_in(marek, rows("Gin Tonic DBL,3", "Madras,1"))
    said = text(browser.get(page))
    assert "2 names read by themselves" in said
    assert "madras: Madras 1 sold" in said

    asked = browser.get(f"{page}?otherwise=madras")
    assert fields(asked, path)["pick-0"] == ["madras"]
    browser.send(path, {**fields(asked, path), "drink": ["negroni"]})
    assert "madras: Negroni by Marek" in text(browser.get(page))


def test_a_name_that_was_never_sold_is_not_told(visit, marek):
    take_in(marek, rows("Madras,3"))
    sent = {"said": ["margarita"], "drink": ["negroni"]}

    assert visit(marek).send(address(marek, "sales_names"), sent).status_code == 404
    assert CallMapping.objects.count() == 0


def test_a_trainer_sees_the_mix_and_changes_nothing(visit, marek, tamsin, page):
    mix, browser = take_in(marek), visit(tamsin)
    shown = text(browser.get(page))

    assert "Which drink is it? Your manager says what these are. beer 450" in shown
    assert "Take it back" not in shown
    for name, parts in (("sales_take", {}), ("sales_withdraw", {"code": mix.code})):
        assert browser.send(address(marek, name, **parts)).status_code == 403


def test_a_drink_that_is_gone_meanwhile_loses_nothing_that_was_typed(visit, odalys, marek, page):
    take_in(marek, rows("Beer,9", "Burger,2", "Lager,1"))
    browser, path = visit(marek), address(marek, "sales_names")
    sent = {**fields(browser.get(page), path), "pick-0": "negroni", "pick-1": "-"}
    sent["pick-2"] = "draught-lager"
    recipe = menu_of(odalys).by_slug["negroni"].recipe
    publish_recipes.retire(by=odalys, recipe=recipe, at=LATER)
    with time_machine.travel(LATER, tick=False):
        shown = browser.send(path, sent)

        assert shown.status_code == 200
        assert text(shown).count("The drink picked here is not sold any more.") == 1
        assert text(shown).index("beer, 9 sold") < text(shown).index("is not sold any more")
        again = fields(shown, path)
        assert again["said"] == ["beer", "burger", "lager"]
        assert [again[f"pick-{n}"] for n in range(3)] == [[""], ["-"], ["draught-lager"]]
        assert CallMapping.objects.count() == 0
        browser.send(path, {**again, "drink": ["madras", "-", ""]})
    told = {row.said: row.recipe and row.recipe.slug for row in CallMapping.objects.all()}
    assert told == {"beer": "madras", "burger": None, "lager": "draught-lager"}


def test_a_name_told_to_be_a_drink_that_left_says_so_by_its_name(visit, odalys, marek, page):
    drink = menu_of(odalys).by_slug["gin-tonic"].recipe
    CallMapping.objects.create(venue=marek.venue, said="house g", recipe=drink, by=marek, at=NOW)
    publish_recipes.retire(by=odalys, recipe=drink, at=timezone.now())

    shown = text(visit(marek).get(page))
    assert f"house g: {drink.name}, no longer on the menu" in shown


def test_hours_that_cannot_follow_are_said(visit, marek):
    take_in(marek, "item,qty,date,hour\nMadras,3,2026-03-06,20\nNegroni,1,2026-03-06,20\n")
    OrdersByHour.objects.update(told={})
    sent = {"said": ["madras"], "drink": ["-"], "was": [""]}
    told = visit(marek).send(address(marek, "sales_names"), sent, follow=True).content.decode()

    assert "What was taken in on March 7, 2026 keeps its orders by hour as they were" in told


def test_how_many_drinks_one_sale_is_is_asked_and_kept(visit, marek, page, take):
    take_in(marek, rows("Madras 6 pack,2", "Madras,1"))
    browser, path = visit(marek), address(marek, "sales_names")
    asked = browser.get(page)
    sent = fields(asked, path)
    assert "madras 6 pack, 2 sold Madras" in text(asked)
    assert sent["each-0"] == ["6"]

    browser.send(path, {**sent, "pick-0": "madras"})
    shown = text(browser.get(page))
    assert "madras 6 pack: Madras, 6 drinks each" in shown
    assert "Rung up 3 Drinks of the house 13 drinks, as some are several 3 Set aside 0" in shown
    looked = text(send_file(browser, take, rows("Madras 6 pack,5")))
    assert "Drinks of the house 30 drinks, as some are several 5" in looked

    otherwise = browser.get(f"{page}?otherwise=madras 6 pack")
    sent = fields(otherwise, path)
    assert (sent["pick-0"], sent["each-0"], sent["was"]) == (["madras"], ["6"], ["madras:6"])
    browser.send(path, {**sent, "each-0": "4"})
    assert CallMapping.objects.get().each == 4


@pytest.mark.parametrize(
    ("each", "says"),
    [
        ("", "Say how many drinks one sale of it is"),
        ("0", "a number from 1 to 99"),
        ("100", "a number from 1 to 99"),
        ("many", "a number from 1 to 99"),
    ],
)
def test_without_how_many_nothing_is_told(visit, marek, page, each, says):
    take_in(marek, rows("Bucket Madras,2", "Burger,1"))
    browser, path = visit(marek), address(marek, "sales_names")
    sent = {**fields(browser.get(page), path), "pick-0": "madras", "pick-1": "-", "each-0": each}

    shown = browser.send(path, sent)

    assert says in text(shown)
    assert CallMapping.objects.count() == 0
    again = fields(shown, path)
    assert (again["pick-0"], again["pick-1"]) == (["madras"], ["-"])
    browser.send(path, {**again, "each-0": "1"})
    assert CallMapping.objects.count() == 2


@pytest.mark.parametrize("typed", ["Draught lager", "draught LAGER ", "draught-lager"])
def test_a_drink_is_typed_by_its_name(visit, marek, page, typed):
    take_in(marek)
    browser, path = visit(marek), address(marek, "sales_names")
    sent = fields(browser.get(page), path)

    browser.send(path, {**sent, "pick-0": "-", "drink": [typed, ""]})

    told = {row.said: row.recipe and row.recipe.slug for row in CallMapping.objects.all()}
    assert told == {"beer": "draught-lager"}


def test_a_name_of_no_drink_is_said_and_nothing_lost(visit, marek, page):
    take_in(marek)
    browser, path = visit(marek), address(marek, "sales_names")
    sent = {**fields(browser.get(page), path), "drink": ["Draft logger", ""], "pick-1": "-"}

    shown = browser.send(path, sent)

    assert "No drink that is sold is called “Draft logger”." in text(shown)
    assert CallMapping.objects.count() == 0
    again = fields(shown, path)
    assert (again["drink"], again["pick-1"]) == (["Draft logger", ""], ["-"])


def test_every_drink_can_be_found_by_typing(visit, marek, page):
    take_in(marek)
    html = visit(marek).get(page).content.decode()

    assert html.count('<option value="Negroni"></option>') == 1
    assert "<select" not in html
