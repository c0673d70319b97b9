"""What the database itself holds to, for every table there is: sealed rows stay as written, and
nothing links across houses. The tables are found, so a new one is held to it too."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from typing import Any

import pytest
from django.apps import apps
from django.db import IntegrityError, connection, models, transaction

from assessments.models import Answer, CardMark, Item
from barcourse.people import guards, log
from barcourse.people.models import LogEntry, Person, SentForm, SignInTry, Venue
from barcourse.people.sealed import AppendOnlyModel, SealedError, SealedModel
from tests.factories.whole_house import Town, Whole, town, undone

pytestmark = pytest.mark.django_db

EVERY = [m for m in apps.get_models(include_auto_created=True) if m._meta.managed]
ONCE = [m for m in EVERY if issubclass(m, AppendOnlyModel)]
SEALED = [m for m in ONCE if issubclass(m, SealedModel)]
IN_NO_HOUSE: dict[type[models.Model], str] = {
    Venue: "is the house",
    Person: "may work in several",
    SentForm: "belongs to a browser, also of somebody without a house",
    SignInTry: "comes before anybody is known",
}
IN_A_HOUSE = [m for m in EVERY if "venue" in {field.name for field in m._meta.fields}]
LINKS = [
    (model, field)
    for model in IN_A_HOUSE
    for field in model._meta.concrete_fields
    if isinstance(field, models.ForeignKey) and field.related_model in IN_A_HOUSE
]
NOWHERE = 987_654_321
written_once = pytest.mark.parametrize("model", ONCE, ids=lambda model: model._meta.label)
names = pytest.mark.parametrize("model", SEALED, ids=lambda model: model._meta.label)


@pytest.fixture(scope="module")
def the_town(django_db_setup: None, django_db_blocker: Any) -> Iterator[Town]:
    with django_db_blocker.unblock(), town() as built:
        yield built


@pytest.fixture(autouse=True)
def _nothing_pending(the_town: Town) -> None:
    """PostgreSQL neither empties nor alters a table while links in it wait to be looked at."""
    connection.check_constraints()


def row_of(model: type[models.Model], house: Whole) -> Any:
    row = model._base_manager.filter(venue=house.venue).order_by("pk").last()
    assert row is not None, f"whole_house.py makes no {model._meta.label}: let a verb make one"
    return row


def run(sql: str, *params: object) -> int:
    with connection.cursor() as cursor:
        cursor.execute(sql, params)
        return cursor.rowcount


def refusal(sql: str, *params: object) -> str:
    """The database's words for refusing; empty where it does it."""
    with undone():
        try:
            run(sql, *params)
        except IntegrityError as refused:
            return str(refused)
    return ""


def columns(model: type[models.Model]) -> list[str]:
    return [field.column for field in model._meta.concrete_fields]


def copy(model: type[models.Model], **changed: str) -> str:
    """SQL for a copy of a row, given by its id as the last parameter; `changed` by column."""
    wanted = ", ".join(changed.get(name, f'"{name}"') for name in columns(model))
    into = ", ".join(f'"{name}"' for name in columns(model))
    table = model._meta.db_table
    return f'INTO "{table}" ({into}) SELECT {wanted} FROM "{table}" WHERE id = %s'


def test_there_are_sealed_tables_and_every_one_belongs_to_a_house():
    assert LogEntry in SEALED
    assert set(ONCE) <= set(IN_A_HOUSE)
    assert {Item, Answer, CardMark} <= set(ONCE) - set(SEALED)


def test_every_table_of_ours_belongs_to_a_house_or_says_why_not():
    ours = {m for m in EVERY if not m.__module__.startswith("django.")}

    assert ours - set(IN_A_HOUSE) == set(IN_NO_HOUSE)


@written_once
def test_no_column_of_a_sealed_row_is_changed(the_town, model):
    row, table = row_of(model, the_town.harbour), model._meta.db_table
    for name in columns(model):
        sql = f'UPDATE "{table}" SET "{name}" = "{name}" WHERE id = %s'

        assert "sealed" in refusal(sql, row.pk), name


@written_once
def test_a_sealed_row_is_not_deleted(the_town, model):
    row, table = row_of(model, the_town.harbour), model._meta.db_table

    assert "sealed" in refusal(f'DELETE FROM "{table}" WHERE id = %s', row.pk)
    assert "sealed" in refusal(f'DELETE FROM "{table}"')


@pytest.mark.sqlite_only
@written_once
def test_a_sealed_row_is_not_replaced(the_town, model):
    row, table = row_of(model, the_town.harbour), model._meta.db_table

    assert "sealed" in refusal(f"INSERT OR REPLACE {copy(model)}", row.pk)
    assert "sealed" in refusal(f"REPLACE {copy(model)}", row.pk)
    assert "sealed" in refusal(f'UPDATE OR REPLACE "{table}" SET id = id + 1')


@written_once
def test_a_sealed_row_is_not_changed_on_conflict(the_town, model):
    row, last = row_of(model, the_town.harbour), columns(model)[-1]
    sql = f'INSERT {copy(model)} ON CONFLICT (id) DO UPDATE SET "{last}" = excluded."{last}"'

    assert "sealed" in refusal(sql, row.pk)


