"""How the database is opened. The journal rule: SQLite 3.51.3 release notes (write-ahead log)."""

import sqlite3
from pathlib import Path

import pytest
from django.db import connection, transaction

from barcourse import database, sqlite
from barcourse.people import guards
from barcourse.people.models import Venue
from tests import migrated
from tests.factories import people as make

FILE = Path("house.sqlite3")


@pytest.mark.parametrize(
    ("version", "mode"),
    [
        ((3, 7, 0), "TRUNCATE"),
        ((3, 40, 1), "TRUNCATE"),
        ((3, 51, 2), "TRUNCATE"),
        ((3, 51, 3), "WAL"),
        ((3, 52, 0), "WAL"),
        ((4, 0, 0), "WAL"),
    ],
)
def test_the_write_ahead_log_is_used_only_where_it_is_sound(version, mode):
    assert sqlite.journal_mode(version) == mode


@pytest.mark.parametrize("version", [(3, 40, 1), (3, 51, 3)])
def test_both_journals_work_with_the_options_we_set(tmp_path, version):
    with sqlite3.connect(tmp_path / "house.sqlite3") as opened:
        for command in sqlite.options(version)["init_command"].split(";"):
            opened.execute(command)
        opened.execute("CREATE TABLE till (cents INTEGER)")
        opened.execute("INSERT INTO till VALUES (100)")

    assert pragma(opened, "journal_mode") == sqlite.journal_mode(version).lower()
    assert opened.execute("SELECT cents FROM till").fetchall() == [(100,)]
    opened.close()


def pragma(opened, name):
    return opened.execute(f"PRAGMA {name}").fetchone()[0]


@pytest.mark.sqlite_only
@pytest.mark.django_db(transaction=True)
def test_the_connection_that_pages_use_is_opened_that_way():
    expected = sqlite.journal_mode(sqlite3.sqlite_version_info[:3]).lower()

    with connection.cursor() as cursor:
        values = {
            name: pragma(cursor, name)
            for name in (
                "journal_mode", "synchronous", "recursive_triggers", "foreign_keys", "busy_timeout",
            )
        }  # fmt: skip

    full, on, twenty_seconds = 2, 1, 20_000
    assert values == {
        "journal_mode": expected,
        "synchronous": full,
        "recursive_triggers": on,
        "foreign_keys": on,
        "busy_timeout": twenty_seconds,
    }


@pytest.mark.sqlite_only
@pytest.mark.django_db(transaction=True)
def test_a_transaction_takes_the_write_lock_at_once():
    path = connection.settings_dict["NAME"]

    with transaction.atomic(), sqlite3.connect(path, timeout=0) as second:
        connection.ensure_connection()
        with pytest.raises(sqlite3.OperationalError, match="locked"):
            second.execute("BEGIN IMMEDIATE")
    second.close()


@pytest.mark.sqlite_only
@pytest.mark.django_db(transaction=True)
def test_what_a_test_really_wrote_is_gone_and_the_guards_stand():
    make.open_house()
    with connection.cursor() as cursor:
        cursor.execute("CREATE TABLE till (cents INTEGER)")
    guards.lift(connection)

    migrated.again(connection, migrated.template())

    assert Venue.objects.count() == 0
    assert "till" not in connection.introspection.table_names()
    assert guards.missing_guards(connection) == []
    assert make.open_house().venue_id == 1, "the counters begin anew"


def test_without_an_address_it_is_a_sqlite_file():
    settings = database.connection("", default_file=FILE)

    assert (settings["ENGINE"], settings["NAME"]) == (database.SQLITE, FILE)
    assert settings["OPTIONS"]["transaction_mode"] == "IMMEDIATE"


def test_a_sqlite_address_gets_the_same_options():
    settings = database.connection("sqlite:////srv/bar.sqlite3", default_file=FILE)

    assert settings["NAME"] == "/srv/bar.sqlite3"
    assert settings["OPTIONS"] == sqlite.options()


def test_postgresql_keeps_its_connections_and_checks_their_health():
    settings = database.connection("postgres://bar@db.example/bar", default_file=FILE)

    assert settings["ENGINE"] == "django.db.backends.postgresql"
    assert (settings["HOST"], settings["USER"]) == ("db.example", "bar")
    assert settings["CONN_MAX_AGE"] is None
    assert settings["CONN_HEALTH_CHECKS"] is True


@pytest.mark.postgresql_only
@pytest.mark.django_db
def test_these_tests_really_run_on_postgresql():
    with connection.cursor() as cursor:
        cursor.execute("SHOW server_version_num")
        assert int(cursor.fetchone()[0]) >= 130000
