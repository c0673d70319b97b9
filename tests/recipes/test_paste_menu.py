"""Paste your menu: the verb, the page, and a hire who has cards of it."""

import uuid
from decimal import Decimal
from pathlib import Path

import pytest

from barcourse.people import log
from recipes import shipped
from recipes.grammar.menu_lines import match_menu
from recipes.menu import menu_at
from recipes.models import Recipe
from recipes.pasting import FIRST, book_of, must_knows
from recipes.publish_pasted import CannotPaste, Sold, take_menu
from tests.factories.people import OPENED
from tests.factories.recipes import DAY, change_rules, recipe, revise
from tests.recipes.pages import text, typed

PASTE = "/h/harbour-lights/book/paste/"
BOOK = "/h/harbour-lights/book/"
NOW = OPENED + DAY
LANTERN = (Path(__file__).parent.parent / "data" / "menu_of_the_tin_lantern.txt").read_text("utf-8")
REAL_COURSE, REAL_RULES = shipped.shipped_course, shipped.shipped_rules


@pytest.fixture(autouse=True)
def _on_a_friday_in_march(time_machine):
    time_machine.move_to(NOW, tick=False)


@pytest.fixture
def _the_real_course(monkeypatch):
    monkeypatch.setattr(shipped, "shipped_course", REAL_COURSE)
    monkeypatch.setattr(shipped, "shipped_rules", REAL_RULES)


def look(browser, menu: str):
    return browser.post(PASTE, {"form_key": str(uuid.uuid4()), "menu": menu})


def take(browser, shown, **said: str):
    return browser.post(PASTE, {**typed(shown, "menu"), "take": "1", **said}, follow=True)


def line_of(page: str, said: str) -> int:
    """The number of the pasted line that begins with these words."""
    return next(n for n, x in enumerate(page.splitlines(), start=1) if x.startswith(said))


def poured(member) -> set[str]:
    return {i.drink.slug for i in menu_at(member.venue, NOW).items}


# A menu of forty drinks


@pytest.mark.usefixtures("_the_real_course")
def test_a_menu_of_forty_lines_is_pasted_and_a_hire_has_cards_of_it(visit, tamsin, nils):
    browser = visit(tamsin)
    shown = look(browser, LANTERN)
    page, form = text(shown), typed(shown, "menu")

    done = {n: form.get(f"do-{n}") for n, x in enumerate(LANTERN.splitlines(), start=1) if x}
    asked = [n for n, choice in done.items() if choice is None]
    wick, almonds = line_of(LANTERN, "Wick"), line_of(LANTERN, "Salted almonds")
    assert asked == [wick, almonds]
    assert "read as Margarita" in page
    assert "read as Tequila Sunrise" in page

    answer = take(
        browser, shown,
        **{f"do-{wick}": "new", f"do-{almonds}": "leave", "drop_rest": "on",
           f"parts-{wick}": "1.5 pours bourbon\n0.5 pour blackberry liqueur\n"
           "0.75 fl oz lemon juice\n0.5 fl oz simple syrup"},
    )  # fmt: skip

    assert answer.redirect_chain == [(BOOK, 302)], text(answer)
    assert "That is the menu: 4 new drinks" in text(answer)
    menu = menu_at(tamsin.venue, NOW)
    assert len(menu.items) == 40
    assert {"gin-and-tonic", "cape-codder", "madras", "hairy-navel", "glass-of-red"} <= poured(
        tamsin
    )
    assert {"spiced-rum-rickey", "tequila-press", "mezcal-tonic", "wick-wax"} <= poured(tamsin)
    assert recipe(tamsin, "gin-and-tonic").price == Decimal("9.50")
    assert "Lantern Glow" in recipe(tamsin, "hairy-navel").aliases
    assert recipe(tamsin, "margarita").aliases == ["rocks margarita", "marg"]
    # 40 drinks, of which the best sellers are to be known by everybody.
    known = menu.must_knows()
    assert 8 <= len(known) < 30
    new = {"spiced-rum-rickey", "tequila-press", "mezcal-tonic", "wick-wax"}
    old = sum(i.drink.share for i in menu.items if i.drink.slug not in new)
    assert sum(i.drink.share for i in known) >= 0.8 * old
    assert log.check(tamsin.venue) == []

    names = {i.recipe.name for i in menu.items}
    hire = visit(nils)
    hire.send("/h/harbour-lights/modules/highballs/read/", {})
    first = text(hire.get("/h/harbour-lights/cards/"))
    assert "Turn over" in first
    assert any(name in first for name in names)
    assert "Boulevardier" not in first
    modules = text(hire.get("/h/harbour-lights/modules/highballs/"))
    assert "Spiced rum rickey" in modules
    assert "Fuzzy Navel" not in modules


# The page


