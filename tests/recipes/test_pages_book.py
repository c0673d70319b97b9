"""The house book and setting the menu, as pages."""

import re
import uuid

import pytest
from django.urls import reverse

from barcourse.people import log
from recipes import publish
from recipes.grammar.rules import GlassRule
from recipes.models import Recipe
from recipes.publish import OnMenu, standing_of
from recipes.shelves import answers_to, nearly, shelves
from tests.factories.people import OPENED
from tests.factories.recipes import change_rules, recipe
from tests.grammar import kitchen
from tests.recipes.pages import text

BOOK = "/h/harbour-lights/book/"
MENU = "/h/harbour-lights/book/menu/"


def marks(venue, **changes: str) -> dict[str, str]:
    """Everything that the form sends: each drink as it stands, but for the changes."""
    rows = Recipe.objects.in_house(venue)
    said = {r.slug: standing_of(r).value for r in rows}
    said |= {slug.replace("_", "-"): way for slug, way in changes.items()}
    return {f"on-{slug}": way for slug, way in said.items()}


# The book


def test_the_book_has_every_module_and_drink(visit, tamsin):
    publish.set_menu(by=tamsin, standing={"negroni": OnMenu.OFF}, at=OPENED)
    page = text(visit(tamsin).get(BOOK))

    assert "Highballs 17 poured, 2 must-knows" in page
    assert "Madras poured" in page
    assert "Negroni not poured" in page
    assert "Cape codder vodka cran must-know" in page
    assert "Service and safety No drinks in this one" in page


def test_the_book_leads_to_each_drink(visit, tamsin):
    page = visit(tamsin).get(BOOK).content.decode()

    for slug in kitchen.MENU:
        assert reverse("drink", kwargs={"house": "harbour-lights", "slug": slug}) in page


def test_a_tap_jumps_to_a_module(visit, tamsin):
    browser = visit(tamsin)
    page = browser.get(BOOK).content.decode()

    for module in ("highballs", "rocks", "shots", "beer", "service-and-safety"):
        assert f'href="#{module}"' in page
        assert f'id="{module}"' in page
    assert 'class="jumps"' not in browser.get(BOOK, {"find": "breeze"}).content.decode()


def test_the_book_in_few_queries(visit, tamsin, django_assert_max_num_queries):
    browser = visit(tamsin)
    with django_assert_max_num_queries(7):
        browser.get(BOOK)


@pytest.mark.parametrize(
    ("find", "found", "hidden"),
    [
        ("breeze", "Sea breeze", "Madras"),
        ("  VODKA   cran ", "Cape codder", "Madras"),
        ("colada", "Pina colada", "Madras"),
        ("coláda", "Pina colada", "Madras"),
    ],
)
def test_a_drink_is_found_by_any_of_its_names(visit, tamsin, find, found, hidden):
    page = text(visit(tamsin).get(BOOK, {"find": find}))

    assert found in page
    assert hidden not in page


def test_a_misspelt_name_is_asked_back(visit, tamsin):
    page = text(visit(tamsin).get(BOOK, {"find": "margerita"}))

    assert "No drink here answers to “margerita”." in page
    assert "Did you mean Margarita" in page


def test_what_is_like_nothing_offers_nothing(visit, tamsin):
    answer = visit(tamsin).get(BOOK, {"find": "<b>xyzzy</b>"})
    page = text(answer)

    assert "answers to “<b>xyzzy</b>”" in page
    assert "Did you mean" not in page
    assert "<b>xyzzy" not in answer.content.decode()


def test_shelves_count_and_keep_houses_apart(tamsin, ravna):
    publish.set_menu(by=ravna, standing=dict.fromkeys(kitchen.MENU, OnMenu.OFF), at=OPENED)

    assert sum(s.poured for s in shelves(tamsin.venue, OPENED)) == len(kitchen.MENU)
    assert sum(s.poured for s in shelves(ravna.venue, OPENED)) == 0
    assert [s.module.slug for s in shelves(tamsin.venue, OPENED, "lager")] == ["beer"]
    assert {r.venue_id for r in nearly(tamsin.venue, "madrs")} == {tamsin.venue_id}


def test_names_answer_without_case_accents_and_space():
    drink = Recipe(name="Piña Colada", aliases=["the  Coconut one"])

    assert all(answers_to(drink, find) for find in ("pina", "PIÑA ", "coconut  ONE", ""))
    assert not answers_to(drink, "daiquiri")


# Setting the menu


def test_the_form_shows_every_drink_as_it_stands(visit, tamsin):
    page = visit(tamsin).get(MENU).content.decode()

    assert page.count('type="radio"') == 3 * len(kitchen.MENU)
    assert page.count(" checked") == len(kitchen.MENU)
    assert re.search(r'name="on-madras" value="poured" checked', page)
    assert re.search(r'name="on-gin-tonic" value="must_know" checked', page)


def test_marks_are_saved_and_told(visit, tamsin):
    sent = marks(tamsin.venue, madras="must_know", gin_tonic="poured", negroni="off")
    answer = visit(tamsin).send(MENU, {**sent, "quick": ""}, follow=True)

    assert answer.redirect_chain == [(MENU, 302)]
    page = text(answer)
    assert "Must-know now: Madras." in page
    assert "Poured now: Gin tonic." in page
    assert "Not poured any more: Negroni." in page
    assert standing_of(recipe(tamsin, "madras")) is OnMenu.MUST_KNOW
    assert standing_of(recipe(tamsin, "gin-tonic")) is OnMenu.POURED
    assert standing_of(recipe(tamsin, "negroni")) is OnMenu.OFF


