""" "Gin & Tonic", "Gin and Tonic", "Gin + Tonic" and "Gin n Tonic" are one name."""

from dataclasses import replace

import pytest

from assessments import record_sales
from assessments.models import SalesLine
from assessments.models.sales import Place
from assessments.sales_names import drink_called
from assessments.sales_reading import heard, name_of
from assessments.sales_told import Meant
from recipes.grammar.till_names import with_and, without_and
from recipes.menu import menu_at
from tests.factories.assessments import NOW, menu_of
from tests.factories.tills import rows, take_in

WAYS = ["{} {}", "{} & {}", "{}&{}", "{} and {}", "{} + {}", "{} n {}", "{} 'n' {}",
        "{} n\u2019 {}", "{} N {}"]  # fmt: skip


def named(menu, slug, name):
    """The menu with one drink called so."""
    items = (
        replace(i, drink=replace(i.drink, name=name, aliases=())) if i.drink.slug == slug else i
        for i in menu.items
    )
    return replace(menu, items=tuple(items))


@pytest.fixture
def menu(odalys):
    return menu_at(odalys.venue, NOW)


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("house", ["Gin tonic", "Gin and Tonic", "Gin & Tonic"])
def test_it_is_the_drink_that_the_house_writes_in_any_of_them(menu, house, way):
    menu = named(menu, "gin-tonic", house)
    said = way.format("Gin", "Tonic")

    for till in (said, f"Double {said}", f"{said} no ice"):
        assert heard(name_of(till), menu).slug == "gin-tonic", till
    assert drink_called(said, menu) == "gin-tonic"


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("other", WAYS)
def test_told_in_one_it_is_told_in_all(menu, way, other):
    madras = menu.by_slug["madras"].recipe
    told = {name_of(way.format("Sand", "Salt")): Meant(madras)}

    for till in (other.format("Sand", "Salt"), f"Double {other.format('Sand', 'Salt')}"):
        assert heard(name_of(till), menu, told).slug == "madras"


def test_a_name_that_was_kept_with_its_mark_is_the_same(menu):
    """As names were kept before, and though it would be read as another drink."""
    told = {"gin & tonic": Meant(menu.by_slug["madras"].recipe)}

    assert heard(name_of("Gin and Tonic"), menu, told).slug == "madras"
    assert heard(name_of("Gin & Tonic"), menu, told).slug == "madras"


def test_told_later_all_of_them_follow(marek):
    take_in(marek, rows("Sand & Salt,3", "Sand + Salt,4", "Sand n Salt,5"))
    record_sales.tell_names(by=marek, told={"sand & salt": "madras"}, menu=menu_of(marek), at=NOW)

    assert {row.place for row in SalesLine.objects.all()} == {Place.MAPPED}


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("gin & tonic", "gin and tonic"),
        ("gin&tonic&lime", "gin and tonic and lime"),
        ("salt'n'pepper", "salt and pepper"),
        ("lager n a", "lager n a"),
        ("lager n alc", "lager n alc"),
        ("n & n", "n and n"),
        ("lemon", "lemon"),
        ("& co", "& co"),
    ],
)
def test_marks_for_and(said, name):
    assert with_and(said) == name


@pytest.mark.parametrize(
    ("said", "name"),
    [("Rum, and Cola", "rum cola"), ("sand", "sand"), ("and", "and"), ("rum and", "rum and"),
     ("Android", "android")],
)  # fmt: skip
def test_and_between_words_is_left_out(said, name):
    assert without_and(said) == name


@pytest.mark.parametrize("till", ["Madras & Fries", "Lager and Lime", "Beer & Shot", "Sand & Fog"])
def test_what_is_more_than_a_drink_is_asked_about_still(menu, till):
    assert heard(name_of(till), menu).place is Place.WAITING
