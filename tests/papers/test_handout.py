"""A module on paper."""

import datetime as dt

import pytest

from barcourse.papers.handout import DrinkRow, facts_of, handout_pdf
from recipes.menu import menu_at
from recipes.models import Ingredient, Module
from recipes.publish_off import lift, say_bottle_out
from tests.factories.people import OPENED
from tests.factories.recipes import DAY, change_rules, revise
from tests.papers.sheets import PICTURE, handout_facts, pages_of, sizes_of, text_of

LATER = OPENED + 3 * DAY


def handout_of(house, slug, *, at=LATER, size=""):
    return facts_of(menu_at(house, at), Module.objects.get(venue=house, slug=slug), size)


def row(facts, name):
    return next(row for row in facts.drinks if row.name == name)


def test_it_holds_notes_lessons_drinks_pairs_and_rules():
    text = text_of(handout_pdf(handout_facts()))

    for words in (
        "Harbour Lights Highballs",
        "To the top.",
        "Ice is food",
        "The scoop, never the glass.",
        "Screwdriver must-know · rev. 2 highball glass, 10 fl oz 1 pour vodka orange juice straw",
        "Sea Breeze Mixers: a Bay Breeze Mixers: b",
        "tonic water lime wedge, always",
    ):
        assert words in text


def test_the_foot_of_every_page_says_what_it_is_and_as_of_when():
    rows = tuple(DrinkRow(PICTURE, f"Drink {n}", 1, False, ((), (), (), (), ())) for n in range(90))
    pdf = handout_pdf(handout_facts(drinks=rows))
    pages = pages_of(pdf)

    assert pages > 2
    foot = "Harbour Lights · Highballs · house rules 3, as of March 12, 2026"
    assert text_of(pdf).count(foot) == pages + 1  # under the title once more
    assert all(f"{page} / {pages}" in text_of(pdf) for page in range(1, pages + 1))


def test_the_cautions_stand_on_it():
    text = text_of(handout_pdf(handout_facts()))

    assert "Never promise that a drink is free from anything." in text
    assert "empty the whole bin, melt, wash, refill" in text
    assert "local law and licensed training decide" in text


def test_every_drink_of_the_module_has_a_row(house):
    facts = handout_of(house, "highballs")
    slugs = {i.drink.slug for i in menu_at(house, LATER).items if i.drink.module == "highballs"}

    assert len(facts.drinks) == len(slugs) > 15
    assert facts.heads == ("Glass", "Pours", "Mixers", "Finish", "Method")
    assert row(facts, "Gin tonic").must_know
    assert not row(facts, "Madras").must_know
    glass, pours, mixers, finish, method = row(facts, "Gin tonic").cells
    assert glass == ("Highball glass, 10 fl oz",)
    assert pours == ("1 pour gin",)
    assert mixers == ("tonic water",)
    assert "lime wedge, always" in finish or "lime, always" in finish
    assert method == ("full ice", "build in the glass")


def test_the_rules_behind_the_drinks_stand_below_them(house):
    rules = {r.title: dict(r.lines) for r in handout_of(house, "highballs").rules}

    assert rules["One pour"]["spirits"] == "1 fl oz, by jigger"
    assert rules["Glass and ice"]["highball"] == "Highball glass, 10 fl oz, full ice"
    assert "wine" not in rules["One pour"]
    assert rules["Straw, doubles, leeway"]["a double"].startswith("2 pours; ask: short")
    assert any("always" in said for said in rules["Garnish"].values())


def test_rules_of_other_modules_are_left_out(house):
    rules = {r.title: dict(r.lines) for r in handout_of(house, "beer").rules}

    assert set(rules["Glass and ice"]) == {"draught beer", "bottle or can"}
    assert "a double" not in rules["Straw, doubles, leeway"]


def test_a_garnish_rule_reads_as_a_bartender_says_it(house, odalys):
    rules = [
        {"key": "a", "needs": [["vodka"], ["club-soda"]], "only": True,
         "garnish": [{"item": "lemon", "when": "ask"}, {"item": "lime", "when": "ask"}]},
        {"key": "b", "needs": [["juice"]], "families": ["highball"]},
        {"key": "c", "families": ["rocks", "up"]},
        {"key": "d"},
    ]  # fmt: skip
    change_rules(odalys, garnish=rules)
    rules = {r.title: dict(r.lines) for r in handout_of(house, "highballs").rules}

    assert rules["Garnish"] == {
        "vodka and club soda, nothing else in it": "lemon or lime (ask the guest)",
        "juice in a highball": "no garnish",
        "anything else": "no garnish",
    }


