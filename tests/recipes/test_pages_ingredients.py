"""The stock as pages: found, added, changed, its labels read, removed."""

import re
import uuid

import pytest

from barcourse.people import log
from recipes.models import Ingredient
from tests.factories.people import OPENED
from tests.factories.recipes import DAY
from tests.recipes.pages import text, typed
from tests.recipes.test_pages_editing import beside

STOCK = "/h/harbour-lights/book/ingredients/"
NEW = "/h/harbour-lights/book/new-ingredient/"
VODKA = f"{STOCK}vodka/"
NOW = OPENED + DAY


@pytest.fixture(autouse=True)
def _on_a_friday_in_march(time_machine):
    time_machine.move_to(NOW, tick=False)


def row(by, slug):
    return Ingredient.objects.in_house(by.venue).get(slug=slug)


def fill(browser, url, **said):
    return {**typed(browser.get(url)), "form_key": str(uuid.uuid4()), **said}


def test_by_kind_with_what_is_known_of_each(visit, tamsin):
    Ingredient.objects.in_house(tamsin.venue).named(["gin"]).update(
        bottle_ml=700, bottle_price=18, checked_by=tamsin, checked_at=OPENED, allergens=[]
    )
    page = text(visit(tamsin).get(STOCK))

    assert re.search(
        r"Gin gin 40 %, 700 ml, \$18\.00 label read by Tamsin, March 5, 2026 Rum", page
    )
    assert "vodka 40 % label not read" in page


def test_one_is_found_by_name(visit, tamsin):
    page = text(visit(tamsin).get(f"{STOCK}?find=GRAPE"))

    assert "grapefruit juice" in page
    assert "vodka" not in page
    assert "Nothing here answers to “moon”." in text(visit(tamsin).get(f"{STOCK}?find=moon"))


def test_a_new_one_is_added_and_nobody_has_read_its_label(visit, tamsin):
    browser = visit(tamsin)
    said = fill(browser, NEW, name="Quay cordial", kind="syrup", bottle_ml="500")
    answer = browser.post(NEW, said, follow=True)

    assert answer.redirect_chain == [(f"{STOCK}quay-cordial/", 302)]
    assert "Quay cordial is in the stock." in text(answer)
    assert "Nobody has checked this one." in text(answer)


WRONG = [
    ({"name": "Vodka"}, "name", "the ingredient vodka is called that already"),
    ({"name": "Madras"}, "name", "the drink Madras is called that already"),
    ({"aliases": "double vodka"}, "aliases", "the house already understands it as vodka"),
    ({"abv": "97"}, "abv", "At most 96, please."),
    ({"abv": "-1"}, "abv", "At least 0, please."),
    ({"density": "2"}, "density", "At most 1.59, please."),
    ({"colour": "red"}, "colour", "Enter a valid value."),
    ({"kind": "potion"}, "kind", "Select a valid choice."),
    ({"bottle_ml": "0"}, "bottle_ml", "At least 1, please."),
    ({"bottle_price": "-2"}, "bottle_price", "At least 0, please."),
    ({"aliases": "x" * 81}, "aliases", "A name has at most 80 letters."),
]


@pytest.mark.parametrize(("said", "field", "sentence"), WRONG)
def test_a_refusal_stands_beside_its_field(visit, tamsin, said, field, sentence):
    browser, head = visit(tamsin), log.head(tamsin.venue)
    right = {"name": "Quay cordial", "kind": "syrup"}
    answer = browser.post(NEW, fill(browser, NEW, **{**right, **said}))

    assert sentence in beside(answer, field)
    assert log.head(tamsin.venue) == head


def test_every_ingredient_is_saved_as_its_form_shows_it(visit, tamsin):
    browser, head = visit(tamsin), log.head(tamsin.venue)
    for item in Ingredient.objects.in_house(tamsin.venue):
        url = f"{STOCK}{item.slug}/"
        assert browser.post(url, fill(browser, url)).status_code == 302, item.slug

    assert log.head(tamsin.venue) == head


def test_a_price_is_saved_at_once(visit, tamsin):
    browser = visit(tamsin)
    answer = browser.post(VODKA, fill(browser, VODKA, bottle_price="14.9"), follow=True)

    assert "Saved." in text(answer)
    assert str(row(tamsin, "vodka").bottle_price) == "14.90"


def test_another_strength_shows_first_which_drinks_change(visit, tamsin):
    browser = visit(tamsin)
    shown = browser.post(VODKA, fill(browser, VODKA, abv="37.5"))

    page = text(shown)
    # 1 fl oz in 5 fl oz: a fifth of 40 % is 8.0 %, of 37.5 % it is 7.5 %.
    assert "Madras 8.0 %, then 7.5 %" in page
    assert "Gin tonic" not in page
    assert row(tamsin, "vodka").abv == 40

    answer = browser.post(VODKA, {**typed(shown), "publish": "1"}, follow=True)

    assert "Saved." in text(answer)
    assert row(tamsin, "vodka").abv == 37.5


def test_what_a_poured_drink_needs_is_not_taken_from_it(visit, tamsin):
    browser = visit(tamsin)
    answer = browser.post(VODKA, fill(browser, VODKA, kind="fruit"))

    assert "Madras: Vodka can't be poured." in text(answer)
    assert row(tamsin, "vodka").kind == "vodka"


