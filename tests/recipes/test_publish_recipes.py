"""Adding, renaming, retiring drinks: what the verbs write, refuse and leave alone."""

import datetime as dt
from decimal import Decimal

import pytest

from barcourse.people import log
from barcourse.people.reasons import Refused
from recipes import naming, publish, publish_ingredients, publish_lessons, publish_recipes
from recipes.grammar.reasons import CannotBuild
from recipes.grammar.rules import GlassRule
from recipes.menu import menu_at
from recipes.models import Ingredient, Module, Recipe, Revision
from recipes.publish import OnMenu
from recipes.publish_recipes import (
    Card,
    add_recipe,
    bring_back,
    change_card,
    retire,
    take_back_revision,
)
from recipes.words_editing import EDITING, say
from tests.factories.people import OPENED
from tests.factories.recipes import DAY, change_rules, recipe, revise
from tests.grammar import kitchen

NOW = OPENED + DAY
THURSDAY = OPENED + 7 * DAY
MOMENT = dt.timedelta(microseconds=1)
GIN_MULE = {
    "parts": [{"ingredient": "gin", "amount": 1}, {"ingredient": "ginger-beer", "how": "top"}]
}


def card(by, name="Gin Mule", module="highballs", **said):
    return Card(name=name, module=Module.objects.in_house(by.venue).get(slug=module), **said)


def add(by, *, spec=GIN_MULE, at=NOW, takes_effect_at=None, must_know=False, **said):
    return add_recipe(
        by=by, card=card(by, **said), spec=spec, at=at, takes_effect_at=takes_effect_at,
        must_know=must_know,
    )  # fmt: skip


def on_menu(member, slug, at=NOW):
    return slug in menu_at(member.venue, at).by_slug


def test_every_refusal_has_words():
    codes = naming.CODES | publish_recipes.CODES | publish_ingredients.CODES | publish_lessons.CODES

    assert set(EDITING) == codes


# Adding


def test_a_new_drink_is_poured_learned_and_logged(tamsin):
    row = add(tamsin, aliases=("gin buck",), price=Decimal("9.50"), share=2.0, must_know=True)

    menu = menu_at(tamsin.venue, NOW)
    item = menu.by_slug["gin-mule"]
    assert (item.drink.name, item.drink.aliases, item.drink.must_know) == (
        "Gin Mule", ("gin buck",), True,
    )  # fmt: skip
    assert item in menu.must_knows()
    assert (row.price, row.share, item.revision.number) == (Decimal("9.50"), 2.0, 1)
    entry = log.head(tamsin.venue)
    assert log.check(tamsin.venue) == []
    assert entry.number > 0


def test_from_a_date_and_hour_it_is_on_no_menu_before(tamsin):
    add(tamsin, takes_effect_at=THURSDAY, must_know=True)

    assert not on_menu(tamsin, "gin-mule", THURSDAY - MOMENT)
    assert on_menu(tamsin, "gin-mule", THURSDAY)


def test_it_stands_last_in_its_module(tamsin):
    add(tamsin)

    assert (
        Recipe.objects.in_house(tamsin.venue).get(slug="gin-mule")
        == list(Module.objects.in_house(tamsin.venue).get(slug="highballs").recipes.all())[-1]
    )


def test_what_cannot_be_built_is_not_added(tamsin):
    before = log.head(tamsin.venue)
    with pytest.raises(CannotBuild):
        add(tamsin, spec={"parts": [{"ingredient": "gin", "amount": 9}]})

    assert not Recipe.objects.in_house(tamsin.venue).filter(slug="gin-mule").exists()
    assert log.head(tamsin.venue) == before


@pytest.mark.parametrize(
    ("name", "slug"),
    [("Gin Mule", "gin-mule"), ("Джин", "drink"), ("Gin — Mule!", "gin-mule"), ("a_b", "a-b")],
)
def test_its_address_comes_of_its_name(tamsin, name, slug):
    assert add(tamsin, name=name).slug == slug


def test_an_address_that_is_taken_is_numbered(tamsin):
    retire(by=tamsin, recipe=add(tamsin, name="Gin Mule"), at=NOW)

    assert add(tamsin, name="Gin, Mulé").slug == "gin-mule-2"


TAKEN = [
    ({"name": "MADRAS"}, "name_taken_by_drink", "name", "Madras"),
    ({"name": "Madra's"}, "name_taken_by_drink", "name", "Madras"),
    ({"aliases": ("Vodka Cran",)}, "name_taken_by_drink", "aliases", "Cape codder"),
    ({"name": "Cola"}, "name_taken_by_ingredient", "name", "cola"),
    ({"aliases": ("ginger-beer",)}, "name_taken_by_ingredient", "aliases", "ginger beer"),
    ({"name": "Madrases"}, "name_taken_by_drink", "name", "Madras"),
    ({"aliases": ("vodkas",)}, "name_taken_by_ingredient", "aliases", "vodka"),
]