def test_first_the_lines_then_the_menu(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "Madras 8\nSea Breeze 9,50")

    assert "These are clear" in text(shown)
    assert "nothing is saved yet" in text(shown)
    assert recipe(tamsin, "madras").price is None

    answer = take(browser, shown)

    assert answer.redirect_chain == [(BOOK, 302)]
    assert recipe(tamsin, "madras").price == Decimal(8)
    assert recipe(tamsin, "sea-breeze").price == Decimal("9.50")
    assert "gin-tonic" in poured(tamsin)  # the rest stays as it was


def test_the_rest_comes_off_the_menu_with_one_tap(visit, tamsin):
    browser = visit(tamsin)
    take(browser, look(browser, "Madras 8\nSea Breeze 9"), drop_rest="on")

    assert poured(tamsin) == {"madras", "sea-breeze"}


def test_a_pattern_becomes_a_new_drink(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "Cognac & tonic water 9")
    assert typed(shown, "menu")["parts-1"].splitlines() == ["1 pour cognac", "top tonic water"]

    take(browser, shown)

    item = menu_at(tamsin.venue, NOW).by_slug["cognac-tonic-water"]
    assert [p.ingredient for p in item.drink.spec.parts] == ["cognac", "tonic-water"]
    assert item.recipe.module.slug == "highballs"
    assert item.recipe.price == Decimal(9)


def test_what_is_open_must_be_chosen(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "Madras – vodka, cranberry juice, grapefruit juice 9\nGin & Cola 8")

    answer = take(browser, shown)

    page = text(answer)
    assert "its name says one drink, what is in it another" in page
    assert "Choose one of these." in page
    assert "Nothing has been saved yet." in page

    take(browser, answer, **{"do-1": "drink sea-breeze"})

    assert recipe(tamsin, "sea-breeze").price == Decimal(9)
    assert recipe(tamsin, "madras").price is None


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ({"do-1": "new", "parts-1": "1 pour whalebone"}, "This house has no “whalebone”."),
        ({"do-1": "new", "name-1": " "}, "A new drink needs a name"),
        ({"do-1": "new", "name-1": "Madras", "parts-1": "1 pour gin"}, "is called that already"),
        ({"do-1": "new", "name-1": "No Ice", "parts-1": "1 pour gin"}, "guests say that of any"),
        ({"do-1": "new", "name-1": "Fathom", "parts-1": "30 pours gin"}, "It runs over"),
        ({"do-1": "new", "parts-1": ""}, "There is nothing in this drink yet."),
        ({"price-1": "cheap"}, "That is no price."),
        ({"price-1": "-1"}, "That is no price."),
        ({"price-1": "1e9"}, "That is no price."),
        ({"do-1": "drink negroni"}, "Choose one of these."),
    ],
)
def test_a_line_that_cant_be_taken_says_why_and_nothing_is_saved(visit, tamsin, said, says):
    browser, before = visit(tamsin), log.head(tamsin.venue).number
    shown = look(browser, "Gin & Cola 8\nSea Breeze 9")

    answer = take(browser, shown, **said)

    assert says in text(answer)
    assert "Nothing has been saved yet." in text(answer)
    assert log.head(tamsin.venue).number == before


def test_what_is_no_number_in_a_pasted_sheet_is_said(visit, tamsin):
    page = text(look(visit(tamsin), "item;price;qty\nMadras;ask;a few\nNegroni;9;4\n"))

    assert "Madras: “ask” is no price, so it has none from this sheet." in page
    assert "Madras: “a few” is no number sold, so none is counted." in page
    assert "Negroni: “" not in page


def test_whoever_was_overtaken_looks_once_more(visit, tamsin, pia):
    browser = visit(tamsin)
    shown = look(browser, "Vodka, cranberry juice, orange juice 8\nSea Breeze 9")
    revise(pia, "madras", parts=[{"ingredient": "gin", "amount": 1}])

    answer = take(browser, shown)

    assert "nothing is saved yet" in text(answer)
    assert recipe(tamsin, "sea-breeze").price is None


@pytest.mark.parametrize(
    ("menu", "says"),
    [
        ("  \n", "There is no drink in this yet."),
        ("x" * 30_001, "longer than any menu"),
        ("Madras\n" * 301, "longer than any menu"),
    ],
)
def test_what_is_no_menu_says_so(visit, tamsin, menu, says):
    assert says in text(look(visit(tamsin), menu))


def test_everything_left_out_leaves_the_menu_as_it_is(visit, tamsin):
    browser, before = visit(tamsin), poured(tamsin)
    shown = look(browser, "COCKTAILS")

    answer = take(browser, shown, drop_rest="on")

    assert "Leave at least one drink on the menu." in text(answer)
    assert poured(tamsin) == before


