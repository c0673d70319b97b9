"""What somebody behind the bar is told who was asked about an allergen."""

import datetime as dt
import re

import pytest
from django.urls import reverse
from django.utils import timezone

from barcourse.people.models import Venue
from recipes import publish_off
from recipes.grammar.allergens import ALLERGENS, EU_14, US_9, listed
from recipes.models import Ingredient
from recipes.wording import allergen_label
from tests.factories.people import OPENED
from tests.factories.recipes import change_rules, recipe
from tests.recipes.pages import text

PAGE = reverse("allergens", kwargs={"house": "harbour-lights"})


def stock(member):
    return Ingredient.objects.in_house(member.venue)


def read_label(member, slug, *allergens):
    stock(member).named([slug]).update(
        allergens=list(allergens), checked_by=member, checked_at=OPENED
    )


def out(by, slug, use):
    publish_off.say_bottle_out(
        by=by,
        ingredient=stock(by).get(slug=slug),
        substitute=stock(by).get(slug=use),
        at=timezone.now() - dt.timedelta(hours=1),
    )


@pytest.mark.parametrize(
    ("country", "expected"),
    [("us", US_9), ("gb", EU_14), ("ie", EU_14), ("eu", EU_14), ("au", ALLERGENS)],
)
def test_each_country_has_its_list(country, expected):
    """Regulation (EU) 1169/2011 annex II names fourteen; FALCPA 2004 and the FASTER Act 2021
    nine. A country whose list we don't have gets both."""
    assert listed(country) == expected
    assert (len(US_9), len(EU_14)) == (9, 14)


@pytest.mark.parametrize(("country", "count"), [("us", 9), ("eu", 14), ("nz", 15)])
def test_the_page_offers_the_list_of_the_country(visit, nils, country, count):
    Venue.objects.filter(pk=nils.venue_id).update(country=country)
    page = visit(nils).get(PAGE).content.decode()

    assert len(re.findall(r'href="\?allergen=', page)) == count


def test_what_else_the_house_entered_stands_there_too(visit, tamsin, nils):
    read_label(tamsin, "sweet-vermouth", "sulphites")

    assert "?allergen=sulphites" in visit(nils).get(PAGE).content.decode()


def test_a_drink_by_name_is_shown_at_once(visit, tamsin, nils):
    read_label(tamsin, "vodka", "gluten")
    read_label(tamsin, "orange-juice")
    page = text(visit(nils).get(PAGE, {"find": "madras"}))

    assert "Contains, as far as the house knows: cereals with gluten ." in page
    assert "vodka Contains: cereals with gluten. Label read by Tamsin on March 5, 2026." in page
    assert "orange juice None entered by the house. Read the label" in page
    assert "cranberry juice Nobody has checked this one. Read the label and fetch" in page
    assert "Something in it is unknown" in page


@pytest.mark.parametrize(
    ("allergens", "said"),
    [
        ([], "cranberry juice Nobody has checked this one."),
        (["milk"], "cranberry juice Contains: milk. Nobody has checked this one."),
    ],
)
def test_what_a_course_brought_along_nobody_has_checked(visit, tamsin, nils, allergens, said):
    stock(tamsin).named(["cranberry-juice"]).update(allergens=allergens)
    page = text(visit(nils).get(PAGE, {"find": "madras"}))

    assert said in page
    assert "cranberry juice None entered" not in page
    assert "Something in it is unknown" in page


def test_by_another_name_too(visit, nils):
    page = text(visit(nils).get(PAGE, {"find": "VODKA CRAN"}))

    assert "Cape codder" in page
    assert "cranberry juice Nobody has checked" in page


def test_rim_and_garnish_stand_in_the_list(visit, nils):
    page = text(visit(nils).get(PAGE, {"drink": "salty-dog"}))

    assert re.search(r"gin .* grapefruit juice .* lime .* salt ", page)


def test_tonights_substitute_is_what_counts(visit, tamsin, nils):
    read_label(tamsin, "gin")
    read_label(tamsin, "irish-cream", "milk")
    out(tamsin, "gin", "irish-cream")
    page = text(visit(nils).get(PAGE, {"drink": "negroni"}))

    assert "irish cream stands in tonight Contains: milk." in page
    assert "is out: poured with irish cream. Irish cream: Contains: milk." in page
    assert not re.search(r"\bgin (Nobody|None|Contains)", page)
    assert "negroni" in text(visit(nils).get(PAGE, {"allergen": "milk"})).lower()


def test_a_drink_that_is_off_is_shown_as_the_book_has_it(visit, tamsin, nils):
    publish_off.say_bottle_out(
        by=tamsin, ingredient=stock(tamsin).get(slug="gin"), at=timezone.now()
    )
    page = text(visit(nils).get(PAGE, {"drink": "negroni"}))

    assert "Off tonight. " in page
    assert "What stands below is how the book has it." in page
    assert "gin Nobody has checked" in page


