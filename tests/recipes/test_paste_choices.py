"""What may be said of a pasted line: another drink, a spirit with its mixers, a double, nothing."""

import io
import uuid
from decimal import Decimal

import openpyxl
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from barcourse.people.reasons import Refused
from recipes import shipped
from recipes.menu import menu_at
from recipes.models import Ingredient, Recipe
from recipes.publish_recipes import Card, change_card
from tests.factories.recipes import recipe
from tests.recipes.pages import text, typed
from tests.recipes.test_paste_menu import BOOK, NOW, PASTE, look, poured, take

REAL_COURSE, REAL_RULES = shipped.shipped_course, shipped.shipped_rules


@pytest.fixture(autouse=True)
def _on_a_friday_in_march(time_machine, monkeypatch):
    time_machine.move_to(NOW, tick=False)
    monkeypatch.setattr(shipped, "shipped_course", REAL_COURSE)
    monkeypatch.setattr(shipped, "shipped_rules", REAL_RULES)


def send(browser, name: str, data: bytes):
    file = SimpleUploadedFile(name, data)
    return browser.post(PASTE, {"form_key": str(uuid.uuid4()), "menu": "", "file": file})


def test_any_drink_of_the_book_may_be_named_in_a_lines_place(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "Fog Bell 11\nMadras 8")

    answer = take(browser, shown, **{"other-1": "french 75"})

    assert answer.redirect_chain == [(BOOK, 302)], text(answer)
    assert recipe(tamsin, "french-75").price == Decimal(11)
    assert "Fog Bell" not in recipe(tamsin, "french-75").aliases


def test_a_strange_name_becomes_another_name_only_where_that_is_ticked(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "Fog Bell 11\nNegrona 9\nLantern Glow – vodka, cranberry, orange 8")
    form = typed(shown, "menu")
    assert [f"alias-{n}" in form for n in (1, 2, 3)] == [False, False, True]

    take(browser, shown, **{"other-1": "french 75", "alias-1": "on", "do-2": "leave"})

    assert "Fog Bell" in recipe(tamsin, "french-75").aliases
    assert "Lantern Glow" in recipe(tamsin, "madras").aliases


def test_a_name_that_no_drink_has_is_said(visit, tamsin):
    browser = visit(tamsin)

    answer = take(browser, look(browser, "Madras 8"), **{"other-1": "Fog Bell"})

    assert "There is no drink “Fog Bell” in the book." in text(answer)
    assert typed(answer, "menu")["other-1"] == "Fog Bell"


def test_a_clear_line_may_be_another_drink_and_keeps_its_own_names(visit, tamsin):
    browser = visit(tamsin)
    take(browser, look(browser, "Madras 8"), **{"other-1": "Sea Breeze"})

    assert recipe(tamsin, "sea-breeze").price == Decimal(8)
    assert "Madras" not in recipe(tamsin, "sea-breeze").aliases
    assert recipe(tamsin, "madras").price is None


def test_a_bare_spirit_is_poured_with_its_mixers(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "Tequila 6\nMadras 8")
    assert "do-1" not in typed(shown, "menu")
    assert "With a mixer: Tequila Tonic" in text(shown)

    take(browser, shown, **{"do-1": "mixed", "drop_rest": "on"})

    assert poured(tamsin) == {"tequila-tonic", "tequila-soda", "tequila-pineapple", "madras"}
    assert recipe(tamsin, "tequila-tonic").price is None


def test_a_bare_spirit_is_its_shot(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "Tequila 6\nMadras 8")

    take(browser, shown, **{"do-1": "drink tequila-shot", "drop_rest": "on"})

    assert poured(tamsin) == {"tequila-shot", "madras"}
    assert recipe(tamsin, "tequila-shot").price == Decimal(6)


def test_a_double_leaves_the_price_of_its_drink_alone(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "Gin & Tonic 9\nGin & Tonic (double) 14")
    assert "These are left out" in text(shown)

    take(browser, shown)

    assert recipe(tamsin, "gin-and-tonic").price == Decimal(9)


def test_every_open_line_is_left_out_with_one_tap(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "Fog Bell 11\nTequila 6\nSalted almonds 4\nMadras 8")
    assert "3 lines need a word from you" in text(shown)
    answered = {**typed(shown, "menu"), "do-2": "drink tequila-shot", "leave_open": "1"}

    left = browser.post(PASTE, answered)

    assert "a word from you" not in text(left)
    form = typed(left, "menu")
    assert [form[f"do-{n}"] for n in (1, 2, 3)] == ["leave", "drink tequila-shot", "leave"]
    assert recipe(tamsin, "madras").price is None
    take(browser, left, drop_rest="on")
    assert poured(tamsin) == {"tequila-shot", "madras"}


