"""Two people have the same form open: neither undoes the other unseen."""

import uuid
from decimal import Decimal

import pytest

from recipes.based_on import Met, meet, read_was, write_was
from recipes.models import Ingredient, Lesson
from recipes.publish_lessons import add_lesson
from tests.factories.people import OPENED
from tests.factories.recipes import DAY, recipe
from tests.recipes.pages import text, typed

NOW = OPENED + DAY
BOOK = "/h/harbour-lights/book"
CARD = f"{BOOK}/drink/madras/card/"
GIN = f"{BOOK}/ingredients/gin/"
MENU = f"{BOOK}/menu/"


@pytest.fixture(autouse=True)
def _on_a_friday_in_march(time_machine):
    time_machine.move_to(NOW, tick=False)


def save(browser, path: str, shown, form: str = "change", **said):
    sent = {**typed(shown, form), "form_key": str(uuid.uuid4()), **said}
    return browser.post(path, sent, follow=True)


@pytest.mark.parametrize(
    ("was", "now", "mine", "met"),
    [
        (1, 1, 2, Met({"a": 2})),  # only I changed it
        (1, 2, 1, Met({"a": 2}, theirs=("a",))),  # only they did
        (1, 2, 2, Met({"a": 2})),  # both, to the same
        (1, 2, 3, Met({"a": 3}, clashes=("a",))),
        (1, 1, 1, Met({"a": 1})),
        (None, 2, 3, Met({"a": 3})),  # the form didn't say: it was opened now
    ],
)
def test_what_two_changed_at_once(was, now, mine, met):
    assert meet({"a": was} if was else {}, {"a": now}, {"a": mine}) == met


def test_what_was_there_is_carried_and_read_back():
    said = {"name": ("Madras",), "families": ("up", "rocks"), "half": ()}

    assert read_was(write_was(said)) == said
    assert [read_was(bad) for bad in ("", "[1]", "{", '{"a": 1}')] == [{}] * 4


def test_what_they_changed_stays_where_i_left_it_alone(visit, tamsin, pia):
    mine, theirs = visit(tamsin), visit(pia)
    shown = mine.get(CARD)
    save(theirs, CARD, theirs.get(CARD), price="12.50", aliases="Night boat")

    answer = save(mine, CARD, shown, share="3")

    row = recipe(tamsin, "madras")
    assert (row.price, row.aliases, row.share) == (Decimal("12.50"), ["Night boat"], 3)
    assert "Kept as somebody else saved it meanwhile: Other names: Night boat; " in text(answer)
    assert "Price on the menu: 12.50." in text(answer)


def test_what_both_changed_is_shown_and_only_the_next_press_saves_mine(visit, tamsin, pia):
    mine, theirs = visit(tamsin), visit(pia)
    shown = mine.get(CARD)
    save(theirs, CARD, theirs.get(CARD), price="12.50", share="2")

    answer = save(mine, CARD, shown, price="11", aliases="Early boat")

    assert "Price on the menu, as they saved it 12.50" in text(answer)
    assert "Share of sales, taken over from them 2" in text(answer)
    held = typed(answer)
    assert (held["price"], held["aliases"], held["share"]) == ("11", "Early boat", "2")
    assert recipe(tamsin, "madras").price == Decimal("12.50")

    save(mine, CARD, answer)

    row = recipe(tamsin, "madras")
    assert (row.price, row.aliases, row.share) == (Decimal(11), ["Early boat"], 2)


def test_an_ingredient_that_both_change(visit, tamsin, pia):
    mine, theirs = visit(tamsin), visit(pia)
    shown = mine.get(GIN)
    save(theirs, GIN, theirs.get(GIN), bottle_ml="700", colour="#aabbcc")

    answer = save(mine, GIN, shown, colour="#ddeeff", bottle_price="20")

    row = Ingredient.objects.in_house(tamsin.venue).get(slug="gin")
    assert (row.bottle_ml, row.bottle_price, row.colour) == (700, None, "#aabbcc")
    assert "Colour in drawings, as they saved it #aabbcc" in text(answer)
    save(mine, GIN, answer)
    row.refresh_from_db()
    assert (row.bottle_ml, row.bottle_price, row.colour) == (700, Decimal(20), "#ddeeff")


