"""The database refuses, whatever program writes to it: by raw SQL, on SQLite and PostgreSQL."""

import pytest
from django.apps import apps
from django.db import IntegrityError, connection, models, transaction
from django.test.utils import isolate_apps

from barcourse.people import guards, log
from barcourse.people.checks import guards_are_in_force
from barcourse.people.models import Invitation, LogEntry, Membership, PersonalText, Venue
from barcourse.people.sealed import AppendOnlyModel, SealedError
from tests.cast import tampering
from tests.factories import people as make


def run(sql, *params):
    with connection.cursor() as cursor:
        cursor.execute(sql, params)
        return cursor.rowcount


def refuses(sql, *params, because="sealed"):
    with pytest.raises(IntegrityError, match=because), transaction.atomic():
        run(sql, *params)
    return True


REST = (
    "at, by_code, subject_code, row_table, row_id, row_digest, text_code, text_digest, facts,"
    " previous, hash"
)
FORGED = "INTO people_logentry (id, venue_id, number, kind, {rest}) {row}".format(
    rest=REST,
    row=f"SELECT id, venue_id, number, 'forged', {REST} FROM people_logentry WHERE number = 1",
)


def test_a_sealed_row_is_neither_changed_nor_deleted(odalys):
    assert refuses("UPDATE people_logentry SET kind = 'forged'")
    assert refuses("UPDATE people_logentry SET kind = kind")
    assert refuses("DELETE FROM people_logentry")
    assert refuses("DELETE FROM people_logentry WHERE number = 1")


@pytest.mark.sqlite_only
def test_a_sealed_row_is_not_replaced(odalys):
    assert refuses(f"INSERT OR REPLACE {FORGED}")
    assert refuses("UPDATE OR REPLACE people_logentry SET number = 1 WHERE number = 2")


def test_a_sealed_row_is_not_changed_on_conflict(odalys):
    assert refuses(f"INSERT {FORGED} ON CONFLICT (id) DO UPDATE SET kind = 'forged'")


@pytest.mark.postgresql_only
def test_a_sealed_table_is_not_truncated(odalys):
    connection.check_constraints()  # nothing may be pending on a table that is truncated

    assert refuses("TRUNCATE people_logentry")
    assert refuses("TRUNCATE people_venue CASCADE")


def test_a_new_sealed_row_may_come(odalys):
    before = LogEntry.objects.count()

    make.invite(odalys)

    assert LogEntry.objects.count() == before + 1


def test_our_own_code_gets_a_clear_error(odalys):
    entry = LogEntry.objects.first()
    rows = LogEntry.objects.all()

    for wrong in (
        entry.save,
        entry.delete,
        rows.delete,
        lambda: rows.update(kind="forged"),
        lambda: rows.bulk_update([entry], ["kind"]),
    ):
        with pytest.raises(SealedError, match=r"people\.LogEntry is sealed"):
            wrong()


def test_every_sealed_table_and_every_table_of_a_house_has_its_guard():
    guarded = {(guard.table, guard.name.split("_")[1]) for guard in guards.wanted_guards()}
    for model in apps.get_models():
        table = model._meta.db_table
        if issubclass(model, AppendOnlyModel):
            assert (table, "sealed") in guarded
        elif any(field.name == "venue" for field in model._meta.concrete_fields):
            assert (table, "stays") in guarded
    assert ("people_invitation", "same") in guarded


@pytest.mark.parametrize(
    ("table", "column"),
    [
        ("people_invitation", "invited_by_id"),
        ("people_invitation", "used_by_id"),
        ("people_personaltext", "about_id"),
    ],
)
def test_a_link_across_houses_is_refused(odalys, ravna, nils, table, column):
    log.keep_text(about=nils, text="steady")
    when = ", used_at = expires_at" if column == "used_by_id" else ""

    sql = f"UPDATE {table} SET {column} = %s{when}"
    assert refuses(sql, ravna.pk, because="same venue")
    assert run(sql, odalys.pk) > 0


def test_a_row_that_comes_with_a_link_across_houses_is_refused(odalys, ravna):
    with pytest.raises(IntegrityError, match="same venue"), transaction.atomic():
        PersonalText.objects.create(venue=ravna.venue, about=odalys, text="t", salt="s")
    with pytest.raises(IntegrityError, match="same venue"), transaction.atomic():
        Invitation.objects.create(
            venue=ravna.venue,
            name="Nils",
            role="trainee",
            token_hash="x",
            expires_at=make.OPENED,
            invited_by=odalys,
        )


def test_a_link_to_nothing_is_refused_at_once(odalys):
    with pytest.raises(IntegrityError, match="same venue"), transaction.atomic():
        PersonalText.objects.create(venue=odalys.venue, about_id=10**9, text="t", salt="s")