def test_of_a_drink_that_is_off_all_the_same_the_substitute_is_named(visit, tamsin, nils):
    read_label(tamsin, "irish-cream", "milk")
    out(tamsin, "gin", "irish-cream")
    publish_off.say_drink_out(by=tamsin, recipe=recipe(tamsin, "negroni"), at=timezone.now())
    page = text(visit(nils).get(PAGE, {"drink": "negroni"}))

    assert "Off tonight. It is off by itself" in page
    assert "Gin is out, and irish cream would stand in. Irish cream: Contains: milk." in page


def test_an_ingredient_by_name(visit, tamsin, nils):
    read_label(tamsin, "irish-cream", "milk")
    page = text(visit(nils).get(PAGE, {"find": "irish"}))

    assert "Ingredients irish cream Contains: milk. Label read by Tamsin" in page


def test_by_allergen_known_and_unknown_are_kept_apart(visit, tamsin, nils):
    stock(tamsin).update(allergens=[], checked_by=tamsin, checked_at=OPENED)
    read_label(tamsin, "cream", "milk")
    unread = {"checked_by": None, "checked_at": None}
    stock(tamsin).named(["cola"]).update(allergens=None, **unread)
    stock(tamsin).named(["cranberry-juice"]).update(**unread)  # "none", as a course has it
    page = text(visit(nils).get(PAGE, {"allergen": "milk"}))
    known, unknown = page.split("Drinks known to contain it", 1)[1].split("Of these nobody can", 1)

    assert "White russian cream" in known
    assert "Cuba libre" not in known
    assert "Cuba libre not checked: cola" in unknown
    assert "Madras not checked: cranberry juice" in unknown
    assert "White russian" not in unknown
    assert "may hold it too" in unknown


def test_nothing_entered_says_nothing_of_what_is_in_it(visit, tamsin, nils):
    stock(tamsin).update(allergens=[], checked_by=tamsin, checked_at=OPENED)
    page = text(visit(nils).get(PAGE, {"allergen": "milk"}))

    assert "None has been entered. That says nothing about what is in them." in page
    assert "Of these nobody can say" not in page


def test_a_name_that_nobody_has_still_says_what_to_do(visit, nils):
    page = text(visit(nils).get(PAGE, {"find": "kryptonite"}))

    assert "Nothing here answers to “kryptonite”. Read the label and fetch the manager." in page


@pytest.mark.parametrize("query", [{"drink": "kryptonite"}, {"allergen": "kryptonite"}])
def test_an_address_that_leads_nowhere(visit, nils, query):
    assert visit(nils).get(PAGE, query).status_code == 404


def test_a_search_for_something_common_lists_drinks_to_tap(visit, nils):
    page = visit(nils).get(PAGE, {"find": "tonic"}).content.decode()

    assert 'href="?drink=gin-tonic"' in page
    assert 'href="?drink=vodka-tonic"' in page


QUERIES = [{}, {"find": "madras"}, {"find": "lime"}, {"drink": "negroni"}, {"allergen": "milk"}]


@pytest.mark.parametrize("query", QUERIES, ids=str)
@pytest.mark.parametrize("entered", [None, [], ["milk"]])
def test_it_never_says_free_from(visit, tamsin, nils, query, entered):
    stock(tamsin).update(allergens=entered)
    page = text(visit(nils).get(PAGE, query)).casefold().replace("alcohol free gin", "its name")

    assert "read the label and fetch the manager" in page
    for said in (" free", "-free", "does not contain", "without any", "no allergens", "is safe"):
        assert said not in page.replace("never promise that a drink is safe", "")
    for slug in ALLERGENS:
        assert f"no {allergen_label(slug)}" not in page


def test_the_page_costs_the_same_however_many_drinks_there_are(
    visit, nils, django_assert_max_num_queries
):
    browser = visit(nils)
    with django_assert_max_num_queries(10):
        browser.get(PAGE, {"allergen": "milk"})


def test_a_trainer_gets_from_what_is_unknown_to_where_it_is_entered(visit, tamsin, nils):
    address = reverse("ingredient", kwargs={"house": "harbour-lights", "ingredient": "gin"})

    assert address in visit(tamsin).get(PAGE, {"drink": "negroni"}).content.decode()
    assert address not in visit(nils).get(PAGE, {"drink": "negroni"}).content.decode()


@pytest.mark.parametrize(
    ("word", "found"),
    [("whiskey", "bourbon"), ("ml", None), ("Milk", "Drinks with"), ("GIN", "gin")],
)
def test_a_kind_or_an_allergen_is_found_by_its_name(visit, nils, word, found):
    page = text(visit(nils).get(PAGE, {"find": word}))

    assert (found in page) if found else ("Nothing here answers to" in page)


def test_what_the_house_means_by_a_word_is_found(visit, tamsin, nils):
    change_rules(tamsin, slang={"corn": "bourbon"})

    assert "bourbon" in text(visit(nils).get(PAGE, {"find": "corn"}))
