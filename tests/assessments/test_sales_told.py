"""A name told once covers its sizes and changes, and nothing that may be another drink."""

from dataclasses import replace

import pytest

from assessments import record_sales
from assessments.models import OrdersByHour, SalesLine
from assessments.models.sales import Place
from assessments.sales_reading import heard, name_of
from assessments.sales_told import Meant, told_within
from recipes import publish_recipes
from recipes.grammar.ingredients import Ingredient, Kind
from recipes.menu import Unsold, menu_at
from tests.factories import tills
from tests.factories.assessments import NOW


@pytest.fixture
def menu(odalys):
    return menu_at(odalys.venue, NOW)


@pytest.fixture
def told(menu):
    return {"pp codder": Meant(menu.by_slug["cape-codder"].recipe), "nuts": Meant()}


@pytest.mark.parametrize(
    ("said", "part"),
    [
        ("pp codder double", "pp codder"),
        ("double pp codder", "pp codder"),
        ("tall pp codder no ice", "pp codder"),
        ("pp codder no garnish", "pp codder"),
        ("nuts double", "nuts"),
        ("pp codder!", "pp codder"),
        ("pp codders", "pp codder"),
        ("double pp codders", "pp codder"),
        ("pp-codder", "pp codder"),
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
    told = {"madras": Meant(menu.by_slug["margarita"].recipe)}

    found = heard("madras double", menu, told)

    assert (found.place, found.slug, found.by_word) == (Place.MAPPED, "madras", False)


@pytest.mark.parametrize(
    ("said", "means"),
    [
        ("2x pp codder", ("cape-codder", 2)),
        ("3 pp codders", ("cape-codder", 3)),
        ("pp codder x2", ("cape-codder", 2)),
        ("2x madras", ("madras", 2)),
        ("two madras", ("madras", 2)),
    ],
)
def test_a_name_that_tells_of_several_is_asked_about(menu, told, said, means):
    """Nobody can tell whether so many were poured for each that was rung up."""
    found = heard(said, menu, told)

    assert (found.place, found.slug) == (Place.WAITING, None)
    assert (next(iter(found.proposed), None), found.each) == means
    assert found.likely
    assert heard("2x nuts", menu, told).place is Place.NOT_OURS


def test_told_later_a_name_with_other_marks_follows(odalys, menu):
    tills.take_in(
        odalys, tills.rows("PP-Codder,3", "PP Codder!,4", "PP Codders,5", "2x PP Codder,6")
    )

    record_sales.tell_names(by=odalys, told={"pp codder": "cape-codder"}, menu=menu, at=NOW)

    mapped = SalesLine.objects.filter(place=Place.MAPPED)
    assert sum(row.quantity for row in mapped) == 12
    assert [row.said for row in SalesLine.objects.filter(place=WAITS)] == ["2x pp codder"]


@pytest.mark.parametrize(
    "item",
    ["Vodka Soda Lrg", "LRG Vodka Soda", "Vodka Soda Lge", "Vodka Soda Reg", "Vodka Soda Sml.",
     "Vodka Soda XL", "Vodka Soda (L)", "Vodka Soda - S", "Vodka Soda (glass)"],
)  # fmt: skip
def test_a_size_blocks_nothing(menu, item):
    assert heard(name_of(item), menu).slug == "vodka-soda"


@pytest.mark.parametrize(
    "item",
    ["Vodka Soda Half", "Half Vodka Soda", "1/2 Vodka Soda", "Vodka Soda D", "D Vodka Soda",
     "Vodka Soda Regular Size", "Vodka Soda L", "Vodka Soda S", "Vodka Soda - L Size",
     "DBL Vodka Soda L"],
)  # fmt: skip
def test_a_word_of_a_size_at_either_end_is_how_it_is_served(menu, item):
    found = heard(name_of(item), menu)

    assert (found.place, found.slug) == (Place.MAPPED, "vodka-soda")


@pytest.mark.parametrize(
    "item", ["PP Codder L", "PP Codder Half", "D PP Codder", "PP Codder Half Size"]
)
def test_a_size_beside_a_told_name_is_that_name(menu, told, item):
    assert heard(name_of(item), menu, told).slug == "cape-codder"


@pytest.mark.parametrize(
    ("item", "why"),
    [
        ("Gin Tonic D", "there is a diet tonic"),
        ("Zwetschge L", "no drink is left of it"),
        ("L", "nothing is left of it"),
        ("Vodka L", "of many drinks it is the first word"),
        ("Vodka Soda Zwetschge L", "something else stands there"),
    ],
)
def test_a_size_that_may_be_another_drink_is_asked_about(odalys, item, why):
    menu = menu_at(odalys.venue, NOW)
    diet = Ingredient(slug="diet-tonic", name="diet tonic water", kind=Kind.SODA_MIXER)
    menu = replace(menu, pantry={**menu.pantry, diet.slug: diet})

    assert heard(name_of(item), menu).place is Place.WAITING, why


def test_a_size_that_a_drink_off_the_menu_may_be_called_by_is_asked_about(odalys):
    menu = menu_at(odalys.venue, NOW)
    assert heard("madras l", menu).slug == "madras"
    light = replace(menu, unsold=(Unsold("light", "Light Madras", ()),))

    assert heard("madras l", light).place is Place.WAITING


@pytest.mark.parametrize("item", ["Bottle White Wine", "Btl of White Wine", "White Wine btl"])
def test_a_bottle_is_no_glass(menu, item):
    assert heard(name_of(item), menu).place is Place.WAITING


WAITS, MAPPED = Place.WAITING, Place.MAPPED


@pytest.mark.parametrize(
    ("said", "told", "means"),
    [
        # of the name itself: what was told, else what is read
        ("madras", {"madras": "negroni"}, (MAPPED, "negroni", True)),
        ("madras", {"madras": None}, (Place.NOT_OURS, None, True)),
        ("madras", {}, (MAPPED, "madras", False)),
        ("nuts", {}, (WAITS, None, False)),
        # with more beside a told name: certain by itself, else the told name, else nobody knows
        ("madras double", {"madras": "negroni"}, (MAPPED, "madras", False)),
        ("pp codder double", {"pp codder": "cape-codder"}, (MAPPED, "cape-codder", True)),
        ("nuts double", {"nuts": None}, (Place.NOT_OURS, None, True)),
        ("pp codder tequila", {"pp codder": "cape-codder"}, (WAITS, None, False)),
        ("pp codder splash orange juice", {"pp codder": "cape-codder"}, (WAITS, None, False)),
        ("sober pp codder", {"pp codder": "cape-codder"}, (WAITS, None, False)),
        ("n.a. pp codder", {"pp codder": "cape-codder"}, (WAITS, None, False)),
        # told of a drink that is gone from the menu: still that drink
        ("codder", {"codder": "cape-codder"}, (MAPPED, "cape-codder", True)),
    ],
)
def test_what_a_name_means(menu, said, told, means):
    recipes = {n: Meant(menu.by_slug[s].recipe) if s else Meant() for n, s in told.items()}

    found = heard(said, menu, recipes)

    assert (found.place, found.slug, found.by_word) == means


@pytest.mark.parametrize(
    ("item", "means"),
    [
        ("Vodka Soda Splash Cranberry", None),
        ("Vodka Soda w/ Cran", None),
        ("Vodka Soda add cranberry", None),
        ("Gin Tonic splash cranberry", None),
        ("Gin Tonic dash bitters", None),
        ("Madras + shot tequila", None),
        ("Madras w/ a beer back", None),
        ("Madras no OJ", "cape-codder"),  # which is what is left of it
        ("Gin Tonic + Lime", "gin-tonic"),
        ("Gin Tonic add lime", "gin-tonic"),
        ("Gin Tonic w/ lime", "gin-tonic"),
        ("Gin Tonic no lime", "gin-tonic"),
        ("Gin Tonic extra lime", "gin-tonic"),
        ("Gin Tonic no ice", "gin-tonic"),
        ("Gin Tonic TALL", "gin-tonic"),
        ("Margarita no salt", "margarita"),
        ("Mojito no mint", "mojito"),
    ],
)
def test_a_mixer_or_spirit_more_or_less_is_asked_about(menu, item, means):
    found = heard(name_of(item), menu)

    assert found.slug == means
    assert (found.place is Place.MAPPED) == bool(means)


@pytest.mark.parametrize(
    ("item", "plain"),
    [("Vodka Soda Splash Cranberry", "vodka-soda"), ("Gin Tonic dash bitters", "gin-tonic")],
)
def test_the_drink_without_it_is_proposed(menu, item, plain):
    found = heard(name_of(item), menu)

    assert (found.proposed[0], found.likely) == (plain, True)


FREE = [
    "NA Gin Tonic", "N/A Gin Tonic", "N.A. Gin Tonic", "AF Gin Tonic", "0.0 Gin Tonic",
    "0,0% Gin Tonic", "0% Gin Tonic", "Gin Tonic 0.0", "0.5% Gin Tonic", "Zero Gin Tonic",
    "Alc Free Gin Tonic", "Non-Alcoholic Gin Tonic", "Alkoholfreies Gin Tonic", "Sober Gin Tonic",
]  # fmt: skip


@pytest.mark.parametrize("item", FREE)
def test_what_has_no_alcohol_is_proposed_where_the_house_has_it(menu, item):
    found = heard(name_of(item), menu)

    assert (found.place, found.proposed[:1], found.likely) == (WAITS, ("still-gin-tonic",), True)
    assert all(menu.by_slug[slug].drink.spec.alcohol_free for slug in found.proposed)


@pytest.mark.parametrize(
    "item",
    ["Virgin Madras", "Madras no alcohol", "Alcohol-free gin tonic", "Mocktail Mojito", "Nojito",
     "Sober Margarita", "AF Negroni", "Zero Gin Tonic", "Gin tonic 0%", "Mocktail"],
)  # fmt: skip
def test_nothing_with_alcohol_is_proposed_for_what_has_none(menu, item):
    found = heard(name_of(item), menu)

    assert found.slug is None
    assert found.place in (WAITS, Place.UNTAUGHT)
    assert all(menu.by_slug[slug].drink.spec.alcohol_free for slug in found.proposed)


@pytest.mark.parametrize("item", ["Lager 0.5 l", "Lager 0,33", "Lager 10", "Sugar free Lager"])
def test_volumes_and_sugar_say_nothing_of_alcohol(menu, item):
    found = heard(name_of(item), menu)

    assert (found.slug or found.proposed[0]) == "draught-lager"


@pytest.mark.parametrize(
    "item", ["Cover charge", "Cover", "Corkage", "Service charge", "Gratuity", "Gin deposit"]
)
def test_no_drink_is_proposed_for_a_charge(menu, item):
    found = heard(name_of(item), menu)

    assert (found.place, found.proposed, found.likely) == (WAITS, (), False)


def test_letters_alone_are_not_enough_beside_words_that_mean_nothing(menu):
    assert heard("margherita pizza", menu).likely is False
    assert heard("coddar", menu).proposed == ("cape-codder",)
    assert "cape-codder" not in heard("coddar platter", menu).proposed


def test_every_drink_s_own_name_is_that_drink(menu):
    for item in menu.items:
        assert heard(name_of(item.drink.name), menu).slug == item.drink.slug


def test_a_drink_off_the_menu_is_sold_and_not_taught(odalys, menu):
    publish_recipes.retire(by=odalys, recipe=menu.by_slug["madras"].recipe, at=NOW)
    found = heard("madras", menu_at(odalys.venue, NOW))

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


@pytest.mark.parametrize(
    "item",
    ["Gin Tonic Pitcher", "Jug of Gin Tonic", "Gin Tonic Carafe", "Gin Tonic Btl", "Gin Tonic 75cl",
     "Gin Tonic 1.5 l", "1/2 Carafe Gin Tonic"],
)  # fmt: skip
def test_what_holds_several_glasses_is_another_item(menu, item):
    """The glass is proposed, and nobody ticks it unread."""
    found = heard(name_of(item), menu)
    told = heard(name_of(item), menu, {"gin tonic": Meant(menu.by_slug["gin-tonic"].recipe)})

    assert (found.place, found.slug, found.likely) == (WAITS, None, False)
    assert found.proposed[0] == "gin-tonic"
    assert told.place is WAITS


def test_a_size_in_a_column_of_its_own_is_another_item_too(menu):
    assert heard(name_of("Gin Tonic", "Pitcher"), menu).place is WAITS
    assert heard(name_of("Gin Tonic", "Glass"), menu).slug == "gin-tonic"


@pytest.mark.parametrize(
    ("item", "proposed"),
    [("Teq Thing", "tequila"), ("Tequilla Thing", "tequila"), ("OF", "old-fashioned")],
)
def test_a_short_or_misspelt_word_proposes_what_it_may_be(menu, item, proposed):
    found = heard(name_of(item), menu)

    assert (found.place, found.likely) == (WAITS, False)
    poured = [p.ingredient for s in found.proposed[:1] for p in menu.by_slug[s].drink.spec.parts]
    assert any(proposed in word for word in (*found.proposed[:1], *poured))


@pytest.mark.parametrize(
    "item",
    ["Sour Gummy", "Orange Crush", "Ginger Snap", "Sea Salt Fries", "Ice Cream", "Old Fries",
     "Black Forest Cake", "White Bread", "Lemon Chicken", "Cream Soup", "Three Cheeses"],
)  # fmt: skip
def test_no_drink_is_proposed_where_one_word_is_all_they_share(menu, item):
    found = heard(name_of(item), menu)

    assert (found.place, found.proposed) == (WAITS, ())


@pytest.mark.parametrize(
    ("item", "first"),
    [
        ("Tequila Thing", "tequila"),  # half of it is a spirit
        ("Mojito Slush", "mojito"),  # all of the drink's name
        ("PP Russian", "white-russian"),  # the same kind of thing
        ("Cranberry", "cranberry"),  # all of the name
    ],
)
def test_a_drink_is_proposed_that_shares_enough(menu, item, first):
    found = heard(name_of(item), menu)
    [slug] = found.proposed[:1]
    poured = [part.ingredient for part in menu.by_slug[slug].drink.spec.parts]

    assert found.place is WAITS
    assert slug == first or any(first in word for word in poured)


@pytest.mark.parametrize(
    ("item", "size"), [("Gin Tonic", "12"), ("Gin Tonic 16", ""), ("Madras", "4"), ("Madras 2", "")]
)
def test_a_bare_figure_is_a_size_and_asks_nothing(menu, item, size):
    assert heard(name_of(item, size), menu).place is Place.MAPPED


@pytest.mark.parametrize("item", ["Kola", "Barrel and Kola", "Rum & Kola", "Kola Thing"])
def test_what_is_nearly_a_mixer_proposes_what_is_topped_with_it(menu, item):
    found = heard(name_of(item), menu)

    assert (found.place, found.likely) == (WAITS, False)
    poured = [p.ingredient for p in menu.by_slug[found.proposed[0]].drink.spec.parts]
    assert "cola" in poured


@pytest.mark.parametrize(
    ("said", "place", "proposed", "likely"),
    [
        ("tequila", Place.WAITING, "tequila-shot", True),  # the only way it is taught alone
        ("tequila double", Place.WAITING, "tequila-shot", True),
        ("double tequila", Place.WAITING, "tequila-shot", True),
        ("tequila shot", Place.MAPPED, None, False),
        ("vodka", Place.UNTAUGHT, "vodka-soda", False),  # taught with something alone
        ("vodka rocks", Place.UNTAUGHT, None, False),
    ],
)
def test_a_spirit_alone_is_asked_about_where_a_way_to_serve_it_is_taught(
    menu, said, place, proposed, likely
):
    found = heard(said, menu)

    assert found.place is place
    assert next(iter(found.proposed), None) == proposed
    assert found.likely is likely


@pytest.mark.parametrize(
    ("said", "place"),
    [
        ("negrni", Place.MAPPED),
        ("vodca tonic", Place.MAPPED),
        ("begroni", Place.WAITING),
        ("bodka tonic", Place.WAITING),
    ],
)
def test_a_word_that_begins_otherwise_is_asked_about_once(menu, said, place):
    found = heard(said, menu)

    assert found.place is place
    assert (found.likely, len(found.proposed)) == (
        (True, 1) if place is Place.WAITING else (False, 0)
    )
