"""Recipes from a sheet and out into one, and a drink as data, as pages."""

import io
import json
import re
import uuid

import openpyxl
import pytest

from recipes import publish
from recipes.grammar.sheet_text import COLUMNS, decode, read_sheet
from recipes.models import Ingredient, Recipe
from recipes.publish import OnMenu
from recipes.publish_import import rehearse_import
from tests.factories.people import OPENED
from tests.factories.recipes import DAY, recipe, revise
from tests.recipes.pages import text, typed

BOOK = "/h/harbour-lights/book/"
IMPORT = f"{BOOK}import/"
NOW = OPENED + DAY
MIST = "name,ingredients\nHarbour Mist,1 pour vodka; top cola\n"


@pytest.fixture(autouse=True)
def _on_a_friday_in_march(time_machine):
    time_machine.move_to(NOW, tick=False)


def file(data: str | bytes) -> io.BytesIO:
    found = io.BytesIO(data if isinstance(data, bytes) else data.encode())
    found.name = "recipes.csv"
    return found


def look(browser, data: str | bytes):
    return browser.post(IMPORT, {"form_key": str(uuid.uuid4()), "file": file(data)})


def take_in(browser, shown, **more: str):
    sent = {**typed(shown, "sheet"), "publish": "1", **more}
    return browser.post(IMPORT, sent, follow=True)


def count(member) -> int:
    return Recipe.objects.in_house(member.venue).count()


def test_another_name_for_a_build_of_the_house_is_told_before_it_is_taken_in(visit, tamsin):
    said = "The same build as Gin tonic: one could be another name of the other."
    sheet = "name,ingredients\nLantern G,1 pour gin; top tonic water\n"

    assert said in text(look(visit(tamsin), sheet))
    assert "The same build as" not in text(look(visit(tamsin), MIST))


def test_first_what_would_come_of_it_then_taken_in(visit, tamsin):
    browser, before = visit(tamsin), count(tamsin)
    shown = look(browser, MIST + "Madras,1 pour gin; top cola\n")
    page = text(shown)

    assert "nothing is saved yet" in page
    assert "1 new drink Harbour Mist" in page
    assert "1 new drink Harbour Mist 8.0 % The strength is an estimate" in page
    assert "1 drink is built otherwise or called otherwise Madras" in page
    assert "so far: cranberry juice, orange juice" in page
    assert "Whose sign-offs and memory that touches" in page
    assert count(tamsin) == before

    answer = take_in(browser, shown)

    assert answer.redirect_chain == [(BOOK, 302)]
    assert "Taken in: 1 new drink, 1 changed." in text(answer)
    assert count(tamsin) == before + 1
    assert recipe(tamsin, "madras").revisions.newest_first()[0].published_by == tamsin


def test_pasted_rows_do_as_well(visit, tamsin):
    browser = visit(tamsin)
    shown = browser.post(IMPORT, {"form_key": str(uuid.uuid4()), "rows": MIST})

    take_in(browser, shown)

    assert recipe(tamsin, "harbour-mist").name == "Harbour Mist"


def test_a_refused_row_says_why_and_there_is_no_button(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, MIST + "Fog,1 pour lime juce\n")
    page = text(shown)

    assert "1 row can't be taken in" in page
    assert "Line 3, Fog There is no “lime juce” here. Did you mean lime juice?" in page
    assert "Take them in" not in page

    assert "can't be taken in" in text(take_in(browser, shown))
    assert not Recipe.objects.in_house(tamsin.venue).filter(slug="harbour-mist").exists()


def test_a_name_that_is_nearly_anothers_is_answered_row_by_row(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "name,ingredients\nMádras,1 pour gin; top cola\nMadraz,1 pour gin\n")
    assert "This is Madras" in text(shown)
    answers = {"name-2": "drink madras", "name-3": "new"}

    answered = browser.post(IMPORT, {**typed(shown, "sheet"), "look": "1", **answers})

    assert {typed(answered, "sheet")[f"name-{n}"] for n in (2, 3)} == set(answers.values())
    assert "Taken in: 1 new drink, 1 changed." in text(take_in(browser, answered))
    assert recipe(tamsin, "madras").revisions.count() == 2
    assert recipe(tamsin, "madraz").name == "Madraz"


def test_whose_sign_offs_a_changed_drink_touches_is_told(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "name,ingredients\nMadras,1 pour gin; top cola\n")
    [proposed] = re.findall(r'name="proposed" value="([^"]+)"', shown.content.decode())

    answer = browser.post(
        "/h/harbour-lights/touched/", {**typed(shown, "sheet"), "proposed": proposed}
    )

    assert answer.status_code == 200
    assert "1 drink on the menu is built otherwise." in text(answer)