def test_open_lines_lead_to_each_other_and_clear_ones_are_folded(visit, tamsin):
    shown = look(visit(tamsin), "Fog Bell 11\nMadras 8\nSalted almonds 4")
    page = shown.content.decode()

    assert '<a class="tap" href="#line-3">' in page
    assert '<a class="tap" href="#then">' in page
    assert '<details class="fold ruled" id="line-2">' in page
    assert '<option value="French 75">' in page


def test_a_sheet_with_sales_proposes_its_best_sellers(visit, tamsin):
    book, out = openpyxl.Workbook(), io.BytesIO()
    sold = [("Madras", 8, 5), ("Cosmopolitan", 12, 90), ("Sea Breeze", 9, 300), ("Negroni", 12, 2)]
    for row in (("Qty", "Price", "Item"), *((n, price, name) for name, price, n in sold)):
        book.active.append(row)
    book.save(out)
    browser = visit(tamsin)
    shown = send(browser, "sold.xlsx", out.getvalue())
    assert "80 % of what your sheet says was sold" in text(shown)

    take(browser, shown, drop_rest="on")

    known = Recipe.objects.in_house(tamsin.venue).filter(must_know=True, is_poured=True)
    assert {r.slug for r in known} == {"sea-breeze", "cosmopolitan"}
    assert recipe(tamsin, "cosmopolitan").price == Decimal(12)


def test_a_file_that_is_no_menu_says_so(visit, tamsin):
    answer = send(visit(tamsin), "menu.png", b"\x89PNG\r\n\x1a\n\0\0")

    assert "This file can't be read." in text(answer)


# New drinks

LISTS = (
    "Heron's Dive (mezcal, lime, ginger beer, agave)",
    "Marsh Light — gin, elderflower cordial, soda",
    "Wet Feather: white rum, lime juice, pineapple juice, orgeat",
    "Reed Cutter: bourbon, lemon juice, honey syrup, mint",
    "Grey Gull – gin, orange liqueur, lime, apple juice, lemonade",
    "Slow Boat – gin, blue curaçao, lemon juice, syrup, lemonade",
    "Low Tide – amaretto, lemon juice, egg white, cherry",
    "Salt Road – tequila, grapefruit juice, lime, salt",
    "Old Rope – rye, sweet vermouth, bitters, orange twist",
    "Night Ferry – cognac, espresso, cream",
    "Net Loft – vodka, tomato juice, hot sauce, celery stalk",
    "Lamp Oil – scotch, honey whisky liqueur, sugar cube",
    "Tar Barrel – dark rum, coffee liqueur, milk, nutmeg",
    "Dry Dock – gin, dry vermouth, olive, olive brine",
    "Bell Buoy – sparkling wine, peach schnapps",
    "Long Pier – lager, lemonade, ginger ale",
    "Fish Ladder – red wine, cola, orange slice",
    "Cider House – dry cider, blackcurrant cordial",
    "Quiet Sea – orange juice, cranberry juice, grenadine",
    "Dry Harbour – alcohol-free botanical spirit, tonic, lime",
    "Pot Buoy – pisco, sour mix, passion-fruit purée",
    "Sand Bar – coconut rum liqueur, pineapple juice, sweet coconut cream, cream",
    "Rose Gull – rosé wine, strawberry purée",
    "Two Masts – vodka, gin, white rum, tequila, orange liqueur, sour mix, cola",
    "Anchor Watch – gin, moonwater, tonic",
    "Cold Deck – iced tea, bourbon, lemon juice, mint",
    "Hot Deck – Irish whiskey, hot coffee, cream, bar sugar",
    "Kelp – sloe gin, lime cordial, energy drink",
    "Owl Stone – chili salt, mezcal, agave syrup, lime juice",
    "Gannet – smoked sea salt syrup, wheat beer, raspberry liqueur",
)


def test_what_is_proposed_for_a_new_drink_is_never_refused(visit, tamsin):
    """Thirty lists of a menu, each taken as the new drink that is proposed for it."""
    browser, n = visit(tamsin), range(1, len(LISTS) + 1)
    shown = look(browser, "\n".join(f"{line} {number}" for number, line in enumerate(LISTS, 1)))
    form = typed(shown, "menu")
    filled = [number for number in n if form.get(f"parts-{number}")]
    names = {number: {f"name-{number}": f"{form[f'name-{number}']} {number}"} for number in filled}
    sent = {k: v for pair in names.values() for k, v in pair.items()}

    answer = take(
        browser, shown, **sent,
        **{f"do-{number}": "new" if number in filled else "leave" for number in n},
    )  # fmt: skip

    assert answer.redirect_chain == [(BOOK, 302)], text(answer)
    assert len(filled) >= 27
    assert "check them" in text(shown)


