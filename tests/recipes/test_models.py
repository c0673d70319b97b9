"""What the database itself refuses about recipes."""

import pytest
from django.db import DatabaseError, IntegrityError, connection, transaction
from django.db.models import F

from recipes.models import Ingredient, Module, Recipe, Revision, RulesVersion
from tests.factories.people import OPENED
from tests.factories.recipes import DAY, recipe, revise


@pytest.mark.parametrize(
    ("rows", "change"),
    [
        (Recipe, {"must_know": True, "is_poured": False}),
        (Recipe, {"share": -1}),
        (Ingredient, {"checked_at": OPENED}),
        (Ingredient, {"abv": 101}),
    ],
)
def test_what_no_row_may_say(odalys, rows, change):
    with pytest.raises(IntegrityError), transaction.atomic():
        rows.objects.filter(venue=odalys.venue).update(**change)


@pytest.mark.parametrize("table", [Revision, RulesVersion])
@pytest.mark.parametrize("statement", ["UPDATE {} SET number = 9", "DELETE FROM {}"])
def test_published_rows_are_sealed(odalys, table, statement):
    with (
        pytest.raises(DatabaseError, match="sealed"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(statement.format(table._meta.db_table))


def test_a_number_is_given_once(odalys):
    first = recipe(odalys, "madras").revisions.get()

    with pytest.raises(IntegrityError), transaction.atomic():
        Revision.objects.create(
            venue=odalys.venue, recipe=first.recipe, number=1, spec=first.spec,
            takes_effect_at=OPENED, published_at=OPENED, published_by=odalys,
        )  # fmt: skip


def test_nothing_takes_effect_before_it_is_published(odalys):
    with pytest.raises(IntegrityError), transaction.atomic():
        RulesVersion.objects.create(
            venue=odalys.venue, number=2, rules={}, takes_effect_at=OPENED,
            published_at=OPENED + DAY, published_by=odalys,
        )  # fmt: skip


def test_a_drink_stays_in_its_house(odalys, ravna):
    with pytest.raises(DatabaseError, match="same venue"), transaction.atomic():
        Recipe.objects.filter(venue=odalys.venue).update(
            module=Module.objects.filter(venue=ravna.venue)[0]
        )


def test_a_revision_reads_back_as_it_was_published(odalys):
    revision = Revision.objects.get(pk=revise(odalys, "margarita", straw=True).pk)

    assert revision.build.straw is True
    assert revision.build.rim is not None
    assert revision.build.parts[1].amount == 0.5


def test_the_facts_of_an_ingredient(odalys):
    row = Ingredient.objects.get(venue=odalys.venue, slug="grenadine")
    row.allergens = []
    known, row.allergens = row.facts(), None

    assert known.allergens == ()
    assert row.facts().allergens is None
    assert (known.kind, known.density) == ("syrup", 1.3)
    assert str(row) == "grenadine"


def test_positions_follow_the_course(odalys):
    slugs = Recipe.objects.in_house(odalys.venue).filter(position=F("position"))

    assert [r.slug for r in slugs][:2] == ["gin-tonic", "vodka-tonic"]
