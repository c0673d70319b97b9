"""What the house stocks: what the verbs write, refuse and leave alone."""

import datetime as dt
from dataclasses import replace
from decimal import Decimal

import pytest

from barcourse.people import log
from barcourse.people.reasons import Refused
from recipes.grammar.ingredients import Kind, Step
from recipes.grammar.reasons import CannotBuild
from recipes.menu import menu_at
from recipes.models import Ingredient, OffTonight
from recipes.publish_ingredients import (
    Stock,
    add_ingredient,
    change_ingredient,
    read_label,
    remove_ingredient,
)
from recipes.words_editing import say
from tests.factories.people import OPENED
from tests.factories.recipes import DAY, revise

NOW = OPENED + DAY
CORDIAL = Stock(name="Quay cordial", kind=Kind.SYRUP)


def row(by, slug):
    return Ingredient.objects.in_house(by.venue).get(slug=slug)


def held(of):
    return Stock(
        name=of.name, kind=Kind(of.kind), abv=of.abv, colour=of.colour, density=of.density,
        aliases=tuple(of.aliases), bottle_ml=of.bottle_ml, bottle_price=of.bottle_price,
        step=Step(of.step), bottle_of=of.bottle_of,
    )  # fmt: skip


def change(by, slug, **said):
    found = row(by, slug)
    return change_ingredient(by=by, ingredient=found, stock=replace(held(found), **said), at=NOW)


def test_a_new_one_is_unknown_to_whoever_asks_for_allergens(tamsin):
    made = add_ingredient(by=tamsin, stock=CORDIAL, at=NOW)

    assert (made.slug, made.allergens, made.checked_by) == ("quay-cordial", None, None)
    assert menu_at(tamsin.venue, NOW).pantry["quay-cordial"].allergens is None
    assert log.check(tamsin.venue) == []


@pytest.mark.parametrize(
    ("stock", "code"),
    [
        (Stock(name="VODKA", kind=Kind.VODKA), "name_taken_by_ingredient"),
        (Stock(name="Madras", kind=Kind.SYRUP), "name_taken_by_drink"),
        (Stock(name="x", kind=Kind.GIN, aliases=("no ice",)), "name_is_a_way"),
        (Stock(name="x", kind=Kind.GIN, aliases=("double vodka",)), "name_is_a_call"),
        (Stock(name="x", kind=Kind.GIN, aliases=("beer",)), "name_is_a_kind"),
        (Stock(name="Vodkas", kind=Kind.GIN), "name_taken_by_ingredient"),
        (Stock(name="x", kind=Kind.SYRUP, aliases=("madras",)), "name_taken_by_drink"),
    ],
)
def test_a_name_that_is_taken_is_refused(tamsin, stock, code):
    with pytest.raises(Refused, match=code):
        add_ingredient(by=tamsin, stock=stock, at=NOW)


def test_a_bottle_and_its_price_are_kept_and_logged(tamsin):
    before = log.head(tamsin.venue).number

    changed = change(tamsin, "vodka", bottle_ml=700.0, bottle_price=Decimal("14.90"))

    assert sorted(changed) == ["bottle_ml", "bottle_price"]
    assert row(tamsin, "vodka").bottle_price == Decimal("14.90")
    assert log.head(tamsin.venue).number == before + 1
    assert change(tamsin, "vodka") == []
    assert log.head(tamsin.venue).number == before + 1


def test_what_a_poured_drink_needs_is_not_taken_from_it(tamsin):
    """Fruit can't be poured, and the madras needs cranberry juice."""
    with pytest.raises(CannotBuild):
        change(tamsin, "vodka", kind=Kind.FRUIT, abv=0.0)

    assert row(tamsin, "vodka").kind == "vodka"


def test_who_read_the_label_and_when_stand_beside_what_it_says(tamsin):
    read_label(by=tamsin, ingredient=row(tamsin, "cream"), allergens=["milk", "milk"], at=NOW)

    cream = row(tamsin, "cream")
    assert (cream.allergens, cream.checked_by, cream.checked_at) == (["milk"], tamsin, NOW)


def test_a_label_that_names_none_is_read_too(tamsin):
    read_label(by=tamsin, ingredient=row(tamsin, "cola"), allergens=[], at=NOW)

    assert row(tamsin, "cola").allergens == []
    assert row(tamsin, "cola").checked_by == tamsin


def test_what_is_on_no_legal_list_is_refused(tamsin):
    with pytest.raises(Refused) as refused:
        read_label(by=tamsin, ingredient=row(tamsin, "cola"), allergens=["moon"], at=NOW)

    assert "moon" in say(refused.value.reason)
    assert row(tamsin, "cola").checked_by is None


def test_what_nothing_needs_goes(tamsin):
    remove_ingredient(
        by=tamsin, ingredient=add_ingredient(by=tamsin, stock=CORDIAL, at=NOW), at=NOW
    )

    assert not Ingredient.objects.in_house(tamsin.venue).named(["quay-cordial"]).exists()
    assert log.check(tamsin.venue) == []