@pytest.mark.postgresql_only
@written_once
def test_a_sealed_table_is_not_truncated(the_town, model):
    assert "sealed" in refusal(f'TRUNCATE "{model._meta.db_table}" CASCADE')
    assert "sealed" in refusal('TRUNCATE "people_venue" CASCADE')


@written_once
def test_our_own_code_is_told_clearly(the_town, model):
    row = row_of(model, the_town.harbour)
    rows, field = model._default_manager.filter(pk=row.pk), model._meta.concrete_fields[-1].name
    for wrong in (
        row.save,
        row.delete,
        rows.delete,
        lambda: rows.update(**{field: getattr(row, field)}),
        lambda: model._default_manager.bulk_update([row], [field]),
    ):
        with pytest.raises(SealedError):
            wrong()


def findings(house: Whole) -> set[str]:
    """What the check of the log finds, save that the guards are lifted here."""
    return {reason.code for reason in log.check(house.venue)} - {"guard_missing"}


def other_values(field: Any, value: Any) -> Iterator[object]:
    """Different from what stands there; the second where a constraint refuses the first."""
    if isinstance(field, models.BooleanField):
        yield not value
    elif isinstance(field, models.DateTimeField | models.DateField):
        step = dt.timedelta(days=1) if not isinstance(value, dt.datetime) else dt.timedelta(0, 1)
        yield from (value + step, value - step)
    elif isinstance(field, models.JSONField):
        yield field.get_db_prep_value({"forged": True}, connection)
    elif isinstance(field, models.CharField):
        yield ("x" if not value.startswith("x") else "y") + value[1:]
    else:
        yield from ((value or 0) + 20_000, (value or 0) - 1)


UNSEEN: dict[type[models.Model], list[str]] = {LogEntry: ["id"]}
"""An entry is known by its number; which row of the table holds it says nothing."""


@names
def test_a_change_made_past_the_guards_is_found(the_town, model):
    house, table = the_town.harbour, model._meta.db_table
    row = row_of(model, house)
    assert findings(house) == set()

    unfound = []
    for field in model._meta.concrete_fields:
        with undone():
            guards.lift(connection)
            sql = f'UPDATE "{table}" SET "{field.column}" = %s WHERE id = %s'
            values = other_values(field, field.value_from_object(row))
            forged = next((v for v in values if changed_by(sql, v, row.pk)), None)
            assert forged is not None, f"no way to forge {field.column}"
            if not findings(house):
                unfound.append(field.column)

    assert unfound == UNSEEN.get(model, [])


def changed_by(sql: str, value: object, pk: object) -> bool:
    """Whether the database lets it through, its own constraints being still there."""
    try:
        with transaction.atomic():
            return run(sql, value, pk) == 1
    except IntegrityError:
        return False


@names
def test_a_row_deleted_past_the_guards_is_found(the_town, model):
    house, row = the_town.harbour, row_of(model, the_town.harbour)
    head = log.head(house.venue)
    with undone():
        guards.lift(connection)
        run(f'DELETE FROM "{model._meta.db_table}" WHERE id = %s', row.pk)

        assert {r.code for r in log.check(house.venue, head)} - {"guard_missing"}


def test_there_are_links_to_hold_to_it():
    assert len(LINKS) > 40


@pytest.mark.parametrize(
    ("model", "field"), LINKS, ids=[f"{m._meta.label}.{f.name}" for m, f in LINKS]
)
def test_a_link_to_another_house_or_to_nowhere_is_refused(the_town, model, field):
    row = row_of(model, the_town.harbour)
    strange = row_of(field.related_model, the_town.anchor)
    for target in (strange.pk, NOWHERE):
        sql = f"INSERT {copy(model, id=str(NOWHERE), **{field.column: '%s'})}"
        assert "same venue" in refusal(sql, target, row.pk)
        if not issubclass(model, AppendOnlyModel):
            sql = f'UPDATE "{model._meta.db_table}" SET "{field.column}" = %s WHERE id = %s'
            assert "same venue" in refusal(sql, target, row.pk)


@pytest.mark.parametrize("model", IN_A_HOUSE, ids=lambda model: model._meta.label)
def test_a_row_of_this_house_with_its_own_links_is_not_called_strange(the_town, model):
    """Else the refusals above would say nothing. A copy may still break a unique constraint."""
    row = row_of(model, the_town.harbour)

    assert "same venue" not in refusal(f"INSERT {copy(model, id=str(NOWHERE))}", row.pk)


@pytest.mark.parametrize("model", IN_A_HOUSE, ids=lambda model: model._meta.label)
def test_a_row_never_moves_to_another_house(the_town, model):
    row, there = row_of(model, the_town.harbour), the_town.anchor.venue.pk
    sql = f'UPDATE "{model._meta.db_table}" SET venue_id = %s WHERE id = %s'

    assert "house" in refusal(sql, there, row.pk) or "sealed" in refusal(sql, there, row.pk)
