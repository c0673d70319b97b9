"""Drinks added, copied, renamed and retired, as pages; and the fragment that follows the typing."""

import re
import uuid
from html import unescape

import pytest

from barcourse.people import log
from recipes.forms import drink as drink_form
from recipes.menu import menu_at
from recipes.models import Ingredient, Recipe
from recipes.publish_recipes import retire
from tests.factories.people import OPENED
from tests.factories.recipes import DAY, recipe
from tests.grammar import kitchen
from tests.recipes.pages import text, typed

BOOK = "/h/harbour-lights/book/"
NEW = f"{BOOK}new-drink/"
MADRAS = f"{BOOK}drink/madras/"
NOW = OPENED + DAY
MULE = {"name": "Gin Mule", "parts": "1 pour gin\ntop ginger beer"}


@pytest.fixture(autouse=True)
def _on_a_friday_in_march(time_machine):
    time_machine.move_to(NOW, tick=False)


def fill(browser, url, **said):
    return {**typed(browser.get(url)), "form_key": str(uuid.uuid4()), **said}


def beside(answer, field):
    page = unescape(answer.content.decode())
    found = re.findall(rf'id="id_{field}_error">(.*?)</p>', page, re.DOTALL)
    return " ".join(re.sub(r"<[^>]+>", " ", " ".join(found)).split())


# A new drink


def test_first_the_steps_then_the_drink_is_on_the_menu(visit, tamsin):
    browser = visit(tamsin)
    shown = browser.post(NEW, fill(browser, NEW, **MULE, price="9.50", must_know="on", look="1"))

    assert "This is how it would be built nothing is saved yet" in text(shown)
    assert "1 pour gin, by jigger" in text(shown)
    assert not Recipe.objects.in_house(tamsin.venue).filter(name="Gin Mule").exists()

    answer = browser.post(NEW, {**typed(shown), "publish": "1"}, follow=True)

    assert answer.redirect_chain == [(f"{BOOK}drink/gin-mule/", 302)]
    assert "Gin Mule is added and poured." in text(answer)
    assert menu_at(tamsin.venue, NOW).by_slug["gin-mule"].drink.must_know


def test_from_a_date_and_hour(visit, tamsin):
    browser = visit(tamsin)
    said = fill(browser, NEW, **MULE, takes_effect_at="2026-03-12T18:00", look="1")
    shown = browser.post(NEW, said)
    answer = browser.post(NEW, {**typed(shown), "publish": "1"}, follow=True)

    assert "Gin Mule is added; from March 12, 2026, 6 p.m. it is poured." in text(answer)
    assert "gin-mule" not in menu_at(tamsin.venue, NOW).by_slug
    ahead = text(browser.get(f"{BOOK}drink/gin-mule/"))
    assert "From March 12, 2026, 6 p.m. it counts. Until then it can be learned" in ahead
    assert "Pour 1 pour of gin" in ahead or "1 pour gin" in ahead


def test_a_button_alone_adds_nothing(visit, tamsin):
    browser = visit(tamsin)
    answer = browser.post(NEW, fill(browser, NEW, **MULE, publish="1"))

    assert answer.status_code == 200
    assert not Recipe.objects.in_house(tamsin.venue).filter(name="Gin Mule").exists()


def test_a_new_one_like_another_begins_with_its_build(visit, tamsin):
    said = typed(visit(tamsin).get(f"{NEW}?like=madras"))

    assert said["parts"].splitlines() == ["1 pour vodka", "top cranberry juice", "top orange juice"]
    assert (said["name"], said["module"]) == ("", "highballs")


def test_like_a_drink_that_there_is_not(visit, tamsin):
    assert visit(tamsin).get(f"{NEW}?like=nothing").status_code == 404


WRONG = [
    ({"name": ""}, "name", "This field is required."),
    ({"name": "Sea Breeze"}, "name", "the drink Sea breeze is called that already"),
    ({"aliases": "fog\ntall one"}, "aliases", "“tall one” can't mean Gin Mule: guests say that"),
    ({"aliases": "fog, tall one"}, "aliases", "“tall one” can't mean Gin Mule: guests say that"),
    ({"aliases": "Cola"}, "aliases", "“Cola” can't mean Gin Mule: the ingredient cola is called"),
    ({"share": "-1"}, "share", "At least 0, please."),
    ({"price": "a lot"}, "price", "That is no number."),
    ({"module": "cellar"}, "module", "Select a valid choice."),
    ({"parts": "9 pours gin"}, "parts", "It runs over"),
    ({"parts": ""}, "parts", "Type at least one thing that goes in."),
    ({"takes_effect_at": "2026-03-01T10:00"}, "takes_effect_at", "That moment has passed."),
]