def test_a_label_is_read_with_name_and_day(visit, tamsin):
    browser = visit(tamsin)
    answer = browser.send(f"{STOCK}cream/label/", {"allergens": ["milk"]}, follow=True)

    page = text(answer)
    assert "Noted, with your name and today's date." in page
    assert "Contains: milk. Label read by Tamsin, March 6, 2026." in page


def test_a_label_that_names_none_is_no_promise(visit, tamsin):
    page = text(visit(tamsin).send(f"{STOCK}cola/label/", {"none": "on"}, follow=True))

    assert "None entered by the house. Read the label before you answer a guest." in page
    assert not re.search(r"free from|free of", page)


@pytest.mark.parametrize("said", [{}, {"allergens": ["milk"], "none": "on"}])
def test_neither_nothing_nor_both_is_an_answer(visit, tamsin, said):
    answer = visit(tamsin).send(f"{STOCK}cola/label/", said)

    assert "Tick what the label names, or that it names none of these." in text(answer)
    assert row(tamsin, "cola").checked_by is None


def test_an_allergen_of_no_list_is_refused(visit, tamsin):
    answer = visit(tamsin).send(f"{STOCK}cola/label/", {"allergens": ["moon"]})

    assert "Select a valid choice." in text(answer)


def test_what_is_needed_stays_and_the_drinks_are_named(visit, tamsin):
    answer = visit(tamsin).send(f"{STOCK}grapefruit-juice/remove/", follow=True)

    assert "grapefruit juice can't go while these need it:" in text(answer)
    assert "Sea breeze" in text(answer)
    assert "Remove it from the stock" not in text(answer)


def test_what_is_not_needed_goes(visit, tamsin):
    browser = visit(tamsin)
    browser.post(NEW, fill(browser, NEW, name="Quay cordial", kind="syrup"))
    answer = browser.send(f"{STOCK}quay-cordial/remove/", follow=True)

    assert answer.redirect_chain == [(STOCK, 302)]
    assert "Quay cordial is gone from the stock." in text(answer)


def save(browser, url, **said):
    assert browser.post(url, fill(browser, url, **said)).status_code == 302


def test_another_bottle_leaves_the_label_to_be_read_anew(visit, tamsin, nils, time_machine):
    """What is known of the older bottle stays readable, but nobody may answer a guest by it."""
    browser = visit(tamsin)
    browser.send(f"{STOCK}gin/label/", {"allergens": ["nuts"]})
    time_machine.move_to(NOW + DAY, tick=False)
    save(browser, f"{STOCK}gin/", another_bottle="on")

    page = text(browser.get(f"{STOCK}gin/"))
    assert "It is another bottle now, and nobody has read its label" in page
    assert "Of the bottle before: Contains: tree nuts." in page
    assert "Label of the bottle before read by Tamsin, March 6, 2026." in page
    drink = text(visit(nils).get("/h/harbour-lights/allergens/", {"drink": "gin-tonic"}))
    assert "Something in it is unknown" in drink
    assert "Label of the bottle before read by Tamsin on March 6, 2026." in drink

    save(browser, f"{STOCK}gin/", bottle_price="20")
    assert row(tamsin, "gin").label_is_older
    browser.send(f"{STOCK}gin/label/", {"none": "on"})
    assert not row(tamsin, "gin").label_is_older


@pytest.mark.parametrize(
    ("said", "older"),
    [({"name": "London gin"}, True), ({"bottle_ml": "700"}, True), ({"bottle_price": "9"}, False)],
)
def test_what_makes_it_another_bottle(visit, tamsin, said, older, time_machine):
    browser = visit(tamsin)
    browser.send(f"{STOCK}gin/label/", {"allergens": ["nuts"]})
    save(browser, f"{STOCK}gin/", bottle_ml="1000")
    assert not row(tamsin, "gin").label_is_older
    time_machine.move_to(NOW + DAY, tick=False)
    save(browser, f"{STOCK}gin/", **said)

    assert row(tamsin, "gin").label_is_older is older


def test_a_bottle_of_the_house_is_added_with_its_step(visit, tamsin):
    browser = visit(tamsin)
    said = {"name": "Quayside gin", "kind": "gin", "abv": "43", "bottle_of": "gin"}
    answer = browser.post(NEW, fill(browser, NEW, **said, step="premium", aliases="Quayside"))

    assert answer.status_code == 302
    bottle = row(tamsin, "quayside-gin")
    assert (bottle.bottle_of, bottle.step) == ("gin", "premium")
    assert "premium, a bottle of gin" in text(browser.get(STOCK))
    assert "premium, a bottle of gin" not in text(browser.get(f"{STOCK}?find=vodka"))
    shown = typed(browser.get(f"{STOCK}quayside-gin/"))
    assert (shown["bottle_of"], shown["step"]) == ("gin", "premium")


def test_a_bottle_of_another_kind_stands_beside_its_field(visit, tamsin):
    browser = visit(tamsin)
    said = {"name": "Quayside gin", "kind": "gin", "bottle_of": "vodka"}
    answer = browser.post(NEW, fill(browser, NEW, **said))

    assert "vodka is of another kind than Quayside gin" in beside(answer, "bottle_of")
