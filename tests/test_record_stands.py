"""The record against somebody who never asks this program: a raw hand on the database's own file
or server. And what a house does honestly, void, revocation, erasure, leaves it whole."""

import datetime as dt
import io
import json
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from django.core.management import call_command
from django.db import connection

from assessments import record
from assessments.models import SignOff, Void, WatchedBuild
from barcourse.papers import issue
from barcourse.people import enrol, log
from barcourse.people.models import LogEntry
from tests.factories import assessments as make
from tests.papers.ready import ISSUED, make_ready, station

SIGNED = dt.datetime(2026, 3, 7, 15, 11, 42, 123456, tzinfo=dt.UTC)
AS_STORED = b"2026-03-07 15:11:42.123456"
"""How SQLite's file holds that moment, and nothing else in it."""


@pytest.fixture
def signed(transactional_db, tamsin, nils):
    """A sign-off that is committed, so that others who open the database see it too."""
    return make.sign_off(tamsin, nils, at=SIGNED)


def found(venue, head=None):
    return {reason.code for reason in log.check(venue, head)}


def the_file():
    connection.close()
    return Path(connection.settings_dict["NAME"])


def with_a_tool_of_their_own(*statements):
    """SQLite opened by another program: none of our settings, triggers not recursive."""
    with closing(sqlite3.connect(the_file())) as other, other:
        for sql in statements:
            other.execute(sql)


TRIGGERS = "SELECT name FROM sqlite_master WHERE type='trigger' AND tbl_name='assessments_signoff'"


def asked(sql):
    with closing(sqlite3.connect(the_file())) as other:
        return [value for (value,) in other.execute(sql)]


@pytest.mark.sqlite_only
def test_bytes_changed_anywhere_in_the_file_are_found(signed):
    assert found(signed.venue) == set()
    file = the_file()
    before, places, seen = file.read_bytes(), 0, 0
    place = before.find(AS_STORED)
    while place >= 0:
        file.write_bytes(before[:place] + b"2025" + before[place + 4 :])
        if found(signed.venue) & {"row_changed", "log_entry_changed"}:
            seen += 1
        else:  # bytes that SQLite left behind in a page and no row reads
            assert moments_that_are_read() == {SIGNED}
        connection.close()
        place, places = before.find(AS_STORED, place + 1), places + 1
    assert seen >= 4  # the build, its sign-off, and their two entries

    file.write_bytes(before.replace(AS_STORED, b"2026-03-06 15:11:42.123456"))
    assert found(signed.venue) == {"row_changed", "log_entry_changed"}


def moments_that_are_read():
    entries = LogEntry.objects.filter(row_table__startswith="assessments_")
    rows = (SignOff.objects.all(), WatchedBuild.objects.all(), entries)
    return {row.at for every in rows for row in every}


def a_copy(verb, **values):
    """SQL for a copy of the sign-off with some columns changed."""
    columns = [field.column for field in SignOff._meta.concrete_fields]
    into = ", ".join(f'"{name}"' for name in columns)
    wanted = ", ".join(values.get(name, f'"{name}"') for name in columns)
    return f"{verb} INTO assessments_signoff ({into}) SELECT {wanted} FROM assessments_signoff"


@pytest.mark.sqlite_only
def test_a_program_of_ones_own_meets_the_guards_or_is_found(signed, pia):
    second = make.watch(pia, signed.hire, "bay-breeze", at=SIGNED)
    for sql in ("UPDATE assessments_signoff SET seconds = 1", "DELETE FROM assessments_signoff"):
        with pytest.raises(sqlite3.IntegrityError, match="sealed"):
            with_a_tool_of_their_own(sql)
    [table] = asked("SELECT sql FROM sqlite_master WHERE name = 'assessments_void'")
    no_guards = [f'DROP TRIGGER "{name}"' for name in asked(TRIGGERS)]
    attacks = [
        ([a_copy("INSERT OR REPLACE", seconds="7")], {"row_changed"}),
        ([a_copy("INSERT", id="NULL", watched_id=str(second.pk))], {"row_unlogged"}),
        (
            [*no_guards, "UPDATE assessments_signoff SET seconds = 7"],
            {"row_changed", "guard_missing"},
        ),
        ([*no_guards, "DELETE FROM assessments_signoff"], {"row_missing", "guard_missing"}),
        (["DROP TABLE assessments_void", table], {"guard_missing"}),
    ]
    file = the_file()
    before = file.read_bytes()
    for statements, codes in attacks:
        file.write_bytes(before)
        with_a_tool_of_their_own(*statements)

        assert found(signed.venue) == codes, statements[-1]


@pytest.mark.postgresql_only
@pytest.mark.parametrize(
    ("sql", "code"),
    [
        ("UPDATE assessments_signoff SET seconds = 7", "row_changed"),
        ("DELETE FROM assessments_signoff", "row_missing"),
        ("TRUNCATE assessments_signoff", "row_missing"),
    ],
)
def test_a_superuser_who_has_the_server_skip_triggers_is_found(signed, sql, code):
    with connection.cursor() as cursor:
        if not sql.startswith("TRUNCATE"):
            cursor.execute("SET session_replication_role = replica")
        else:
            cursor.execute("ALTER TABLE assessments_signoff DISABLE TRIGGER USER")
        cursor.execute(sql)
        cursor.execute("SET session_replication_role = DEFAULT")

    assert code in found(signed.venue)


def check_log(*args):
    """What the command says, and with which code it ends."""
    out = io.StringIO()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("sys.stdout", out)
        try:
            call_command("check_log", "--json", *args)
        except SystemExit as ended:
            return ended.code, json.loads(out.getvalue())
    return 0, json.loads(out.getvalue())


def test_void_revocation_and_erasure_leave_the_chain_whole(odalys, marek, tamsin, pia, nils, house):
    """One hire's whole stay, checked against the head that their certificate carries."""
    make_ready(nils, tamsin)
    beer = station(nils)
    certificate = issue.issue_certificate(by=marek, hire=nils, station=beer, at=ISSUED)
    printed = f"{certificate.log_number}:{certificate.log_hash}"
    at = ISSUED + dt.timedelta(hours=1)
    watched = WatchedBuild.objects.of(nils).newest_first()[0]
    record.void_build(by=pia, watched=watched, reason="It was Nora's", at=at)
    issue.revoke(by=marek, certificate=certificate, reason="A wrong name on it", at=at)
    enrol.mark_left(by=odalys, membership=nils, at=at)
    enrol.erase_person(by=odalys, membership=nils, at=at)
    enrol.mark_left(by=odalys, membership=tamsin, at=at)

    code, answer = check_log("--head", printed)

    assert (code, answer["whole"], answer["findings"]) == (0, True, [])
    assert Void.objects.count() == 1
    nils.person.refresh_from_db()
    assert nils.person.name == ""
    assert log.head(house).number > certificate.log_number + 4