@pytest.mark.parametrize(("said", "field", "sentence"), WRONG)
def test_a_refusal_stands_beside_its_field(visit, tamsin, said, field, sentence):
    browser, head = visit(tamsin), log.head(tamsin.venue)
    answer = browser.post(NEW, fill(browser, NEW, **{**MULE, **said}, look="1"))

    assert sentence in beside(answer, field)
    assert "Add this drink" not in text(answer)
    assert log.head(tamsin.venue) == head


# While typing


def fragment(browser, url, **said):
    return browser.post(f"{url}preview/", fill(browser, url_of_form(url), **said))


def url_of_form(url):
    return url if url == NEW else f"{url}change/"


def test_the_fragment_shows_steps_drawing_strength_and_cost(visit, tamsin):
    stock = Ingredient.objects.in_house(tamsin.venue)
    stock.update(bottle_ml=750, bottle_price=15)
    answer = fragment(visit(tamsin), MADRAS, parts="2 pours vodka\ntop cranberry juice")

    page = text(answer)
    assert "<html" not in answer.content.decode()
    assert "<svg" in answer.content.decode()
    assert "Pours so far: 1 pour (1 fl oz) vodka 2 pours (2 fl oz) vodka" in page
    assert "as served 16.0 %" in page
    assert "What it costs $2.96" in page  # 5 fl oz of 15.00 the 750 ml: 147.87 * 15 / 750
    assert "Steps" not in page
    assert "2 pours vodka, by jigger" in page


def test_what_the_fragment_shows_can_be_published_at_once(visit, tamsin):
    browser = visit(tamsin)
    said = fill(browser, f"{MADRAS}change/", glass="rocks", parts="1 pour vodka\ntop cola")
    answer = browser.post(f"{MADRAS}preview/", said)
    [seen] = re.findall(r'name="seen" id="seen" value="(\w+)" hx-swap-oob', answer.content.decode())

    # A browser's own form ends its lines in two characters, a script's request in one.
    said["parts"] = said["parts"].replace("\n", "\r\n")
    browser.post(f"{MADRAS}change/", {**said, "seen": seen, "publish": "1"})

    assert menu_at(tamsin.venue, NOW).by_slug["madras"].drink.spec.glass == "rocks"


def test_the_fragment_says_why_it_cannot_be_built(visit, tamsin):
    browser = visit(tamsin)

    assert "It runs over" in text(fragment(browser, MADRAS, parts="9 pours vodka"))
    assert "There is no “vodak” here." in text(fragment(browser, NEW, parts="1 pour vodak"))


def test_a_drink_without_a_name_is_shown_while_it_is_typed(visit, tamsin):
    page = text(fragment(visit(tamsin), NEW, parts="1 pour gin\ntop ginger beer"))

    assert "1 pour gin, by jigger" in page
    assert "Add this drink" not in page


def test_with_a_name_it_can_be_added(visit, tamsin):
    browser = visit(tamsin)

    assert "Add this drink" in text(fragment(browser, NEW, **MULE))
    assert "the drink Madras is called that" in text(
        fragment(browser, NEW, **{**MULE, "name": "Madras"})
    )


@pytest.mark.parametrize("url", [MADRAS, NEW])
def test_typing_leaves_nothing_behind(visit, tamsin, url):
    browser, head = visit(tamsin), log.head(tamsin.venue)
    fragment(browser, url, **MULE)

    assert log.head(tamsin.venue) == head
    assert Recipe.objects.in_house(tamsin.venue).count() == len(kitchen.MENU)


def test_the_form_asks_for_the_fragment_with_its_own_fields(visit, tamsin):
    page = visit(tamsin).get(f"{MADRAS}change/").content.decode()

    assert f'hx-post="{MADRAS}preview/"' in page
    assert 'hx-include="closest form"' in page
    assert 'id="preview"' in page


# The card


def test_a_card_is_saved(visit, tamsin):
    browser, url = visit(tamsin), f"{MADRAS}card/"
    said = fill(browser, url, name="Madrasa", price="8.25", aliases="hook, red hook;")
    answer = browser.post(url, said, follow=True)

    row = recipe(tamsin, "madras")
    assert answer.redirect_chain == [(MADRAS, 302)]
    assert "The card is saved." in text(answer)
    assert (row.name, row.aliases, str(row.price)) == ("Madrasa", ["hook", "red hook"], "8.25")


def test_a_card_sent_as_it_stands_changes_nothing(visit, tamsin):
    browser, head = visit(tamsin), log.head(tamsin.venue)
    for slug in kitchen.MENU:
        url = f"{BOOK}drink/{slug}/card/"
        assert browser.post(url, fill(browser, url)).status_code == 302

    assert log.head(tamsin.venue) == head


