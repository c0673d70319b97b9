"""A bottle or a drink is out: what is served tonight, and that nothing taught or proven moves."""

import datetime as dt

import pytest
from django.db import IntegrityError

from barcourse.people import log
from barcourse.people.models import LogEntry
from recipes import publish_off
from recipes.grammar import tonight as grammar
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.menu import MenuDrink, menu_at
from recipes.models import Ingredient, OffTonight
from recipes.off_tonight import OffDrink, Tonight, ingredients_of, standing, swaps_of
from recipes.off_words import changed_sheets, out_sheets
from recipes.saying import sentence
from recipes.words_tonight import TONIGHT
from tests.factories.people import OPENED
from tests.factories.recipes import recipe

NOW = OPENED + dt.timedelta(days=3)


def bottle(member, slug) -> Ingredient:
    return Ingredient.objects.in_house(member.venue).get(slug=slug)


def out(by, slug, use=None, at=NOW) -> OffTonight:
    stands_in = bottle(by, use) if use else None
    return publish_off.say_bottle_out(
        by=by, ingredient=bottle(by, slug), substitute=stands_in, at=at
    )


def tonight(member) -> Tonight:
    return Tonight(menu_at(member.venue, NOW), standing(member.venue))


def names(items) -> set[str]:
    return {i.drink.slug if isinstance(i, MenuDrink) else i.item.drink.slug for i in items}


def test_nothing_is_out_on_a_plain_evening(tamsin):
    found = tonight(tamsin)

    assert found.outcomes == ()
    assert all(found.serve(item) is item for item in found.menu.items)


def test_a_bottle_with_a_substitute(tamsin):
    out(tamsin, "gin", "vodka")
    found = tonight(tamsin)

    assert names(found.changed) == {"gin-tonic", "light-gin-tonic", "negroni", "salty-dog"}
    assert found.off == ()
    for item in found.changed:
        used = ingredients_of(item.drink.spec)
        assert "vodka" in used
        assert "gin" not in used


def test_a_bottle_without_one_takes_its_drinks_off_and_says_why(tamsin):
    out(tamsin, "salt")
    found = tonight(tamsin)

    assert names(found.off) == {"margarita", "salty-dog"}
    assert {o.why for o in found.off} == {(Reason.of("bottle_out", ingredient="salt"),)}


def test_a_substitute_that_can_not_be_built_takes_the_drink_off_with_the_reason(tamsin):
    """Cola has no alcohol: a negroni without gin still has some, a gin tonic hasn't."""
    out(tamsin, "gin", "cola")
    found = tonight(tamsin)
    why = {o.item.drink.slug: o.why[0].code for o in found.off}

    assert why["salty-dog"] == "no_house_pour"
    assert found.changed == ()


def test_a_garnish_of_a_house_rule_is_left_off(tamsin):
    out(tamsin, "lime")
    served = tonight(tamsin).serve(menu_at(tamsin.venue, NOW).by_slug["gin-tonic"])

    assert isinstance(served, MenuDrink)
    assert served.drink.spec.garnish == ()


def test_a_rim_that_its_garnish_wets_is_off_without_it(tamsin):
    out(tamsin, "lime")
    found = {o.item.drink.slug: o.why[0].code for o in tonight(tamsin).off}

    assert found["salty-dog"] == "rim_with_nothing_to_wet"


def test_a_drink_that_is_off_by_itself(tamsin):
    publish_off.say_drink_out(by=tamsin, recipe=recipe(tamsin, "madras"), at=NOW)
    [off] = tonight(tamsin).off

    assert (off.item.drink.slug, off.why) == ("madras", (Reason.of("drink_out"),))


def test_nobody_guesses_a_substitute_for_a_substitute(tamsin):
    out(tamsin, "gin", "vodka")
    out(tamsin, "vodka", "white-rum")

    assert swaps_of(standing(tamsin.venue)) == {"gin": None, "vodka": "white-rum"}
    assert [s.said for s in out_sheets(tonight(tamsin))] == [
        "gin is out, and vodka, which stood in, is out too.",
        "vodka is out: use white rum.",
    ]


def test_the_book_does_not_know_of_it(tamsin):
    """Sign-offs, evidence, cards and quizzes go by fingerprints and topics of the menu."""
    before = menu_at(tamsin.venue, NOW)
    out(tamsin, "gin", "vodka")
    out(tamsin, "salt")
    publish_off.say_drink_out(by=tamsin, recipe=recipe(tamsin, "madras"), at=NOW)
    after = menu_at(tamsin.venue, NOW)

    assert after.drinks == before.drinks
    assert after.rules == before.rules


