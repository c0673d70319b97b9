"""Which drink a line of a menu means: truth tables over the shipped course."""

from decimal import Decimal
from functools import cache

import pytest

from recipes.grammar.house_spec import resolve
from recipes.grammar.menu_book import Book, Known
from recipes.grammar.menu_lines import By, match_line, match_menu
from recipes.grammar.menu_text import ingredient_names, read_menu
from recipes.shipped import shipped_course


@cache
def book() -> Book:
    course = shipped_course()
    drinks = tuple(
        Known(d.slug, d.name, d.aliases, resolve(d.spec, course.rules, course.pantry))
        for m in course.modules
        for d in m.drinks
    )
    return Book(drinks, course.pantry, course.rules.slang)


def read(text: str):
    return read_menu(text, ingredient_names(book().pantry, book().slang))


def match(text: str):
    [line] = read(text)
    return match_line(line, book())


@pytest.mark.parametrize(
    ("said", "name", "listed", "price"),
    [
        ("Gin & Tonic 9.50", "Gin & Tonic", "", "9.50"),
        ("Sea Breeze – vodka, cranberry, grapefruit … 10", "Sea Breeze",
         "vodka, cranberry, grapefruit", "10"),
        ("House lager pint 6", "House lager pint", "", "6"),
        ("Madras ........ £8.00", "Madras", "", "8.00"),
        ("Madras 8,50 €", "Madras", "", "8.50"),
        ("Madras $8", "Madras", "", "8"),
        ("Madras EUR 8", "Madras", "", "8"),
        ("Madras 1,200.00", "Madras", "", "1200.00"),
        ("Madras 1.200", "Madras", "", "1200"),
        ("Madras 1'200.50", "Madras", "", "1200.50"),
        ("Madras 12,000", "Madras", "", "12000"),
        ("• Madras (vodka, cranberry, orange) 8", "Madras", "vodka, cranberry, orange", "8"),
        ("3. Madras: vodka, cranberry and orange", "Madras", "vodka, cranberry and orange", None),
        ("Madras\tvodka, cranberry\t8", "Madras", "vodka, cranberry", "8"),
        ("Madras, vodka, cranberry, orange 8", "Madras", "vodka, cranberry, orange", "8"),
        ("B-52", "B-52", "", None),
        ("Draught Lager 4.5% 330ml 5", "Draught Lager", "", "5"),
        ("Draught Lager 4.5%", "Draught Lager", "", None),
        ("Rosé 175ml 6 / 250ml 8", "Rosé", "", None),
        ("Madras 6 / 8", "Madras", "", None),
    ],
)  # fmt: skip
def test_a_line_has_a_name_a_list_and_a_price(said, name, listed, price):
    [line] = read(said)

    assert (line.name, line.listed) == (name, listed)
    assert line.price == (price and Decimal(price))


def test_two_prices_are_said():
    assert [x.two_prices for x in read("Madras 6 / 8\nMadras 6")] == [True, False]


def test_a_line_that_only_lists_goes_with_the_one_before():
    lines = read("Sea Breeze 10\nvodka, cranberry, grapefruit\n\nMadras 8")

    assert [(x.number, x.name, x.listed) for x in lines] == [
        (1, "Sea Breeze", "vodka, cranberry, grapefruit"), (4, "Madras", ""),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("said", "by", "slug"),
    [
        # By name, whatever its small words and its order.
        ("Gin & Tonic 9.50", By.NAME, "gin-and-tonic"),
        ("G and T 9", By.NAME, "gin-and-tonic"),
        ("House lager pint 6", By.NAME, "draught-lager"),
        ("Lager, bottle 5", By.NAME, "bottled-lager"),
        ("Bottle of lager 5", By.NAME, "bottled-lager"),
        ("Half of lager 3", By.NAME, "half-lager"),
        ("House red wine 7", By.NAME, "glass-of-red"),
        ("Rum & cola 8", By.NAME, "rum-and-cola"),
        ("French 75", By.NAME, "french-75"),
        ("French 75 12", By.NAME, "french-75"),
        ("Sea Breeze – vodka, cranberry, grapefruit … 10", By.NAME, "sea-breeze"),
        # A list may leave things out, and may name what is on it.
        ("Margarita – tequila, triple sec, lime 11", By.NAME, "margarita"),
        ("Mojito – rum, mint, lime, soda 10", By.NAME, "mojito"),
        ("Mai Tai – rum, orange liqueur, lime, almond syrup 12", By.NAME, "mai-tai"),
        # One word, two spellings; accents or none.
        ("Whisky ginger 9", By.NAME, "whiskey-ginger"),
        ("Whisky & cola 9", By.NAME, "whiskey-cola"),
        ("Draft lager 5", By.NAME, "draught-lager"),
        ("Cuba Libré 9", By.NAME, "cuba-libre"),
        # Misspelt.
        ("Margerita 11", By.SPELT, "margarita"),
        ("Tequilla Sunrise 9", By.SPELT, "tequila-sunrise"),
        ("Espreso Martini 12", By.SPELT, "espresso-martini"),
        # By what is in it.
        ("Harbour Dusk – vodka, cranberry, grapefruit 10", By.BUILD, "sea-breeze"),
        ("Vodka, cranberry & pineapple 9", By.BUILD, "bay-breeze"),
        ("Vodka and cola 8", By.NAME, "vodka-cola"),
        ("Cranberry vodka 8", By.NAME, "cape-codder"),
        ("Tequila grapefruit soda lime 10", By.BUILD, "paloma"),
    ],
)
def test_a_line_means_the_drink(said, by, slug):
    found = match(said)

    assert (found.by, found.chosen, found.drinks) == (by, slug, (slug,))