def test_an_ingredient_looked_at_in_two_steps_keeps_what_they_saved_between(visit, tamsin, pia):
    mine, theirs = visit(tamsin), visit(pia)
    looked = save(mine, GIN, mine.get(GIN), abv="30")
    assert "would change" in text(looked)
    save(theirs, GIN, theirs.get(GIN), bottle_ml="700")

    again = save(mine, GIN, looked, publish="1")
    save(mine, GIN, again, publish="1")

    row = Ingredient.objects.in_house(tamsin.venue).get(slug="gin")
    assert (row.abv, row.bottle_ml) == (30, 700)


@pytest.fixture
def lesson(tamsin) -> Lesson:
    module = recipe(tamsin, "madras").module
    return add_lesson(by=tamsin, module=module, name="Ice", body="Full ice.", at=NOW)


def test_a_lesson_that_both_rewrite(visit, tamsin, pia, lesson):
    path = f"{BOOK}/module/{lesson.module.slug}/lesson/{lesson.slug}/"
    mine, theirs = visit(tamsin), visit(pia)
    shown = mine.get(path)
    save(theirs, path, theirs.get(path), body="Full ice.\r\n\r\nAlways.", save="1")

    answer = save(mine, path, shown, body="Fill it.", save="1")

    lesson.refresh_from_db()
    assert lesson.body == "Full ice.\n\nAlways."
    assert "Text, as they saved it Full ice. Always." in text(answer)
    assert typed(answer)["body"] == "Fill it."
    save(mine, path, answer, save="1")
    lesson.refresh_from_db()
    assert lesson.body == "Fill it."


def test_notes_that_only_they_rewrote_stay(visit, tamsin, pia):
    module = recipe(tamsin, "madras").module
    path = f"{BOOK}/module/{module.slug}/notes/"
    mine, theirs = visit(tamsin), visit(pia)
    shown = mine.get(path)
    save(theirs, path, theirs.get(path), notes="Theirs.", save="1")

    save(mine, path, shown, save="1")

    module.refresh_from_db()
    assert module.notes == "Theirs."


def test_the_menu_that_both_set(visit, tamsin, pia):
    mine, theirs = visit(tamsin), visit(pia)
    shown = mine.get(MENU)
    save(theirs, MENU, theirs.get(MENU), "menu", **{"on-madras": "off", "on-negroni": "off"})

    answer = save(mine, MENU, shown, "menu", **{"on-madras": "must_know", "on-sea-breeze": "off"})

    assert "Madras: somebody else has set it to" in text(answer)
    assert recipe(tamsin, "sea-breeze").is_poured
    save(mine, MENU, answer, "menu")
    assert recipe(tamsin, "madras").must_know
    assert not recipe(tamsin, "negroni").is_poured
    assert not recipe(tamsin, "sea-breeze").is_poured


def test_pouring_only_the_must_knows_counts_a_must_know_of_theirs(visit, tamsin, pia):
    mine, theirs = visit(tamsin), visit(pia)
    shown = mine.get(MENU)
    save(theirs, MENU, theirs.get(MENU), "menu", **{"on-madras": "must_know"})

    save(mine, MENU, shown, "menu", quick="must_knows", **{"on-sea-breeze": "must_know"})

    assert recipe(tamsin, "madras").is_poured
    assert not recipe(tamsin, "negroni").is_poured


PASTE = f"{BOOK}/paste/"


def test_a_price_that_changed_while_a_menu_was_looked_over(visit, tamsin, pia):
    mine, theirs = visit(tamsin), visit(pia)
    shown = mine.post(PASTE, {"form_key": str(uuid.uuid4()), "menu": "Madras 8\nFog Bell 11"})
    save(theirs, CARD, theirs.get(CARD), price="12.50")
    said = {"do-2": "new", "parts-2": "1 pour gin", "price-1": "9", "take": "1"}

    answer = save(mine, PASTE, shown, "menu", **said)

    assert "Madras was changed by somebody else: 12.50, poured." in text(answer)
    assert recipe(tamsin, "madras").price == Decimal("12.50")
    held = typed(answer, "menu")
    assert [held[name] for name in ("do-2", "parts-2", "price-1")] == ["new", "1 pour gin", "9"]
    save(mine, PASTE, answer, "menu", take="1")
    assert recipe(tamsin, "madras").price == Decimal(9)