def test_the_breezes_are_told_apart_by_their_mixers(house):
    pairs = {(p.one, p.other): p.differ for p in handout_of(house, "highballs").mixed_up}
    [differ] = [d for pair, d in pairs.items() if set(pair) == {"Sea breeze", "Bay breeze"}]

    assert [part for part, _one, _other in differ] == ["Mixers"]
    assert {"grapefruit" in differ[0][1], "grapefruit" in differ[0][2]} == {True, False}


def test_no_pair_stands_twice_and_no_drink_beside_itself(house):
    pairs = [frozenset((p.one, p.other)) for p in handout_of(house, "highballs").mixed_up]

    assert pairs
    assert len(set(pairs)) == len(pairs) <= 12
    assert all(len(pair) == 2 for pair in pairs)


def test_safety_has_lessons_and_no_table(house):
    facts = handout_of(house, "service-and-safety")
    text = text_of(handout_pdf(facts))

    assert (facts.drinks, facts.heads, facts.rules, facts.mixed_up) == ((), (), (), ())
    assert "The scoop, never the glass." in text
    assert "on the menu" not in text


def test_it_is_dated_by_the_newest_thing_on_it(house, odalys):
    assert handout_of(house, "highballs").as_of == OPENED
    revise(odalys, "madras", at=OPENED + DAY, glass="rocks")

    assert handout_of(house, "highballs").as_of == OPENED + DAY
    assert handout_of(house, "rocks").as_of == OPENED
    change_rules(odalys, at=OPENED + 2 * DAY, slang={"soda": "club-soda"})
    facts = handout_of(house, "rocks")
    assert (facts.as_of, facts.rules_version) == (OPENED + 2 * DAY, 2)


def test_a_revision_that_is_still_to_come_is_not_on_it(house, odalys):
    revise(odalys, "madras", at=OPENED + DAY, glass="rocks", takes_effect_at=LATER + DAY)

    assert row(handout_of(house, "highballs"), "Madras").revision == 1
    tomorrow = handout_of(house, "highballs", at=LATER + DAY)
    assert row(tomorrow, "Madras").revision == 2
    assert row(tomorrow, "Madras").cells[0] == ("Rocks glass, 9 fl oz",)


def test_the_hour_of_asking_changes_no_byte(house):
    one = handout_of(house, "rocks", at=LATER)
    other = handout_of(house, "rocks", at=LATER + dt.timedelta(hours=5))

    assert handout_pdf(one) == handout_pdf(other)


def test_a_house_of_another_country_reads_its_own_measures(house, odalys):
    change_rules(odalys, country="gb")

    assert row(handout_of(house, "highballs"), "Madras").cells[0] == ("Highball glass, 296 ml",)


@pytest.mark.parametrize(("size", "points"), [("a4", (595.28, 841.89)), ("letter", (612.0, 792.0))])
def test_all_pages_are_of_one_size(house, size, points):
    facts = handout_of(house, "highballs", size=size)

    assert sizes_of(handout_pdf(facts)) == {points}


def test_what_is_out_tonight_stands_at_the_top_and_the_rows_stay_the_books(house, odalys):
    before = handout_of(house, "highballs")
    gin = Ingredient.objects.get(venue=house, slug="gin")
    vodka = Ingredient.objects.get(venue=house, slug="vodka")
    said = say_bottle_out(by=odalys, ingredient=gin, substitute=vodka, at=LATER)
    text = text_of(handout_pdf(handout_of(house, "highballs")))

    assert "Out on the night of March 8, 2026:" in text
    assert "Gin tonic: vodka instead of gin." in text
    assert handout_of(house, "highballs").drinks == before.drinks
    assert handout_of(house, "beer").tonight == ()

    lift(by=odalys, off=said, at=LATER)
    assert handout_of(house, "highballs") == before