def test_a_taken_name_is_refused_beside_the_name(visit, tamsin):
    browser, url = visit(tamsin), f"{MADRAS}card/"
    answer = browser.post(url, fill(browser, url, name="Negroni"))

    assert "the drink Negroni is called that already" in beside(answer, "name")


# Retiring


def test_retired_at_once_and_brought_back(visit, tamsin):
    browser = visit(tamsin)
    answer = browser.send(f"{MADRAS}retire/", {"retires_at": ""}, follow=True)

    assert "Madras has left the menu. What is on record of it stays." in text(answer)
    assert "Highballs · retired" in text(answer)
    assert "On March 6, 2026, 3 p.m. it was retired." in text(answer)

    answer = browser.send(f"{MADRAS}bring-back/", follow=True)

    assert "Madras is on the menu again." in text(answer)
    assert "madras" in menu_at(tamsin.venue, NOW).by_slug


def test_what_is_called_as_it_is_poured_from_comes_back_too(visit, tamsin):
    Recipe.objects.filter(slug="draught-lager").update(aliases=["lager"])
    browser, lager = visit(tamsin), f"{BOOK}drink/draught-lager/"
    shown = text(browser.get(f"{lager}retire/"))
    browser.send(f"{lager}retire/", {"retires_at": ""}, follow=True)

    answer = browser.send(f"{lager}bring-back/", follow=True)

    assert "It can be brought back." in shown
    assert "Draught lager is on the menu again." in text(answer)


def test_retired_from_a_date_and_hour_of_the_house(visit, tamsin):
    """Lisbon is an hour ahead of UTC once summer time has begun."""
    answer = visit(tamsin).send(f"{MADRAS}retire/", {"retires_at": "2026-04-02T18:00"}, follow=True)

    assert "On April 2, 2026, 6 p.m. Madras leaves the menu." in text(answer)
    assert recipe(tamsin, "madras").retires_at.hour == 17


@pytest.mark.parametrize(
    ("when", "sentence"),
    [("2026-03-01T10:00", "That moment has passed."), ("soon", "That is no date and hour.")],
)
def test_a_bad_moment_is_refused(visit, tamsin, when, sentence):
    answer = visit(tamsin).send(f"{MADRAS}retire/", {"retires_at": when})

    assert sentence in beside(answer, "retires_at")
    assert recipe(tamsin, "madras").retires_at is None


def test_a_retired_drink_is_no_mark_on_the_menu_form(visit, tamsin):
    retire(by=tamsin, recipe=recipe(tamsin, "madras"), at=NOW)
    page = visit(tamsin).get(f"{BOOK}menu/").content.decode()

    assert 'name="on-madras"' not in page
    assert 'name="on-sea-breeze"' in page
    assert "Madras retired" in text(visit(tamsin).get(BOOK))


def test_bringing_back_what_is_here_says_so(visit, tamsin):
    answer = visit(tamsin).send(f"{MADRAS}bring-back/", follow=True)

    assert "Madras has not been retired" in text(answer)


# Cost


def test_what_a_drink_costs_stands_on_its_page(visit, tamsin):
    stock = Ingredient.objects.in_house(tamsin.venue)
    stock.named(["vodka"]).update(bottle_ml=750, bottle_price=15)
    stock.named(["cranberry-juice"]).update(bottle_ml=1000, bottle_price=2)
    page = text(visit(tamsin).get(MADRAS))

    assert "vodka 1 fl oz; a bottle gives 25 $0.59" in page
    assert "Together not known yet" in page
    assert "No bottle size and price yet: orange juice." in page

    stock.named(["orange-juice"]).update(bottle_ml=1000, bottle_price=3)
    Recipe.objects.in_house(tamsin.venue).filter(slug="madras").update(price=8)
    page = text(visit(tamsin).get(MADRAS))

    # 29.57 ml * 15 / 750 + 59.15 * 2 / 1000 + 59.15 * 3 / 1000 = 0.887; of 8.00 that is 11.1 %.
    assert "Together $0.89" in page
    assert "Price on the menu $8.00" in page
    assert "Pour cost what of the price went into the glass 11.1 %" in page


def test_a_dash_is_a_dash(visit, tamsin):
    page = text(visit(tamsin).get("/h/harbour-lights/book/drink/old-fashioned/"))

    assert "bitters 2 dashes no price entered" in page
    assert "0 fl oz" not in page


def test_a_house_in_millilitres_is_told_how_an_ounce_is_read(visit, odalys, monkeypatch):
    """29.5735295625 ml to the US fluid ounce: NIST Handbook 44 appendix C."""
    monkeypatch.setattr(drink_form, "US_MEASURES", frozenset())
    page = text(visit(odalys).get(NEW))

    assert "read as the US fluid ounce, 29.6 ml" in page
    assert "first in 15 ml grenadine" in page
    assert "0.5 fl oz" not in page
