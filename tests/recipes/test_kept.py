"""The menu that a process keeps: whatever the house changes shows at once."""

from __future__ import annotations

import datetime as dt

import pytest
from django.db import connection, transaction
from django.test.utils import CaptureQueriesContext

from barcourse.people import log
from barcourse.people.models import Membership
from recipes import kept as keeping
from recipes.kept import Kept, stamp_of
from recipes.menu import Menu, MenuDrink, menu_at
from recipes.models import Ingredient, Recipe
from recipes.publish import OnMenu, publish_revision, publish_rules, set_menu
from recipes.publish_recipes import retire
from tests.factories import people as make

pytestmark = pytest.mark.django_db

NOW = make.OPENED + dt.timedelta(days=7)
LATER = NOW + dt.timedelta(days=2)


@pytest.fixture(autouse=True)
def _outside(db: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """A test runs in a transaction of its own; only those within it count."""
    around = len(connection.savepoint_ids)
    monkeypatch.setattr(keeping, "in_doubt", lambda: len(connection.savepoint_ids) > around)


@pytest.fixture
def kept(tamsin: Membership) -> MenuDrink:
    """A drink of a menu that was asked for, so it is kept."""
    return now(tamsin).must_knows()[0]


def now(of: Membership, at: dt.datetime = NOW) -> Menu:
    return menu_at(of.venue, at)


def turned(item: MenuDrink) -> dict[str, object]:
    return {**item.revision.spec, "straw": not item.drink.spec.straw}


def test_a_menu_asked_for_again_takes_one_query(tamsin, kept):
    with CaptureQueriesContext(connection) as asked:
        again = now(tamsin, NOW + dt.timedelta(minutes=3))

    assert len(asked) == 1
    assert again.at == NOW + dt.timedelta(minutes=3)
    assert again.by_slug[kept.drink.slug] == kept


def test_a_revision_shows_at_once(tamsin, kept):
    publish_revision(by=tamsin, recipe=kept.recipe, spec=turned(kept), at=NOW)

    changed = now(tamsin).by_slug[kept.drink.slug].drink
    assert changed.spec.straw is not kept.drink.spec.straw


def test_a_revision_for_later_shows_at_its_moment(tamsin, kept):
    publish_revision(
        by=tamsin, recipe=kept.recipe, spec=turned(kept), at=NOW, takes_effect_at=LATER
    )
    straws = [
        now(tamsin, at).by_slug[kept.drink.slug].drink.spec.straw
        for at in (NOW, LATER - dt.timedelta.resolution, LATER, NOW)
    ]

    was = kept.drink.spec.straw
    assert straws == [was, was, not was, was]


def test_rules_show_at_once(tamsin, marek, kept):
    before = now(tamsin).rules
    rules = before.model_copy(update={"tolerance": before.tolerance / 2})
    publish_rules(by=marek, rules=rules, at=NOW)

    assert now(tamsin).rules == rules


def test_a_drink_off_the_menu_is_gone_at_once(tamsin, kept):
    set_menu(by=tamsin, standing={kept.drink.slug: OnMenu.OFF}, at=NOW)

    assert kept.drink.slug not in now(tamsin).by_slug


def test_a_drink_retires_at_its_moment(tamsin, kept):
    retire(by=tamsin, recipe=kept.recipe, at=NOW, retires_at=LATER)

    on = [kept.drink.slug in now(tamsin, at).by_slug for at in (NOW, LATER, NOW)]
    assert on == [True, False, True]


def test_what_is_taken_back_was_never_kept(tamsin, kept):
    """A preview changes rows, looks and takes the change back."""
    with transaction.atomic():
        Recipe.objects.filter(pk=kept.recipe.pk).update(name="Preview")
        inside = now(tamsin).by_slug[kept.drink.slug].drink.name
        transaction.set_rollback(True)

    assert inside == "Preview"
    assert now(tamsin).by_slug[kept.drink.slug].drink.name == kept.drink.name


def test_another_house_has_another_menu(tamsin, kept, ravna):
    Ingredient.objects.filter(venue=ravna.venue).update(name="Theirs")

    assert set(now(ravna).names.values()) == {"Theirs"}
    assert "Theirs" not in now(tamsin).names.values()


def test_a_stamp_is_the_head_of_the_log(tamsin):
    assert stamp_of(tamsin.venue) == log.head(tamsin.venue).hash
    with transaction.atomic():
        assert stamp_of(tamsin.venue) == ""


def test_so_many_are_kept_and_no_more():
    few: Kept[int, int] = Kept(most=2)
    made: list[int] = []

    def make_of(key: int) -> int:
        made.append(key)
        return key

    for key in (1, 2, 1, 3, 1):
        few.get(key, lambda key=key: make_of(key))  # type: ignore[misc]

    assert made == [1, 2, 3, 1]