def test_a_row_stays_in_its_house(odalys, ravna, nils):
    with pytest.raises(IntegrityError, match="same venue"), transaction.atomic():
        Membership.objects.filter(pk=nils.pk).update(venue=ravna.venue)
    assert refuses("UPDATE people_station SET venue_id = %s", ravna.venue.pk, because="same venue")


@isolate_apps("barcourse.people")
def test_a_linking_table_is_held_to_it_too(transactional_db):
    class Shelf(models.Model):
        venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")

        class Meta:
            app_label = "people"

    class Bottle(models.Model):
        venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
        shelves = models.ManyToManyField(Shelf, related_name="+")

        class Meta:
            app_label = "people"

    through = Bottle.shelves.through
    with connection.schema_editor() as editor:
        editor.create_model(Shelf)
        editor.create_model(Bottle)
    try:
        guards.set_up(connection, guards.guards_of(through))
        here, there = make.open_house().venue, make.open_house("Pier", owner="Ravna").venue
        bottle, other = Bottle.objects.create(venue=here), Shelf.objects.create(venue=there)
        bottle.shelves.add(Shelf.objects.create(venue=here))

        with pytest.raises(IntegrityError, match="same venue"):
            bottle.shelves.add(other)
    finally:
        guards.lift(connection)
        with connection.schema_editor() as editor:
            for model in (Bottle, Shelf):
                editor.delete_model(model)


def test_all_guards_are_in_force_and_stay_so_when_set_again(odalys):
    assert guards.missing_guards(connection) == []
    assert guards_are_in_force(databases=["default"]) == []
    if connection.vendor == "postgresql":
        connection.check_constraints()

    guards.install(connection)

    assert guards.missing_guards(connection) == []


def test_a_lifted_guard_is_missed_by_the_check_at_start(guards_lifted):
    names = set(guards.missing_guards(connection))

    assert any("sealed_people_logentry" in name for name in names)
    assert {error.id for error in guards_are_in_force(databases=["default"])} == {"people.E002"}
    assert len(guards_are_in_force(databases=["default"])) == len(names)


def test_a_table_that_is_not_there_yet_needs_no_guard(monkeypatch, db):
    monkeypatch.setattr(connection.introspection, "table_names", lambda: ["people_logentry"])

    guarded = {guard.table for guard in guards._with_a_table(connection)}

    assert guarded == {"people_logentry"}
    assert guards.missing_guards(connection) == []


@pytest.mark.sqlite_only
def test_a_guard_of_the_right_name_that_does_nothing_is_missed_on_sqlite(odalys):
    name = "guard_sealed_people_logentry_update"
    run(f'DROP TRIGGER "{name}"')
    run(
        f'CREATE TRIGGER "{name}" BEFORE UPDATE ON "people_logentry"'
        " FOR EACH ROW WHEN 0 BEGIN SELECT RAISE(ABORT, 'sealed'); END"
    )

    assert guards.missing_guards(connection) == [name]


@pytest.mark.sqlite_only
def test_replacing_is_only_refused_with_recursive_triggers_which_are_watched(odalys):
    run("PRAGMA recursive_triggers = OFF")
    try:
        assert guards.missing_guards(connection) == ["recursive_triggers"]
    finally:
        run("PRAGMA recursive_triggers = ON")


@pytest.mark.postgresql_only
@pytest.mark.parametrize(
    "tamper",
    [
        'ALTER TABLE people_logentry DISABLE TRIGGER "guard_sealed_people_logentry_rows"',
        'DROP TRIGGER "guard_sealed_people_logentry_rows" ON people_logentry',
        (
            'CREATE OR REPLACE FUNCTION "guard_sealed_people_logentry"() RETURNS trigger'
            " LANGUAGE plpgsql AS 'BEGIN RETURN NEW; END'"
        ),
    ],
)
def test_a_guard_that_is_off_gone_or_hollow_is_missed_on_postgresql(odalys, tamper):
    connection.check_constraints()

    run(tamper)

    assert "guard_sealed_people_logentry_rows" in guards.missing_guards(connection)


def test_names_fit_into_what_postgresql_keeps_of_them():
    longest = max(len(guard.name) for guard in guards.wanted_guards()) + len("_truncate")

    assert longest <= 63


def test_tampering_leaves_the_guards_as_they_were(odalys):
    with tampering():
        assert run("UPDATE people_logentry SET kind = kind") > 0

    assert guards.missing_guards(connection) == []
    assert refuses("UPDATE people_logentry SET kind = kind")


def test_a_test_with_real_transactions_starts_with_all_guards(transactional_db, odalys):
    assert guards.missing_guards(connection) == []


def test_and_so_does_the_one_after_it_although_sealed_tables_were_emptied(transactional_db):
    assert LogEntry.objects.count() == 0
    assert guards.missing_guards(connection) == []