def part(slug):
    return {"ingredient": slug, "how": "measured", "amount": 1, "unit": "tsp", "share": 1}


def test_what_a_drink_needs_stays_and_the_drinks_are_named(tamsin):
    with pytest.raises(Refused) as refused:
        remove_ingredient(by=tamsin, ingredient=row(tamsin, "grapefruit-juice"), at=NOW)

    said = say(refused.value.reason)
    assert refused.value.reason.code == "ingredient_in_use"
    assert "Sea breeze" in said
    assert "Salty dog" in said
    assert "Madras" not in said


def test_a_drink_to_come_needs_it_too(tamsin):
    made = add_ingredient(by=tamsin, stock=CORDIAL, at=NOW)
    parts = [{"ingredient": "vodka", "amount": 1}, part("quay-cordial")]
    revise(tamsin, "madras", parts=parts, takes_effect_at=NOW + 7 * DAY)

    with pytest.raises(Refused, match="ingredient_in_use"):
        remove_ingredient(by=tamsin, ingredient=made, at=NOW)


def test_what_a_past_build_had_stays_readable(tamsin):
    made = add_ingredient(by=tamsin, stock=CORDIAL, at=NOW)
    parts = [{"ingredient": "vodka", "amount": 1}, part("quay-cordial")]
    revise(tamsin, "madras", parts=parts, at=NOW)
    revise(tamsin, "madras", at=NOW + dt.timedelta(hours=1))

    with pytest.raises(Refused, match="ingredient_on_record"):
        remove_ingredient(by=tamsin, ingredient=made, at=NOW + dt.timedelta(hours=2))


def test_what_a_house_rule_speaks_of_stays(tamsin):
    """Lime goes on whatever has tonic, and no recipe needs to say so."""
    with pytest.raises(Refused) as refused:
        remove_ingredient(by=tamsin, ingredient=row(tamsin, "lime"), at=NOW)

    assert refused.value.reason.code in ("ingredient_in_use", "ingredient_in_rules")


def test_what_was_out_one_night_stays(tamsin):
    made = add_ingredient(by=tamsin, stock=CORDIAL, at=NOW)
    OffTonight.objects.create(
        venue=tamsin.venue, ingredient=made, said_by=tamsin, said_at=NOW,
        lifted_by=tamsin, lifted_at=NOW,
    )  # fmt: skip

    with pytest.raises(Refused, match="ingredient_on_record"):
        remove_ingredient(by=tamsin, ingredient=made, at=NOW)


QUAYSIDE = Stock("Quayside gin", Kind.GIN, abv=43, step=Step.PREMIUM, bottle_of="gin")


def test_a_bottle_of_the_house_is_of_something_that_recipes_speak_of(tamsin):
    add_ingredient(by=tamsin, stock=QUAYSIDE, at=NOW)

    item = menu_at(tamsin.venue, NOW).pantry["quayside-gin"]
    assert (item.bottle_of, item.step) == ("gin", Step.PREMIUM)
    assert log.check(tamsin.venue) == []


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ({"bottle_of": "moonshine"}, "bottle_of_nothing"),
        ({"bottle_of": "vodka"}, "bottle_of_another_kind"),
        ({"bottle_of": "quayside-gin"}, "bottle_of_a_bottle"),
        ({"bottle_of": ""}, "step_without_like"),
    ],
)
def test_an_odd_bottle_is_refused(tamsin, said, code):
    add_ingredient(by=tamsin, stock=QUAYSIDE, at=NOW)
    other = replace(QUAYSIDE, name="Old Pier gin", **said)

    with pytest.raises(Refused, match=code) as no:
        add_ingredient(by=tamsin, stock=other, at=NOW)
    assert "Old Pier gin" in say(no.value.reason)


@pytest.mark.parametrize(
    ("slug", "said", "code"),
    [
        ("gin", {"bottle_of": "gin"}, "bottle_of_itself"),
        ("gin", {"kind": Kind.VODKA}, "bottles_of_it"),
        ("gin", {"kind": Kind.VODKA, "bottle_of": "vodka"}, "bottle_of_a_bottle"),
    ],
)
def test_what_has_bottles_stays_what_they_are_of(tamsin, slug, said, code):
    add_ingredient(by=tamsin, stock=QUAYSIDE, at=NOW)

    with pytest.raises(Refused, match=code):
        change(tamsin, slug, **said)


def test_what_has_bottles_is_not_removed(tamsin):
    add_ingredient(by=tamsin, stock=Stock("rye", Kind.WHISKEY, abv=45), at=NOW)
    bottle = Stock("Old Pier rye", Kind.WHISKEY, abv=45, bottle_of="rye")
    add_ingredient(by=tamsin, stock=bottle, at=NOW)

    with pytest.raises(Refused, match="bottles_of_it") as no:
        remove_ingredient(by=tamsin, ingredient=row(tamsin, "rye"), at=NOW)
    assert "Old Pier rye" in say(no.value.reason)