def test_unknown_ingredients_are_taken_in_where_that_is_ticked(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "name,ingredients\nFog,50 ml navy rum\n")
    assert "This house has no “navy rum”" in text(shown)

    sent = {**typed(shown, "sheet"), "look": "1", "add_ingredients": "on"}
    ticked = browser.post(IMPORT, sent)
    assert "New ingredients" in text(ticked)
    assert "navy rum 40 %" in text(ticked)

    take_in(browser, ticked)
    assert Ingredient.objects.in_house(tamsin.venue).named(["navy-rum"]).exists()


def test_the_encoding_is_shown_and_may_be_switched(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, "name,ingredients\nCafé,1 pour gin\n".encode("cp1252"))
    assert typed(shown, "sheet")["encoding"] == "cp1252"
    assert "Café" in text(shown)

    other = browser.post(IMPORT, {**typed(shown, "sheet"), "look": "1", "encoding": "utf-8"})

    assert typed(other, "sheet")["encoding"] == "utf-8"
    assert "Caf�" in text(other)


def test_a_workbook_has_no_encoding_to_choose(visit, tamsin):
    book, out = openpyxl.Workbook(), io.BytesIO()
    book.active.append(["name", "ingredients"])
    book.active.append(["Fog", "1 pour gin"])
    book.save(out)
    browser = visit(tamsin)

    shown = look(browser, out.getvalue())

    assert "encoding" not in typed(shown, "sheet")
    take_in(browser, shown)
    assert recipe(tamsin, "fog").name == "Fog"


def test_whoever_was_overtaken_looks_once_more(visit, tamsin, pia):
    browser = visit(tamsin)
    shown = look(browser, MIST)
    revise(pia, "madras", glass="rocks")

    answer = take_in(browser, shown)

    assert "nothing is saved yet" in text(answer)
    assert "Taken in: 1 new drink, 0 changed." in text(take_in(browser, answer))


@pytest.mark.parametrize(
    ("data", "says"),
    [
        ("", "There is nothing in this sheet."),
        (b"name\0", "Save it as CSV, XLSX or ODS."),
        (b"x" * 500_001, "larger than 500 KB"),
        ("drink\nFog\n", "must name the columns name and ingredients."),
    ],
)
def test_what_is_no_sheet_says_so(visit, tamsin, data, says):
    assert says in text(look(visit(tamsin), data))


def test_a_sheet_that_was_tampered_with_is_asked_for_once_more(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, MIST)

    assert "Send it once more." in text(take_in(browser, shown, sheet="x"))


# Out


def test_the_download_is_a_sheet_that_changes_nothing(visit, tamsin):
    answer = visit(tamsin).get(f"{BOOK}export.csv")

    assert answer["Content-Type"] == "text/csv; charset=utf-8"
    assert answer["Content-Disposition"] == ('attachment; filename="harbour-lights-2026-03-06.csv"')
    sheet, encoding = decode(answer.content)
    assert encoding == "utf-8"
    found = rehearse_import(by=tamsin, sheet=read_sheet(sheet), at=NOW)
    assert len(found.rows) == count(tamsin)
    assert {row.outcome.value for row in found.rows} == {"unchanged"}


def data_of(browser, slug: str) -> dict:
    answer = browser.get(f"{BOOK}drink/{slug}.jsonld")
    assert answer["Content-Type"] == "application/ld+json"
    return json.loads(answer.content)


def test_a_drink_as_data(visit, tamsin):
    """The properties that schema.org/Recipe names."""
    said = data_of(visit(tamsin), "cuba-libre")

    assert said["@context"] == "https://schema.org"
    assert said["@type"] == "Recipe"
    assert (said["name"], said["recipeYield"]) == ("Cuba libre", "1 drink")
    assert said["alternateName"] == ["rum cola with lime"]
    assert said["recipeIngredient"][:2] == ["1 pour (1 fl oz) white rum", "cola"]
    steps = said["recipeInstructions"]
    assert {step["@type"] for step in steps} == {"HowToStep"}
    assert any("white rum" in step["text"] for step in steps)
    assert set(said) <= {
        "@context", "@type", "name", "alternateName", "recipeCategory", "recipeYield",
        "recipeIngredient", "recipeInstructions", "datePublished", "inLanguage",
    }  # fmt: skip


def test_the_page_of_a_drink_leads_to_its_data(visit, tamsin):
    page = visit(tamsin).get(f"{BOOK}drink/madras/").content.decode()

    link = '<link rel="alternate" type="application/ld+json" href="'
    assert f'{link}{BOOK}drink/madras.jsonld">' in page
    assert "<script type" not in page


def test_a_drink_off_the_menu_has_data_too(visit, tamsin):
    publish.set_menu(by=tamsin, standing={"madras": OnMenu.OFF}, at=NOW)

    assert data_of(visit(tamsin), "madras")["name"] == "Madras"


def test_the_book_leads_to_both(visit, tamsin):
    page = visit(tamsin).get(BOOK).content.decode()

    assert f'href="{IMPORT}"' in page
    assert f'href="{BOOK}export.csv"' in page


def test_the_columns_stand_on_the_page(visit, tamsin):
    assert ",".join(COLUMNS) in visit(tamsin).get(IMPORT).content.decode()
