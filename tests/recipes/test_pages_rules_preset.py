"""Starting from the rules of another country, what is said about it, and what is pointed out."""

import re

import pytest
from django.utils import translation

from barcourse.people.models import Venue
from barcourse.people.roles import Role
from recipes import shipped
from recipes.grammar.coursefile import read_course
from recipes.grammar.reasons import Reason
from recipes.grammar.rules_check import CODES as NOTICED
from recipes.grammar.rules_preset import CODES as FITTED
from recipes.grammar.rules_preset import PRESETS
from recipes.menu import menu_at
from recipes.models import RulesVersion
from recipes.publish import publish_rules
from recipes.shipped import shipped_rules
from recipes.words_rules import NOTICES, local_caution, notice, preset_name, rules_caution
from tests.factories.people import OPENED, hire, open_house
from tests.factories.recipes import DAY, change_rules, revise
from tests.recipes.pages import look_at, publish_at, text

NOW = OPENED + DAY
RULES = "/h/harbour-lights/book/rules/"
COURSE = read_course(shipped.COURSE)
REAL_RULES = shipped.shipped_rules


@pytest.fixture(autouse=True)
def _on_a_friday_in_march(time_machine):
    time_machine.move_to(NOW, tick=False)


@pytest.fixture
def _real_presets(monkeypatch):
    for place in ("recipes.forms.rules_words", "recipes.views.rules_change"):
        monkeypatch.setattr(f"{place}.shipped_rules", REAL_RULES)


@pytest.fixture
def ines(db, monkeypatch, _real_presets):
    """She owns a house with the course as it ships."""
    monkeypatch.setattr(shipped, "shipped_course", lambda: COURSE)
    monkeypatch.setattr(shipped, "shipped_rules", REAL_RULES)
    return open_house("Harbour Lights", owner="Ines")


@pytest.mark.parametrize("preset", [p for p in PRESETS if p != "us-classic"])
def test_the_shipped_course_can_start_from_any_of_them(ines, visit, preset):
    browser = visit(ines)
    shown = look_at(browser, f"{RULES}preset/", preset=preset)
    count = int(re.search(r"(\d+) drinks would change", text(shown))[1])
    publish_at(browser, f"{RULES}preset/", shown)
    menu = menu_at(ines.venue, NOW)

    assert 60 < count <= 178
    assert (menu.rules.preset, menu.rules.country) == (preset, REAL_RULES(preset).country)
    assert len(menu.items) == 178
    assert f"The rules began as “{preset_name(preset)}”." in text(browser.get(RULES))


def test_standard_drinks_stay_those_of_the_country_the_house_stands_in(ines, visit):
    """Whoever takes over other rules is told so before and after, with the way to change it."""
    browser, house = visit(ines), f'href="/h/{ines.venue.slug}/house/"'
    before = browser.get(f"{RULES}preset/")
    shown = look_at(browser, f"{RULES}preset/", preset="great-britain")
    own = browser.get(RULES)
    publish_at(browser, f"{RULES}preset/", shown)
    after = browser.get(RULES)

    for page in (before, shown, after):
        assert "country the house stands in (United States)" in text(page)
        assert house in page.content.decode()
    assert "country the house stands in" not in text(own)


def test_who_may_not_change_the_country_is_told_who_can(ines, visit):
    manager = hire(ines, "Marek", Role.MANAGER)
    page = visit(manager).get(f"{RULES}preset/")

    assert "The owner can, on the page of the house." in text(page)
    assert f'href="/h/{ines.venue.slug}/house/"' not in page.content.decode()


def test_the_preset_that_holds_changes_nothing(ines, visit):
    page = text(look_at(visit(ines), f"{RULES}preset/", preset="us-classic"))

    assert "These are the rules already. Nothing was published." in page


def test_what_guests_call_things_is_told_word_by_word_before_it_is_published(ines, visit):
    page = text(look_at(visit(ines), f"{RULES}preset/", preset="great-britain"))

    assert "What guests call it" in page
    for told in (
        "“whiskey” so far bourbon then Scotch whisky",
        "“lemonade” so far still lemonade then lemon-lime soda",
        "“ginger” so far ginger ale then no word of the house",
        "“highball” so far bourbon, ginger ale then Scotch whisky, club soda",
    ):
        assert told in page
    assert "“press”" not in page


def test_a_house_with_words_of_an_earlier_day_is_offered_the_new_ones_of_its_preset(ines, visit):
    was = menu_at(ines.venue, NOW).rules
    slang = {word: slug for word, slug in was.slang.items() if word != "whiskey"}
    publish_rules(by=ines, rules=was.model_copy(update={"slang": slang}), at=NOW)
    page = text(look_at(visit(ines), f"{RULES}preset/", preset=was.preset))

    assert "No drink on the menu would change" in page
    assert "“whiskey” so far no word of the house then bourbon" in page
    assert "Publish these rules" in page


def test_what_a_preset_leaves_out_and_keeps_is_said_first(ines, visit):
    browser = visit(ines)
    publish_at(browser, f"{RULES}preset/", look_at(browser, f"{RULES}preset/", preset="australia"))
    page = text(look_at(browser, f"{RULES}preset/", preset="europe"))

    assert "Kept, because your recipes may be poured in it: the schooner glass." in page