def test_drinks_that_are_not_touched_are_the_books_own(tamsin):
    out(tamsin, "gin", "vodka")
    found = tonight(tamsin)
    touched = names(found.outcomes)

    assert touched
    for item in found.menu.items:
        assert (found.serve(item) is item) is (item.drink.slug not in touched)


def test_what_changes_is_told_by_aspect(tamsin):
    out(tamsin, "gin", "vodka")
    sheets = {s.slug: s for s in changed_sheets(tonight(tamsin))}
    [pours] = sheets["negroni"].differences

    assert (pours.label, "gin" in pours.here, "vodka" in pours.there) == ("Pours", True, True)


def test_lifted_it_is_there_again(tamsin, pia):
    row = out(tamsin, "gin", "vodka")

    assert publish_off.lift(by=pia, off=row, at=NOW + dt.timedelta(hours=2)) is True
    assert tonight(tamsin).outcomes == ()
    row.refresh_from_db()
    assert (row.lifted_by, row.lifted_at) == (pia, NOW + dt.timedelta(hours=2))
    assert publish_off.lift(by=tamsin, off=row, at=NOW + dt.timedelta(hours=3)) is False


def test_said_twice_it_stands_once(tamsin, pia):
    first = out(tamsin, "gin", "vodka")

    assert out(pia, "gin", "vodka") == first
    assert OffTonight.objects.count() == 1
    once = publish_off.say_drink_out(by=tamsin, recipe=recipe(tamsin, "madras"), at=NOW)
    assert publish_off.say_drink_out(by=pia, recipe=recipe(tamsin, "madras"), at=NOW) == once


def test_another_substitute_takes_the_place_of_the_first(tamsin, pia):
    out(tamsin, "gin", "vodka")
    out(pia, "gin", "white-rum")

    assert swaps_of(standing(tamsin.venue)) == {"gin": "white-rum"}
    assert OffTonight.objects.count() == 2


@pytest.mark.parametrize(
    ("use", "code"), [("gin", "substitute_is_itself"), ("vodka", "substitute_is_out")]
)
def test_a_substitute_must_be_another_and_there(tamsin, use, code):
    out(tamsin, "vodka")
    with pytest.raises(CannotBuild) as caught:
        out(tamsin, "gin", use)

    assert [r.code for r in caught.value.reasons] == [code]
    assert code in publish_off.CODES
    assert len(standing(tamsin.venue)) == 1


def test_the_database_allows_one_standing_row_a_bottle(tamsin):
    row = out(tamsin, "gin")
    with pytest.raises(IntegrityError):
        OffTonight.objects.create(
            venue=row.venue, ingredient=row.ingredient, said_by=tamsin, said_at=NOW
        )


def test_every_word_is_on_the_log_and_it_stays_whole(tamsin):
    gin = out(tamsin, "gin", "vodka")
    out(tamsin, "gin", "white-rum")
    madras = publish_off.say_drink_out(by=tamsin, recipe=recipe(tamsin, "madras"), at=NOW)
    publish_off.lift(by=tamsin, off=madras, at=NOW)
    publish_off.lift(by=tamsin, off=gin, at=NOW)
    kinds = ["bottle_out", "bottle_out", "drink_out", "off_lifted"]
    entries = LogEntry.objects.filter(venue=tamsin.venue).order_by("-number")[:4]

    assert [e.kind for e in reversed(entries)] == kinds
    assert [e.facts for e in reversed(entries)] == [
        {"bottle": "gin", "use": "vodka"},
        {"bottle": "gin", "use": "white-rum"},
        {"drink": "madras"},
        {"drink": "madras"},
    ]
    assert log.check(tamsin.venue) == []


def test_another_house_pours_on(tamsin, ravna):
    out(tamsin, "gin")

    assert standing(ravna.venue) == ()


@pytest.mark.parametrize("slug", ["gin", "lime", "salt", "vodka", "tonic-water", "mint", "cream"])
def test_a_drink_is_either_served_without_it_or_off(tamsin, slug):
    out(tamsin, slug)
    for outcome in tonight(tamsin).outcomes:
        if isinstance(outcome, OffDrink):
            assert outcome.why
        else:
            assert slug not in ingredients_of(outcome.drink.spec)


@pytest.mark.parametrize("code", sorted(publish_off.CODES | grammar.CODES))
def test_every_reason_reads_as_a_sentence(tamsin, code):
    said = sentence(Reason.of(code, ingredient="gin"), menu_at(tamsin.venue, NOW))

    assert said[0].isupper()
    assert said.endswith(".")
    assert "%" not in said


def test_no_words_of_tonight_without_a_reason():
    assert set(TONIGHT) == publish_off.CODES | grammar.CODES