@pytest.mark.parametrize(
    ("said", "by", "drinks"),
    [
        # The name says one, the list another: neither is taken for granted.
        ("Madras – vodka, cranberry, grapefruit 9", By.CONFLICT, ("madras", "sea-breeze")),
        ("Screwdriver – gin, orange 9", By.CONFLICT, ("screwdriver", "gin-and-orange")),
        ("Moscow Mule – tequila, lime, ginger beer 9", By.CONFLICT,
         ("moscow-mule", "tequila-mule")),
        ("Negroni – gin, red bitter, dry vermouth 9", By.CONFLICT, ("negroni",)),
        # The sunrise and the sunset hold the same three.
        ("Evening – tequila, orange juice, grenadine 9", By.TIE,
         ("tequila-sunrise", "tequila-sunset")),
    ],
)  # fmt: skip
def test_what_two_answer_to_is_asked(said, by, drinks):
    found = match(said)

    assert (found.by, found.chosen, found.drinks) == (by, None, drinks)


@pytest.mark.parametrize(
    ("said", "draft", "garnish"),
    [
        ("Spiced rum rickey 9", ("1 pour spiced rum", "top club soda"), "lime-wedge"),
        ("Tequila press 9", ("1 pour tequila", "top ginger ale", "top club soda"), ""),
        ("Mezcal & tonic 9", ("1 pour mezcal", "top tonic water"), ""),
        ("Cognac and cola 9", ("1 pour cognac", "top cola"), ""),
        ("Pisco Haze – pisco, pineapple juice, soda 9",
         ("1 pour pisco", "top pineapple juice", "top club soda"), ""),
        ("Spiced & ginger beer 9", None, ""),
    ],
)  # fmt: skip
def test_a_pattern_proposes_a_highball(said, draft, garnish):
    found = match(said)

    assert (found.chosen, found.drinks) == (None, ())
    assert (found.by is By.PATTERN) == (draft is not None)
    assert (found.draft, found.garnish) == (draft or (), garnish)


def test_what_is_no_plain_highball_asks_for_its_amounts():
    found = match("Slow Boat – gin, blue curaçao, lemon juice, syrup, lemonade 12")

    assert found.by is By.NOTHING
    assert found.draft == (
        "1 pour gin", "1 pour blue curaçao", "0.75 fl oz lemon juice", "0.5 fl oz simple syrup",
        "top still lemonade",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("said", "parts", "garnish", "unknown"),
    [
        # Beside a mixer a lime is on the glass; its syrup is a guess.
        ("Heron's Dive (mezcal, lime, ginger beer, agave)",
         ("1 pour mezcal", "0.5 fl oz agave syrup", "top ginger beer"), "lime-wedge", ()),
        # Without one it is juice.
        ("Grey Gull – gin, orange liqueur, lime, apple",
         ("1 pour gin", "1 pour orange liqueur", "0.75 fl oz lime juice", "top apple juice"), None,
         ()),
        ("Wet Feather: white rum, lime juice, pineapple juice, orgeat",
         ("1 pour white rum", "0.75 fl oz lime juice", "0.5 fl oz orgeat (almond syrup)",
          "top pineapple juice"), "", ()),
        # No other syrup in its place.
        ("Reed Cutter: bourbon, lemon juice, honey syrup, mint",
         ("1 pour bourbon", "0.75 fl oz lemon juice", "0.5 fl oz honey syrup"), "mint-leaf",
         ("honey syrup",)),
        ("Marsh Light — gin, elderflower cordial, soda",
         ("1 pour gin", "0.5 fl oz elderflower cordial", "top club soda"), "",
         ("elderflower cordial",)),
        # Of what nobody knows the kind there is no line.
        ("Owl Hour – gin, moonwater, tonic", ("1 pour gin", "top tonic water"), "", ("moonwater",)),
    ],
)  # fmt: skip
def test_a_list_becomes_a_draft_to_look_over(said, parts, garnish, unknown):
    found = match(f"{said} 12")

    assert found.by is By.NOTHING
    if garnish is not None:
        assert (found.draft, found.garnish) == (parts, garnish)
    assert found.unread == unknown