@pytest.mark.usefixtures("_real_presets")
def test_drinks_that_would_no_longer_fit_refuse_it_by_name(visit, tamsin):
    page = text(look_at(visit(tamsin), f"{RULES}preset/", preset="us-free-pour"))

    assert re.search(r"Negroni: It runs over: 6\S? fl oz of liquid", page)
    assert "Publish these rules" not in page
    assert RulesVersion.objects.in_house(tamsin.venue).count() == 1


def test_amounts_are_told_in_the_measures_of_the_rules_and_the_law_is_that_of_the_place(
    ines, visit
):
    browser = visit(ines)
    publish_at(browser, f"{RULES}preset/", look_at(browser, f"{RULES}preset/", preset="australia"))

    called = text(browser.get("/h/harbour-lights/calls/?call=vodka+cranberry"))
    assert "One pour is 30 ml, by the house rules." in called
    assert "fl oz" not in called
    card = text(browser.get("/h/harbour-lights/book/drink/cape-codder/"))
    assert "30 ml" in card
    assert "fl oz" not in card
    assert "14 g" in card  # a standard drink of the United States, where the house stands


def test_the_caution_is_that_of_the_place_and_of_the_country_picked(ines, visit):
    """Other rules don't move the house: its own law stands beside theirs."""
    page = text(look_at(visit(ines), f"{RULES}preset/", preset="great-britain"))

    assert "one size for the whole premises" in page
    for place, told in ("us", "Some of the United States"), ("ie", "In Ireland"):
        assert (told in page) is (ines.venue.country == place)


def test_rules_of_elsewhere_keep_both_cautions():
    rules = shipped_rules("great-britain")

    assert rules_caution(Venue(country="ie"), rules).startswith("In Ireland a measure")
    assert "In Great Britain gin" in rules_caution(Venue(country="ie"), rules)
    assert rules_caution(Venue(country="gb"), rules).count("In Great Britain") == 1


def test_one_has_to_be_picked(visit, tamsin):
    browser = visit(tamsin)

    assert "Pick one of them." in text(look_at(browser, f"{RULES}preset/"))
    wrong = look_at(browser, f"{RULES}preset/", preset="atlantis")
    assert "Select a valid choice" in text(wrong)


@pytest.mark.parametrize("page", ["preset/", "", "change/"])
def test_local_law_decides_about_measures(visit, tamsin, page):
    said = text(visit(tamsin).get(f"{RULES}{page}"))

    assert "Some of the United States require metering, or cap the pour." in said
    assert "local law: ask your licensing authority." in said


def test_the_british_caution_says_what_is_special():
    said = local_caution("gb")

    for told in ("25 or 35 ml", "one size for the whole premises", "three or more liquids"):
        assert told in said
    assert local_caution("other").startswith("Whether a pour must be metered")


# Words for every reason


SAID = [
    (Reason.of("garnish_shadowed", rule=2, earlier=1), "rule 1 (tonic water) stands before it"),
    (Reason.of("garnish_shadowed_together", rule=5), "rule 5 (juice, as a highball)"),
    (Reason.of("garnish_word_unstocked", rule=1, word="sauce"), "speaks of sauce"),
    (Reason.of("garnish_contradicts", rule=3, earlier=1), "Garnish rules 1 and 3"),
    (Reason.of("garnish_of_no_drink", rule=5), "no drink on the menu has these together"),
    (
        Reason.of("slang_is_a_name", word="cran", ingredient="cola", other="cranberry-juice"),
        "“cran” means cola in your list of words, but cranberry juice answers to it too",
    ),
    (
        Reason.of("slang_twice", word="Pop", ingredient="cola", other="club-soda"),
        "once it means cola, once club soda",
    ),
    (Reason.of("garnish_left_out", rule=1), "garnish rule 1 (tonic water)"),
    (Reason.of("slang_left_out", count=2), "what they mean: 2 of its words"),
    (Reason.of("glass_kept", glass="rocks"), "the Rocks glass"),
    (Reason.of("word_left_out", word="press"), "is called that already: “press”."),
]


def test_every_notice_has_words():
    assert set(NOTICES) == NOTICED | FITTED == {reason.code for reason, _said in SAID}


@pytest.mark.parametrize(("reason", "said"), SAID, ids=[r.code for r, _ in SAID])
def test_a_notice_reads_well(tamsin, reason, said):
    menu = menu_at(tamsin.venue, NOW)
    with translation.override("en"):
        sentence = notice(reason, menu.rules.garnish, menu)

    assert said in sentence
    assert not re.search(r"%\(|_|\bNone\b|  ", sentence)


@pytest.mark.parametrize("preset", PRESETS)
def test_every_preset_has_a_name(preset):
    assert preset_name(preset) != preset


def test_spirits_that_are_no_whole_stamped_measure_are_pointed_out(visit, tamsin):
    revise(tamsin, "madras", parts=[{"ingredient": "vodka", "amount": 45, "unit": "ml"}])
    before = text(visit(tamsin).get(RULES))
    pours = menu_at(tamsin.venue, NOW).rules.model_dump()["pours"]
    stamped = shipped_rules("great-britain").model_dump()["pours"]["spirit"]
    change_rules(tamsin, pours={**pours, "spirit": stamped})
    drink = text(visit(tamsin).get("/h/harbour-lights/book/drink/madras/"))

    assert "whole stamped measure" not in before
    assert "no whole stamped measure" in text(visit(tamsin).get(RULES))
    assert "of vodka is no whole measure: yours is" in drink