def test_unknown_ingredients_are_taken_in_where_that_is_ticked_and_answers_stay(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "Fog Bell 11\nMadras 8")
    typed_in = {
        "do-1": "new", "parts-1": "1 pour gin\n20 ml honey syrup\n10 ml moonwater",
        "glass-1": "double-rocks", "ice-1": "light", "method-1": "shake", "module-1": "shots",
    }  # fmt: skip

    refused = take(browser, shown, **typed_in)
    assert "Tick “Take unknown ingredients in as new”" in text(refused)
    held = typed(refused, "menu")
    assert {k: held[k] for k in typed_in if k != "parts-1"} == {
        k: v for k, v in typed_in.items() if k != "parts-1"
    }
    refused = take(browser, refused, **{"stock-1": "on"})
    assert "choose that under “More”" in text(refused)
    assert not Ingredient.objects.in_house(tamsin.venue).named(["honey-syrup"]).exists()
    answer = take(browser, refused, **{"kind-1": "syrup"})

    assert answer.redirect_chain == [(BOOK, 302)], text(answer)
    stock = Ingredient.objects.in_house(tamsin.venue).named(["honey-syrup", "moonwater"])
    assert [i.allergens for i in stock] == [None, None]
    fog = menu_at(tamsin.venue, NOW).by_slug["fog-bell"]
    spec = fog.drink.spec
    assert (spec.glass, spec.ice.value, spec.method.value) == ("double-rocks", "light", "shake")
    assert fog.recipe.module.slug == "shots"


@pytest.mark.parametrize(
    ("parts", "glass"),
    [
        ("1 pour sparkling wine", "flute"),
        ("1 pour nitro stout", "pint"),
        ("40 ml vodka; 120 ml cranberry juice; 30 ml grapefruit juice", "pint"),
    ],
)
def test_a_new_drink_stands_in_a_glass_that_is_its_own_and_holds_it(visit, tamsin, parts, glass):
    browser = visit(tamsin)
    shown = look(browser, "Fog Bell 11\nMadras 8")

    answer = take(browser, shown, **{"do-1": "new", "parts-1": parts, "module-1": "beer"})

    assert answer.redirect_chain == [(BOOK, 302)], text(answer)
    assert menu_at(tamsin.venue, NOW).by_slug["fog-bell"].drink.spec.glass == glass


def test_a_glass_is_never_filled_with_spirit(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "Fog Bell 11\nMadras 8")

    answer = take(browser, shown, **{"do-1": "new", "parts-1": "top gin"})

    assert "too much to fill a glass with" in text(answer)


def test_a_line_that_a_guest_could_say_is_proposed_as_it_would_be_built(visit, tamsin):
    shown = look(visit(tamsin), "Mezcal paloma 9\nGin basil tonic 8\nSpiced rum & coak 7")
    form = typed(shown, "menu")

    assert form["parts-1"].splitlines() == [
        "1 pour mezcal", "0.25 fl oz lime juice", "top grapefruit soda",
    ]  # fmt: skip
    assert not {"do-1", "do-2", "do-3"} & set(form)
    page = shown.content.decode()
    assert 'name="do-2" value="drink gin-and-tonic"' in page
    assert 'name="do-3" value="drink spiced-rum-and-cola"' in page


def test_what_only_looks_like_a_drink_is_never_clear(visit, tamsin):
    """Without mint a rickey of rum is no mojito; a word that nobody reads makes no new drink."""
    menu = "Rum rickey 9\nGin & diet lemonade 8\nDouble tall vodka cran 14\nIPA 7\nMojito 11"
    shown = look(visit(tamsin), menu)
    form = typed(shown, "menu")

    assert form.get("do-1") == "new"
    assert form["parts-1"].splitlines() == ["1 pour white rum", "top club soda"]
    assert [form.get(f"do-{n}") for n in (2, 3, 4)] == [None] * 3
    assert form["do-5"] == "drink mojito"
    assert form["price-4"] == "7"
    assert "“Double tall vodka cran” is another name" not in text(shown)


def test_a_call_that_the_house_understands_is_no_other_name(tamsin):
    cape, mojito = recipe(tamsin, "cape-codder"), recipe(tamsin, "mojito")

    for row, said in ((cape, "double tall vodka cran"), (mojito, "rum rickey")):
        card = Card(row.name, row.module, (*row.aliases, said), row.share, row.price)
        with pytest.raises(Refused) as no:
            change_card(by=tamsin, recipe=row, card=card, at=NOW)
        assert (no.value.reason.code, no.value.field) == ("name_is_a_call", "aliases")
    for said in ("vodka cran", "Old Pier"):
        card = Card(cape.name, cape.module, (*cape.aliases, said), cape.share, cape.price)
        change_card(by=tamsin, recipe=cape, card=card, at=NOW)
