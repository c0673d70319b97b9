"""A name told once covers its sizes and changes, and nothing that may be another drink."""

import pytest

from assessments import record_sales
from assessments.models import OrdersByHour, SalesLine
from assessments.models.sales import Place
from assessments.sales_reading import name_of
from assessments.sales_told import meaning_of, told_within
from recipes import publish_recipes
from recipes.menu import menu_at
from tests.factories import tills
from tests.factories.assessments import NOW


@pytest.fixture
def menu(odalys):
    return menu_at(odalys.venue, NOW)


@pytest.fixture
def told(menu):
    return {"pp codder": menu.by_slug["cape-codder"].recipe, "nuts": None}


@pytest.mark.parametrize(
    ("said", "part"),
    [
        ("pp codder double", "pp codder"),
        ("double pp codder", "pp codder"),
        ("tall pp codder no ice", "pp codder"),
        ("pp codder no garnish", "pp codder"),
        ("nuts double", "nuts"),
        ("pp codder", ""),  # it is told itself
        ("pp codder tequila", ""),  # another base
        ("pp codder pineapple", ""),  # may be another drink
        ("pp codder zwetschge", ""),
        ("2 pp codder", ""),  # how many were sold then?
        ("codder", ""),
        ("nuts and bolts", ""),
        ("peanuts double", ""),
    ],
)
def test_what_stands_beside_a_told_name(menu, told, said, part):
    assert told_within(said, menu, told) == part


def test_what_is_certain_by_itself_needs_no_told_name(menu):
    """A madras is a madras, though somebody told what "mad" is."""
    told = {"madras": menu.by_slug["margarita"].recipe}

    heard, recipe, by_word = meaning_of("madras double", menu, told)

    assert (heard.place, recipe.slug, by_word) == (Place.MAPPED, "madras", False)


@pytest.mark.parametrize(
    "said", ["virgin madras", "madras no alcohol", "alcohol-free gin tonic", "na lager"]
)
def test_what_has_no_alcohol_is_never_its_namesake(menu, said):
    heard = meaning_of(said, menu, {})[0]

    assert (heard.place, heard.recipe) == (Place.WAITING, None)
    assert all(menu.by_slug[slug].drink.spec.alcohol_free for slug in heard.proposed)


def test_every_drink_s_own_name_is_that_drink(menu):
    for item in menu.items:
        assert meaning_of(name_of(item.drink.name), menu, {})[0].recipe == item.drink.slug


def test_a_drink_off_the_menu_is_sold_and_not_taught(odalys, menu):
    publish_recipes.retire(by=odalys, recipe=menu.by_slug["madras"].recipe, at=NOW)
    found = meaning_of("madras", menu_at(odalys.venue, NOW), {})[0]

    assert found.place is Place.UNTAUGHT


HOURLY = (
    "item,quantity,date,hour\n"
    "PP CODDER,3,2026-03-06,22\n"
    "PP CODDER DBL,2,2026-03-06,22\n"
    "DBL PP CODDER,4,2026-03-06,23\n"
    "PP CODDER TEQUILA,5,2026-03-06,23\n"
)


def _places():
    rows = SalesLine.objects.order_by("said").select_related("recipe")
    return {row.said: (row.place, row.recipe and row.recipe.slug) for row in rows}


def _drinks():
    return [float(row.drinks) for row in OrdersByHour.objects.order_by("hour")]


def test_told_before_or_after_it_counts_alike(odalys, menu):
    tills.take_in(odalys, HOURLY)
    waiting = (Place.WAITING, None)
    assert set(_places().values()) == {waiting}

    def tell(to):
        record_sales.tell_names(by=odalys, told={"pp codder": to}, menu=menu, at=NOW)

    tell("cape-codder")
    codder = (Place.MAPPED, "cape-codder")
    after = {
        "double pp codder": codder, "pp codder": codder, "pp codder double": codder,
        "pp codder tequila": waiting,
    }  # fmt: skip
    assert (_places(), _drinks()) == (after, [5.0, 4.0])

    record_sales.withdraw_sales(by=odalys, mix=SalesLine.objects.first().mix, at=NOW)
    SalesLine.objects.all().delete()
    OrdersByHour.objects.all().delete()
    tills.take_in(odalys, HOURLY)
    assert (_places(), _drinks()) == (after, [5.0, 4.0])

    tell("madras")
    assert _places()["pp codder double"] == (Place.MAPPED, "madras")
    tell(None)
    assert (_places()["pp codder double"], _drinks()) == ((Place.NOT_OURS, None), [0.0, 0.0])
    tell(record_sales.FORGET)
    assert (set(_places().values()), _drinks()) == ({waiting}, [0.0, 0.0])