@pytest.mark.parametrize(("said", "code", "field", "owner"), TAKEN)
def test_a_name_means_one_thing_and_both_owners_are_named(tamsin, said, code, field, owner):
    with pytest.raises(Refused) as refused:
        add(tamsin, **said)

    reason = refused.value.reason
    assert (reason.code, refused.value.field) == (code, field)
    assert reason.param("owner") == owner
    assert reason.param("mine") == said.get("name", "Gin Mule")
    assert owner in say(reason)


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ({"name": "No ice"}, "name_is_a_way"),
        ({"aliases": ("tall one",)}, "name_is_a_way"),
        ({"aliases": ("doubles",)}, "name_is_a_way"),
        ({"name": "Beer"}, "name_is_a_kind"),
        ({"aliases": ("double vodka",)}, "name_is_a_call"),
        ({"name": "Double Gin Tonic"}, "name_is_a_call"),
    ],
)
def test_what_guests_say_already_is_no_name_of_a_drink_new_or_changed(tamsin, said, code):
    with pytest.raises(Refused, match=code) as no:
        add(tamsin, **said)
    assert "Gin Mule" in say(no.value.reason) or str(said["name"]) in say(no.value.reason)
    if "aliases" in said:
        with pytest.raises(Refused, match=code):
            change(tamsin, "madras", **said)


def test_a_name_that_a_drink_has_already_stays(tamsin):
    Recipe.objects.filter(slug="madras").update(aliases=["tall one"])

    assert change(tamsin, "madras", share=3.0, aliases=("tall one",)) == ["share"]


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ({"slang": {"tall one": "cola"}}, "word_is_a_way"),
        ({"patterns": {"doubles": {"mixers": ["cola"]}}}, "word_is_a_way"),
        ({"servings": {"beers": "half"}}, "word_is_a_kind"),
        ({"slang": {"madrases": "cola"}}, "word_of_a_drink"),
        ({"servings": {"vodkas": "half"}}, "word_of_an_ingredient"),
        ({"slang": {"double vodka": "gin"}}, "word_is_a_call"),
        ({"servings": {"rickeys": "half"}}, "word_of_two"),
    ],
)
def test_what_guests_say_already_is_no_word_of_the_house_rules(tamsin, words, code):
    with pytest.raises(CannotBuild) as no:
        change_rules(tamsin, **words)

    assert [r.code for r in no.value.reasons] == [code]


WORDS = {
    "patterns": {"split": {"mixers": ["cola"]}},
    "servings": {"short": "any_spirit"},
    "slang": {"pop": "cola", "buck": "ginger-beer"},
}


@pytest.mark.parametrize(
    ("said", "code", "names"),
    [
        ({"name": "Split"}, "name_taken_by_pattern", ("“Split”", "“split”")),
        ({"aliases": ("a buck", "SHORT")}, "name_taken_by_serving", ("Gin Mule", "“short”")),
        ({"aliases": ("pop",)}, "name_taken_by_slang", ("Gin Mule", "“pop” means cola")),
    ],
)
@pytest.mark.parametrize("when", [None, THURSDAY])
def test_a_word_of_the_house_rules_is_no_name(tamsin, said, code, names, when):
    """Of those that hold as of those that are to come."""
    change_rules(tamsin, takes_effect_at=when, **WORDS)

    with pytest.raises(Refused, match=code) as no:
        add(tamsin, **said)
    assert all(name in say(no.value.reason) for name in names)


def test_slang_for_what_is_in_it_may_be_its_name(tamsin):
    change_rules(tamsin, **WORDS)

    assert add(tamsin, aliases=("buck",)).aliases == ["buck"]
    assert change(tamsin, "gin-mule", share=3.0) == ["share"]


def test_rules_that_begin_to_use_a_name_are_refused_with_its_owner(tamsin):
    add(tamsin, aliases=("buck",))

    with pytest.raises(CannotBuild) as no:
        change_rules(tamsin, patterns={"Buck": {"mixers": ["cola"]}})
    [reason] = no.value.reasons
    assert (reason.code, reason.values["owner"]) == ("word_of_a_drink", "Gin Mule")


def test_a_name_without_a_letter_is_refused(tamsin):
    with pytest.raises(Refused, match="name_unspeakable"):
        add(tamsin, name="!!!")