def test_many_changes_are_told_by_the_first_names_and_a_count(visit, tamsin):
    sent = marks(tamsin.venue) | {f"on-{slug}": "must_know" for slug in kitchen.MENU}
    page = text(visit(tamsin).send(MENU, sent, follow=True))

    assert re.search(r"Must-know now: (\w[^,]+, ){5}\w[^,]+ and 19 more\.", page)


def test_saving_without_a_change_says_so(visit, tamsin):
    page = text(visit(tamsin).send(MENU, marks(tamsin.venue), follow=True))

    assert "Nothing changed" in page


def test_pour_only_the_must_knows_as_marked_on_the_form(visit, tamsin):
    """Three are marked on screen, the four of the course taken off, then one tap."""
    off = {f"on-{slug}": "poured" for slug in ("gin-tonic", "cape-codder", "draught-lager")}
    sent = marks(tamsin.venue, madras="must_know", negroni="must_know") | off
    visit(tamsin).send(MENU, {**sent, "quick": "must_knows"})

    poured = Recipe.objects.in_house(tamsin.venue).on_menu(OPENED)
    assert {r.slug for r in poured} == {"madras", "negroni", "margarita"}
    assert all(r.must_know for r in poured)


def test_pour_everything_keeps_the_must_knows(visit, tamsin):
    sent = marks(tamsin.venue, madras="off", negroni="off")
    visit(tamsin).send(MENU, {**sent, "quick": "everything"})

    assert Recipe.objects.in_house(tamsin.venue).on_menu(OPENED).count() == len(kitchen.MENU)
    assert standing_of(recipe(tamsin, "gin-tonic")) is OnMenu.MUST_KNOW


def test_clearing_marks_saves_nothing(visit, tamsin):
    before = log.head(tamsin.venue)
    answer = visit(tamsin).send(MENU, {**marks(tamsin.venue), "quick": "clear"})

    assert answer.status_code == 200
    assert answer.content.decode().count('value="off" checked') == len(kitchen.MENU)
    assert log.head(tamsin.venue) == before
    assert Recipe.objects.in_house(tamsin.venue).on_menu(OPENED).count() == len(kitchen.MENU)


def test_an_empty_menu_is_refused(visit, tamsin):
    sent = {f"on-{slug}": "off" for slug in kitchen.MENU}
    answer = visit(tamsin).send(MENU, sent)

    assert "Leave at least one drink on the menu." in text(answer)
    assert answer.content.decode().count('value="off" checked') == len(kitchen.MENU)
    assert Recipe.objects.in_house(tamsin.venue).on_menu(OPENED).count() == len(kitchen.MENU)


def test_no_must_know_to_pour_only_is_refused_too(visit, tamsin):
    sent = {f"on-{slug}": "poured" for slug in kitchen.MENU}

    assert "Leave at least one" in text(visit(tamsin).send(MENU, {**sent, "quick": "must_knows"}))


def test_a_fourth_way_is_refused(visit, tamsin):
    answer = visit(tamsin).send(MENU, marks(tamsin.venue, madras="sometimes"))

    assert "Madras: choose one of the three." in text(answer)
    assert standing_of(recipe(tamsin, "madras")) is OnMenu.POURED


def test_a_drink_that_is_not_sent_stays(visit, tamsin):
    visit(tamsin).send(MENU, {"on-madras": "must_know"})

    assert standing_of(recipe(tamsin, "madras")) is OnMenu.MUST_KNOW
    assert standing_of(recipe(tamsin, "negroni")) is OnMenu.POURED


def test_why_a_drink_cannot_be_put_on_the_menu(visit, tamsin):
    publish.set_menu(by=tamsin, standing={"bottled-lager": OnMenu.OFF}, at=OPENED)
    small = kitchen.RULES.glasses | {"bottle": GlassRule(name="Small bottle", amount=7)}
    change_rules(tamsin, glasses=small)

    answer = visit(tamsin).send(MENU, marks(tamsin.venue, bottled_lager="poured", madras="off"))

    assert "Bottled lager: It runs over" in text(answer)
    assert 'name="on-madras" value="off" checked' in answer.content.decode()
    assert standing_of(recipe(tamsin, "madras")) is OnMenu.POURED


def test_a_resend_changes_nothing(visit, tamsin):
    browser = visit(tamsin)
    sent = {**marks(tamsin.venue, madras="must_know"), "form_key": str(uuid.uuid4())}
    first = browser.post(MENU, sent)
    publish.set_menu(by=tamsin, standing={"madras": OnMenu.OFF}, at=OPENED)
    head = log.head(tamsin.venue)

    again = browser.post(MENU, sent)

    assert (again.status_code, again["Location"]) == (302, first["Location"])
    assert log.head(tamsin.venue) == head
    assert standing_of(recipe(tamsin, "madras")) is OnMenu.OFF


def test_the_same_key_with_other_marks_is_refused(visit, tamsin):
    browser, key = visit(tamsin), str(uuid.uuid4())
    browser.post(MENU, {**marks(tamsin.venue, madras="must_know"), "form_key": key})

    other = browser.post(MENU, {**marks(tamsin.venue, madras="off"), "form_key": key})

    assert other.status_code == 409