@pytest.mark.parametrize(
    ("said", "offer"),
    [
        ("Prosecco 8", "glass-of-sparkling"),
        ("Vodka Red Gull 9", "vodka-soda"),
        ("Martini (gin or vodka) 12", "gin-martini"),
    ],
)
def test_words_alone_offer_drinks_and_take_none(said, offer):
    found = match(said)

    assert (found.by, found.chosen) == (By.LIKE, None)
    assert offer in found.drinks


@pytest.mark.parametrize(
    ("said", "by"),
    [
        ("-- Long --", By.HEADING),
        ("Short", By.HEADING),
        ("*** Wines ***", By.HEADING),
        ("Our cocktails", By.HEADING),
        ("THE CROOKED HERON — DRINKS", By.HEADING),
        ("COCKTAILS", By.HEADING),
        ("Beers:", By.HEADING),
        # A word that is one letter from another name of a drink.
        ("Highballs:", By.HEADING),
        ("THE TIN LANTERN", By.HEADING),
        ("Draught beer", By.HEADING),
        ("Olives and almonds 5", By.NOTHING),
        ("Fish fingers 9", By.NOTHING),
        ("Moonwater deluxe 9", By.NOTHING),
    ],
)
def test_what_means_no_drink_means_none(said, by):
    found = match(said)

    assert (found.by, found.chosen, found.drinks) == (by, None, ())


@pytest.mark.parametrize(
    ("said", "drinks"),
    [
        ("Spicy margarita 11", ("margarita",)),
        ("Spicey margerita 11", ("margarita",)),
        ("Negrona bianca 9", ("negroni",)),
        ("Sea Freeze Special 9", ("sea-breeze",)),
        ("Breeze 9", ("bay-breeze", "sea-breeze", "coconut-bay-breeze")),
        # Told by words alone.
        ("Dark and stormy weather 11", ("dark-rum-and-ginger-beer",)),
    ],
)
def test_what_is_nearly_called_like_a_drink_is_offered_not_taken(said, drinks):
    found = match(said)

    assert (found.by, found.chosen, found.drinks) == (By.LIKE, None, drinks)


@pytest.mark.parametrize(
    ("said", "drinks", "mixed"),
    [
        ("Tequila 6", ("tequila-shot",), "tequila-soda"),
        ("Whisky 7", ("whiskey-on-the-rocks", "whiskey-neat", "whiskey-shot"), "whiskey-ginger"),
        ("Gin", (), "gin-and-tonic"),
    ],
)
def test_a_spirit_by_itself_is_its_shot_or_is_poured_with_mixers(said, drinks, mixed):
    found = match(said)

    assert (found.by, found.chosen, found.drinks) == (By.BARE, None, drinks)
    assert mixed in found.mixed
    assert "tequila-sunrise" not in found.mixed


@pytest.mark.parametrize("double", ["Gin & Tonic (double) 14", "Double gin and tonic 14"])
def test_a_double_needs_no_line_where_its_drink_has_one(double):
    single, big = match_menu(f"Gin & Tonic 9\n{double}", book())
    [alone] = match_menu(double, book())

    assert single.chosen == "gin-and-tonic"
    assert (big.by, big.chosen, big.drinks) == (By.DOUBLE, None, ("gin-and-tonic",))
    assert (alone.by, alone.chosen, alone.drinks) == (By.DOUBLE_ONLY, None, ("gin-and-tonic",))


def test_a_list_on_the_next_line_counts_like_one_on_the_same():
    [found] = match_menu("Bay Breeze 10\nvodka, cranberry, orange", book())

    assert (found.by, found.chosen, found.drinks) == (By.CONFLICT, None, ("bay-breeze", "madras"))


def test_words_of_a_list_that_name_nothing_are_said():
    found = match("Madras – vodka, cranberry, moonwater 9")

    assert (found.chosen, found.unread) == ("madras", ("moonwater",))


def test_a_slip_near_two_names_is_asked():
    drinks = tuple(
        Known(slug, slug.replace("-", " "), (), book().by_slug["madras"].spec)
        for slug in ("dark-porter", "dark-sorter")
    )
    [line] = read("Dark morter 6")
    found = match_line(line, Book(drinks, book().pantry))

    assert (found.by, found.chosen, found.drinks) == (
        By.TIE, None, ("dark-porter", "dark-sorter"),
    )  # fmt: skip


def test_the_second_line_for_a_drink_is_asked_about():
    first, second = match_menu("Madras 8\nVodka, cranberry, orange 9", book())

    assert (first.by, first.chosen) == (By.NAME, "madras")
    assert (second.by, second.chosen, second.drinks) == (By.TWICE, None, ("madras",))


def test_every_name_of_the_course_means_its_drink():
    """No other name of one drink leads to another."""
    for known in book().drinks:
        for name in (known.name, *known.aliases):
            found = match(f"{name} 9")
            assert found.chosen == known.slug, (name, found)