def test_another_house_may_have_it_too(tamsin, ravna):
    add(tamsin)

    assert add(ravna).venue == ravna.venue


# The card


def change(by, slug, **said):
    row = recipe(by, slug)
    begun = {"name": row.name, "aliases": tuple(row.aliases), "share": row.share}
    module = said.pop("module", row.module.slug)
    return change_card(by=by, recipe=row, card=card(by, module=module, **{**begun, **said}), at=NOW)


def test_a_card_changes_and_the_address_stays(tamsin):
    changed = change(tamsin, "madras", name="Madrasa", aliases=("hook",), price=Decimal(7))

    row = recipe(tamsin, "madras")
    assert sorted(changed) == ["aliases", "name", "price"]
    assert (row.name, row.aliases, row.price) == ("Madrasa", ["hook"], Decimal(7))
    assert Revision.objects.filter(recipe=row).count() == 1


def test_no_change_is_no_entry(tamsin):
    before = log.head(tamsin.venue)

    assert change(tamsin, "madras") == []
    assert log.head(tamsin.venue) == before


def test_it_may_keep_the_names_it_has(tamsin):
    assert change(tamsin, "cape-codder", aliases=("vodka cran", "cape cod")) == ["aliases"]


def test_its_own_name_and_doubles_are_no_other_names(tamsin):
    change(tamsin, "madras", aliases=("MADRAS", "hook", "Hook", "  "))

    assert recipe(tamsin, "madras").aliases == ["hook"]


def test_under_another_module_it_stands_last_there(tamsin):
    change(tamsin, "madras", module="shots")

    assert list(recipe(tamsin, "madras").module.recipes.all())[-1].slug == "madras"


def test_a_module_that_asks_for_alcohol_refuses_a_drink_without(tamsin):
    spec = {"parts": [{"ingredient": "cola", "how": "top"}]}
    add(tamsin, name="Soft", module="service-and-safety", spec=spec)

    with pytest.raises(CannotBuild):
        change(tamsin, "soft", module="highballs")
    assert recipe(tamsin, "soft").module.slug == "service-and-safety"


# Retiring


def test_a_drink_leaves_the_menu_at_once(tamsin):
    retire(by=tamsin, recipe=recipe(tamsin, "gin-tonic"), at=NOW)

    assert not on_menu(tamsin, "gin-tonic")
    assert "gin-tonic" not in {i.drink.slug for i in menu_at(tamsin.venue, NOW).must_knows()}
    assert on_menu(tamsin, "gin-tonic", NOW - MOMENT)


def test_or_from_a_date_and_hour_by_itself(tamsin):
    retire(by=tamsin, recipe=recipe(tamsin, "madras"), at=NOW, retires_at=THURSDAY)

    assert on_menu(tamsin, "madras", THURSDAY - MOMENT)
    assert not on_menu(tamsin, "madras", THURSDAY)


def test_and_comes_back_as_it_was(tamsin):
    retire(by=tamsin, recipe=recipe(tamsin, "gin-tonic"), at=NOW)
    bring_back(by=tamsin, recipe=recipe(tamsin, "gin-tonic"), at=NOW)

    assert menu_at(tamsin.venue, NOW).by_slug["gin-tonic"].drink.must_know
    assert log.check(tamsin.venue) == []


@pytest.mark.parametrize(
    ("slug", "owner", "comes_back"),
    [
        ("nitro-stout", "stout", True),  # it pours it, and was called so all along
        ("nitro-stout", "gin", False),
        ("draught-lager", "lager", True),
        ("draught-lager", "stout", False),
        ("nitro-stout", "", True),
    ],
)
def test_a_name_that_an_ingredient_has_too(tamsin, slug, owner, comes_back):
    """Only what it is poured from may be called as a drink is that comes back."""
    drink = recipe(tamsin, slug)
    retire(by=tamsin, recipe=drink, at=NOW)
    Ingredient.objects.in_house(tamsin.venue).filter(slug=owner).update(aliases=[drink.name])

    if comes_back:
        bring_back(by=tamsin, recipe=drink, at=NOW)
    else:
        with pytest.raises(Refused, match="name_taken_by_ingredient"):
            bring_back(by=tamsin, recipe=drink, at=NOW)
    assert on_menu(tamsin, slug) is comes_back


