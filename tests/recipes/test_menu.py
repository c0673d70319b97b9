"""What the house pours at a moment."""

import pytest

from recipes import publish
from recipes.grammar.reasons import CannotBuild
from recipes.grammar.rules import GlassRule
from recipes.menu import NoRules, drink_of, menu_at
from recipes.models import Module, Recipe
from recipes.publish import OnMenu
from tests.factories.people import OPENED
from tests.factories.recipes import DAY, MUST_KNOW, change_rules, recipe, revise
from tests.grammar import kitchen

NOW = OPENED + DAY


def test_the_whole_menu_in_four_queries(odalys, django_assert_num_queries):
    with django_assert_num_queries(4):
        menu = menu_at(odalys.venue, NOW)
        assert next(item.drink.module for item in menu.items) == "highballs"
        assert menu.names["lime"] == "lime"

    assert len(menu.items) == len(kitchen.MENU)


def test_as_many_queries_after_a_year_of_changes(odalys, django_assert_num_queries):
    for glass in ("rocks", "pint", "wine"):
        revise(odalys, "madras", glass=glass)
    change_rules(odalys, tolerance=0.25)

    with django_assert_num_queries(4):
        menu_at(odalys.venue, NOW)


def test_shares_sum_to_one_over_what_is_poured(odalys):
    off = dict.fromkeys(("madras", "gin-tonic"), OnMenu.OFF)
    publish.set_menu(by=odalys, standing=off, at=NOW)

    menu = menu_at(odalys.venue, NOW)

    must, rest = len(MUST_KNOW) - 1, len(kitchen.MENU) - len(MUST_KNOW) - 1
    assert sum(d.share for d in menu.drinks) == pytest.approx(1)
    assert menu.by_slug["margarita"].drink.share == pytest.approx(2 / (2 * must + rest))
    assert menu.by_slug["negroni"].drink.share == pytest.approx(1 / (2 * must + rest))


def test_shares_are_even_where_nothing_is_known_to_sell(odalys):
    Recipe.objects.in_house(odalys.venue).update(share=0)

    shares = {d.share for d in menu_at(odalys.venue, NOW).drinks}

    assert shares == {1 / len(kitchen.MENU)}


def test_what_is_off_is_not_on(odalys):
    publish.set_menu(by=odalys, standing={"madras": OnMenu.OFF}, at=NOW)

    assert "madras" not in menu_at(odalys.venue, NOW).by_slug


def test_a_drink_says_what_its_recipe_says(odalys):
    item = menu_at(odalys.venue, NOW).by_slug["cape-codder"]

    assert item.drink.name == "Cape codder"
    assert item.drink.aliases == ("vodka cran",)
    assert item.drink.must_know
    assert (item.recipe.slug, item.revision.number) == ("cape-codder", 1)


def test_must_knows_modules_and_stations(odalys):
    menu = menu_at(odalys.venue, NOW)
    beer = Module.objects.get(venue=odalys.venue, slug="beer")
    stations = {s.slug: s for s in odalys.venue.stations.all()}

    assert {i.drink.slug for i in menu.must_knows()} == set(MUST_KNOW)
    assert {i.drink.module for i in menu.of_module(beer)} == {"beer"}
    assert {i.drink.module for i in menu.at_station(stations["beer-point"])} == {"beer"}
    assert menu.at_station(stations["bar-back"]) == ()
    assert len(menu.at_station(stations["well"])) == len(menu.items)


def test_two_houses_do_not_see_each_other(odalys, ravna):
    revise(ravna, "madras", glass="rocks")
    change_rules(ravna, tolerance=0.5)
    publish.set_menu(by=ravna, standing={"negroni": OnMenu.OFF}, at=NOW)

    ours, theirs = menu_at(odalys.venue, NOW), menu_at(ravna.venue, NOW)

    assert ours.by_slug["madras"].drink.spec.glass == "highball"
    assert theirs.by_slug["madras"].drink.spec.glass == "rocks"
    assert (ours.rules.tolerance, theirs.rules.tolerance) == (0.125, 0.5)
    assert "negroni" in ours.by_slug
    assert "negroni" not in theirs.by_slug
    assert {i.recipe.venue_id for i in ours.items} == {odalys.venue.pk}


def test_before_the_first_rules_there_is_no_menu(odalys):
    with pytest.raises(NoRules):
        menu_at(odalys.venue, OPENED - DAY)


def test_a_drink_that_the_rules_of_then_could_not_build_was_not_poured_then(odalys):
    """Off the menu while the house had no cocktail glass, on it now that it has one."""
    publish.set_menu(by=odalys, standing={"daiquiri": OnMenu.OFF}, at=OPENED)
    no_glass = {k: v for k, v in kitchen.RULES.glasses.items() if k != "cocktail"}
    default = {k: v.replace("cocktail", "rocks") for k, v in kitchen.RULES.default_glass.items()}
    change_rules(odalys, glasses=no_glass, default_glass=default, at=NOW)
    change_rules(odalys, at=NOW + DAY)
    publish.set_menu(by=odalys, standing={"daiquiri": OnMenu.POURED}, at=NOW + DAY)

    then, now = menu_at(odalys.venue, NOW), menu_at(odalys.venue, NOW + DAY)

    assert "daiquiri" not in then.by_slug
    assert sum(d.share for d in then.drinks) == pytest.approx(1)
    assert "daiquiri" in now.by_slug


def test_a_drink_off_the_menu_can_still_be_looked_at(odalys):
    publish.set_menu(by=odalys, standing={"madras": OnMenu.OFF}, at=NOW)

    item = drink_of(menu_at(odalys.venue, NOW), recipe(odalys, "madras"))

    assert item.drink.name == "Madras"
    assert item.drink.share == 0
    assert item.revision.number == 1


def test_a_drink_on_the_menu_is_the_menu_s_own(odalys):
    menu = menu_at(odalys.venue, NOW)

    assert drink_of(menu, recipe(odalys, "madras")) is menu.by_slug["madras"]


def test_why_a_drink_off_the_menu_can_no_longer_be_built(odalys):
    publish.set_menu(by=odalys, standing={"bottled-lager": OnMenu.OFF}, at=NOW)
    glasses = kitchen.RULES.glasses | {"bottle": GlassRule(name="Bottle", amount=7)}
    change_rules(odalys, glasses=glasses)

    with pytest.raises(CannotBuild) as refused:
        drink_of(menu_at(odalys.venue, NOW), recipe(odalys, "bottled-lager"))

    assert [r.code for r in refused.value.reasons] == ["over_full"]