def test_it_is_said_by_what_must_knows_are_proposed(visit, tamsin):
    browser = visit(tamsin)

    assert "make up 80 % of what your menu sells" in text(look(browser, "Madras 8\nMargarita 9"))
    assert "the first 15 of your menu are proposed" in text(look(browser, "Madras 8\nNegroni 9"))


def test_the_book_leads_here(visit, tamsin):
    assert f'href="{PASTE}"' in visit(tamsin).get(BOOK).content.decode()


# The verb and what is proposed


def test_one_bad_line_and_nothing_is_written(tamsin):
    sold = [
        Sold(1, "madras", "", Decimal(8), False),
        Sold(2, None, "Fog", None, False, {"parts": [{"ingredient": "moon", "amount": 1}]}),
        Sold(3, "sea-breeze", "Gin tonic", None, False),
    ]
    with pytest.raises(CannotPaste) as refused:
        take_menu(by=tamsin, sold=sold, drop_rest=True, at=NOW)

    assert {n: [r.code for r in rs] for n, rs in refused.value.reasons.items()} == {
        2: ["unknown_ingredient"], 3: ["name_taken_by_drink"],
    }  # fmt: skip
    assert recipe(tamsin, "madras").price is None


def test_what_was_pasted_is_logged(tamsin):
    take_menu(by=tamsin, sold=[Sold(1, "madras", "", None, True)], drop_rest=False, at=NOW)

    entry = tamsin.venue.log_entries.order_by("-number").first()
    assert (entry.kind, entry.facts) == (
        "menu_pasted", {"lines": 1, "added": 0, "dropped_rest": False},
    )  # fmt: skip
    assert recipe(tamsin, "madras").must_know


def proposed(member, shares: dict[str, float]) -> list[str]:
    book = book_of(member.venue, menu_at(member.venue, NOW), NOW)
    matches = match_menu("Madras 8\nSea Breeze 8\nNegroni 9\nMargarita 9", book)
    return sorted(must_knows(matches, shares))


@pytest.mark.parametrize(
    ("shares", "slugs"),
    [
        ((50, 30, 15, 5), ["madras", "sea-breeze"]),
        ((5, 15, 30, 51), ["margarita", "negroni"]),
        ((50, 29, 16, 5), ["madras", "negroni", "sea-breeze"]),
        # Nothing known of what sells: the first of the menu.
        ((1, 1, 1, 1), ["madras", "margarita", "negroni", "sea-breeze"]),
    ],
)
def test_must_knows_are_proposed_by_what_sells(tamsin, shares, slugs):
    named = dict(zip(("madras", "sea-breeze", "negroni", "margarita"), shares, strict=True))

    assert proposed(tamsin, named) == slugs


def test_where_nothing_is_known_of_sales_the_first_are_proposed(tamsin):
    book = book_of(tamsin.venue, menu_at(tamsin.venue, NOW), NOW)
    names = [d.name for d in book.drinks]
    matches = match_menu("\n".join(names), book)

    assert len(names) > FIRST
    assert len(must_knows(matches, dict.fromkeys(book.by_slug, 1.0))) == FIRST


def test_drinks_that_left_the_menu_for_good_are_not_matched(tamsin):
    Recipe.objects.in_house(tamsin.venue).filter(slug="madras").update(retires_at=OPENED)
    book = book_of(tamsin.venue, menu_at(tamsin.venue, NOW), NOW)

    assert "madras" not in book.by_slug


def test_a_word_of_the_house_rules_is_no_other_name(tamsin):
    change_rules(tamsin, servings={"short": "any_spirit"})

    with pytest.raises(CannotPaste) as no:
        take_menu(
            by=tamsin, sold=[Sold(1, "madras", "Short", None, False)], drop_rest=False, at=NOW
        )
    [reason] = no.value.reasons[1]
    assert reason.code == "name_taken_by_serving"
    assert dict(reason.params)["owner"] == "short"


def must(member) -> set[str]:
    return {r.slug for r in Recipe.objects.in_house(member.venue) if r.must_know}


@pytest.mark.parametrize("drop", [{}, {"drop_rest": "on"}])
def test_the_must_knows_are_those_marked_on_the_page_and_no_others(visit, tamsin, drop):
    Recipe.objects.in_house(tamsin.venue).filter(slug__in=["negroni", "margarita"]).update(
        must_know=True
    )
    browser, before = visit(tamsin), poured(tamsin)
    others = len(must(tamsin) - {"madras"})
    shown = look(browser, "Madras 8\nSea Breeze 9")
    assert f"{others} drinks that aren't on this menu are must-knows now" in text(shown)
    form = typed(shown, "menu")
    form.pop("must-1", None)

    browser.post(PASTE, {**form, "take": "1", "must-2": "on", **drop})

    assert must(tamsin) == {"sea-breeze"}
    assert poured(tamsin) == ({"madras", "sea-breeze"} if drop else before)
