"""The course that ships, in a real house."""

import re

import pytest

from recipes import drink_sheet, publish, shipped
from recipes.grammar.course import fold
from recipes.grammar.course_words import in_words_of
from recipes.grammar.coursefile import read_course
from recipes.grammar.rules import LiquorClass
from recipes.menu import menu_at
from recipes.models import Ingredient, Recipe, Scenario
from recipes.publish_recipes import bring_back, retire
from tests.factories.people import OPENED, open_house

COURSE = read_course(shipped.COURSE)
REAL_RULES = shipped.shipped_rules
OUNCES = re.compile(r"\b(oz|floz|ounces?)\b", re.IGNORECASE)


@pytest.fixture
def owner(db, monkeypatch):
    monkeypatch.setattr(shipped, "shipped_course", lambda: COURSE)
    monkeypatch.setattr(shipped, "shipped_rules", lambda preset="us-classic": COURSE.rules)
    return open_house("The Course Room", owner="Ines")


def test_a_new_house_pours_all_of_it(owner, django_assert_num_queries):
    with django_assert_num_queries(4):
        menu = menu_at(owner.venue, OPENED)

    drinks = [drink for module in COURSE.modules for drink in module.drinks]
    assert len(menu.items) == len(drinks)
    assert len(menu.must_knows()) == sum(drink.must_know for drink in drinks)
    assert sum(drink.share for drink in menu.drinks) == pytest.approx(1)


@pytest.mark.parametrize(
    ("country", "preset", "pour"),
    [
        ("gb", "great-britain", (25, "ml")),
        ("ie", "ireland", (35.5, "ml")),
        ("au", "australia", (30, "ml")),
        ("eu", "europe", (40, "ml")),
        ("us", "us-classic", (1, "floz")),
        ("nz", "us-classic", (1, "floz")),
    ],
)
def test_the_country_of_a_new_house_picks_its_rules(db, monkeypatch, country, preset, pour):
    monkeypatch.setattr(shipped, "shipped_course", lambda: COURSE)
    monkeypatch.setattr(shipped, "shipped_rules", REAL_RULES)
    owner = open_house("The Course Room", owner="Ines", country=country)
    menu = menu_at(owner.venue, OPENED)

    spirit = menu.rules.pours[LiquorClass.SPIRIT]
    assert (menu.rules.preset, menu.rules.country) == (preset, country)
    assert (spirit.amount, spirit.unit) == pour
    here = in_words_of(COURSE, menu.rules)
    assert len(menu.items) == sum(len(m.drinks) for m in here.modules)
    tops = {p.ingredient for i in menu.items for p in i.drink.spec.mixers}
    assert ("lemonade" in tops) == (menu.rules.slang.get("lemonade") != "lemon-lime-soda")


@pytest.mark.parametrize("country", ["gb", "ie", "au", "eu", "nz"])
def test_a_house_that_counts_in_millilitres_never_reads_of_ounces(db, monkeypatch, country):
    monkeypatch.setattr(shipped, "shipped_course", lambda: COURSE)
    monkeypatch.setattr(shipped, "shipped_rules", REAL_RULES)
    owner = open_house("The Course Room", owner="Ines", country=country)
    menu = menu_at(owner.venue, OPENED)

    read = [
        words
        for item in menu.items
        for words in (
            *(line for aspect in drink_sheet.aspects(item, menu) for line in aspect.lines),
            *(step.does for step in drink_sheet.steps(item, menu)),
        )
    ]
    negroni = drink_sheet.aspects(menu.by_slug["negroni"], menu)

    assert [words for words in read if OUNCES.search(words)] == []
    assert "30 ml gin" in next(a.lines for a in negroni if a.label == "Pours")


def test_no_lesson_counts_in_ounces():
    """Every house reads the same lessons, whatever it measures in."""
    texts = [
        text
        for module in COURSE.modules
        for text in (
            module.notes,
            *(lesson.body for lesson in module.lessons),
            *(s.question for lesson in module.lessons for s in lesson.scenarios),
            *(drink.listed.differs for drink in module.drinks if drink.listed),
        )
    ]

    assert [text for text in texts if OUNCES.search(text)] == []


def test_its_rules_are_the_us_classic(owner):
    """1 US fl oz pour, 10 fl oz highball glass, 16 fl oz pint (common practice, no source)."""
    rules = menu_at(owner.venue, OPENED).rules

    spirit = rules.pours[LiquorClass.SPIRIT]
    assert (spirit.amount, spirit.unit) == (1, "floz")
    assert (rules.glasses["highball"].amount, rules.glasses["highball"].unit) == (10, "floz")
    assert (rules.glasses["pint"].amount, rules.glasses["pint"].unit) == (16, "floz")


def test_scenarios_keep_their_right_answer(owner):
    shipped_ones = {
        s.slug: s.choices[s.right]
        for module in COURSE.modules
        for lesson in module.lessons
        for s in lesson.scenarios
    }

    rows = Scenario.objects.filter(venue=owner.venue)

    assert {row.slug: row.choices[row.right] for row in rows} == shipped_ones


def test_nobody_of_the_house_has_read_a_label_yet(owner):
    assert not owner.venue.ingredients.exclude(checked_by=None).exists()


def test_loading_it_again_changes_nothing(owner):
    count = publish.load_course(by=owner, course=COURSE, rules=COURSE.rules, at=OPENED)

    assert count == 0


@pytest.mark.parametrize("country", ["us", "gb", "ie", "au", "eu"])
def test_whatever_is_retired_comes_back_as_it_was(db, monkeypatch, country):
    """Of a course in which a lager is what is tapped and the glass of it."""
    monkeypatch.setattr(shipped, "shipped_course", lambda: COURSE)
    monkeypatch.setattr(shipped, "shipped_rules", REAL_RULES)
    by = open_house("The Course Room", owner="Ines", country=country)
    venue, at = by.venue, OPENED
    tapped = {fold(n) for i in Ingredient.objects.in_house(venue) for n in (i.name, *i.aliases)}
    shared = [
        row
        for row in Recipe.objects.in_house(venue)
        if {fold(n) for n in (row.name, *row.aliases)} & tapped
    ]

    for row in shared:
        retire(by=by, recipe=row, at=at)
        bring_back(by=by, recipe=row, at=at)

    assert {"draught-lager", "nitro-stout", "glass-of-white"} <= {row.slug for row in shared}
    assert not Recipe.objects.in_house(venue).filter(retires_at__isnull=False).exists()