def test_a_retired_drink_stops_no_rules(tamsin):
    """A glass too small for it is nobody's trouble once it has gone."""
    small = kitchen.RULES.glasses | {"bottle": GlassRule(name="Small bottle", amount=7)}
    retire(by=tamsin, recipe=recipe(tamsin, "bottled-lager"), at=NOW, retires_at=THURSDAY)

    with pytest.raises(CannotBuild):
        change_rules(tamsin, glasses=small)
    change_rules(tamsin, glasses=small, takes_effect_at=THURSDAY)
    with pytest.raises(CannotBuild):
        bring_back(by=tamsin, recipe=recipe(tamsin, "bottled-lager"), at=NOW)
    assert recipe(tamsin, "bottled-lager").retires_at == THURSDAY


def test_other_drinks_are_published_while_one_waits_to_retire(tamsin):
    small = kitchen.RULES.glasses | {"bottle": GlassRule(name="Small bottle", amount=7)}
    retire(by=tamsin, recipe=recipe(tamsin, "bottled-lager"), at=NOW, retires_at=THURSDAY)
    change_rules(tamsin, glasses=small, takes_effect_at=THURSDAY)

    change_rules(tamsin, straw_families=())

    assert menu_at(tamsin.venue, NOW).rules.straw_families == ()


REFUSED = [
    (lambda by: retire(by=by, recipe=recipe(by, "madras"), at=NOW, retires_at=OPENED),
     "retires_in_the_past"),
    (lambda by: bring_back(by=by, recipe=recipe(by, "madras"), at=NOW), "not_retired"),
]  # fmt: skip


@pytest.mark.parametrize(("do", "code"), REFUSED, ids=[code for _, code in REFUSED])
def test_refused(tamsin, do, code):
    before = log.head(tamsin.venue)
    with pytest.raises(Refused, match=code):
        do(tamsin)
    assert log.head(tamsin.venue) == before


def test_twice_is_refused(tamsin):
    retire(by=tamsin, recipe=recipe(tamsin, "madras"), at=NOW)

    with pytest.raises(Refused, match="already_retired"):
        retire(by=tamsin, recipe=recipe(tamsin, "madras"), at=NOW)


def test_the_last_drink_stays(tamsin):
    off = {slug: OnMenu.OFF for slug in kitchen.MENU if slug != "madras"}
    publish.set_menu(by=tamsin, standing=off, at=NOW)

    with pytest.raises(Refused, match="last_on_the_menu"):
        retire(by=tamsin, recipe=recipe(tamsin, "madras"), at=NOW)


# A revision that waits


def test_what_waits_is_taken_back(tamsin):
    """Nothing is removed: another revision keeps the build at that moment."""
    before = menu_at(tamsin.venue, NOW).by_slug["madras"].drink
    planned = revise(tamsin, "madras", glass="rocks", at=NOW, takes_effect_at=THURSDAY)
    kept = take_back_revision(
        by=tamsin, recipe=recipe(tamsin, "madras"), number=planned.number, at=NOW
    )

    assert kept.takes_effect_at == planned.takes_effect_at
    assert menu_at(tamsin.venue, THURSDAY).by_slug["madras"].drink == before
    assert Revision.objects.filter(pk=planned.pk).exists()
    assert log.check(tamsin.venue) == []


def test_the_one_before_it_that_waits_too_still_comes(tamsin):
    one = revise(tamsin, "madras", glass="rocks", at=NOW, takes_effect_at=THURSDAY)
    other = revise(tamsin, "madras", glass="pint", at=NOW, takes_effect_at=THURSDAY + DAY)
    take_back_revision(by=tamsin, recipe=recipe(tamsin, "madras"), number=other.number, at=NOW)

    for day in (THURSDAY, THURSDAY + DAY):
        assert menu_at(tamsin.venue, day).by_slug["madras"].drink.spec.glass == one.build.glass


@pytest.mark.parametrize("number", [0, 1, 3])
def test_only_what_waits_is_taken_back(tamsin, number):
    revise(tamsin, "madras", glass="rocks", at=NOW, takes_effect_at=THURSDAY)

    with pytest.raises(Refused, match="not_waiting"):
        take_back_revision(by=tamsin, recipe=recipe(tamsin, "madras"), number=number, at=NOW)


def test_a_drink_to_come_has_nothing_to_go_back_to(tamsin):
    madras = recipe(tamsin, "madras")
    card = Card(name="Porto Breeze", module=madras.module)
    spec = {"parts": [{"ingredient": "gin", "amount": 1}, {"ingredient": "cola", "how": "top"}]}
    made = add_recipe(by=tamsin, card=card, spec=spec, at=NOW, takes_effect_at=THURSDAY)

    with pytest.raises(Refused, match="nothing_to_go_back_to"):
        take_back_revision(by=tamsin, recipe=made, number=1, at=NOW)
