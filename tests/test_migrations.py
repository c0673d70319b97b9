"""An empty database becomes a house's by one command, with every guard in force."""

import os
import re
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest
from django.apps import apps
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from barcourse.people import guards, guards_sqlite

ROOT = Path(__file__).parent.parent
OURS = [app.label for app in apps.get_app_configs() if (Path(app.path) / "migrations").is_dir()]
OURS = [label for label in OURS if ROOT in Path(apps.get_app_config(label).path).parents]
OURS = [label for label in OURS if ".venv" not in apps.get_app_config(label).path]


def manage(database: Path, *command: str) -> subprocess.CompletedProcess[str]:
    own = {"BARCOURSE_DEMO": "1", "DATABASE_URL": f"sqlite:///{database}"}
    return subprocess.run(
        [sys.executable, "manage.py", *command],
        cwd=ROOT, env={**os.environ, **own}, capture_output=True, text=True, check=False,
    )  # fmt: skip


def triggers(database: Path) -> dict[str, str]:
    with sqlite3.connect(database) as opened:
        found = opened.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
        return dict(found.fetchall())


def wanted() -> dict[str, str]:
    return {
        name: sql
        for guard in guards.wanted_guards()
        for name, sql in guards_sqlite._triggers(guard).items()
    }


@pytest.fixture(scope="module")
def migrated(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A file that one `migrate` made out of nothing."""
    database = tmp_path_factory.mktemp("from-zero") / "house.sqlite3"
    run = manage(database, "migrate", "--verbosity", "0")
    assert (run.returncode, run.stderr) == (0, "")
    return database


def test_every_app_with_tables_has_its_migrations():
    with_tables = {model._meta.app_label for model in apps.get_models()}

    assert {"people", "recipes", "assessments", "papers"} == set(OURS) <= with_tables


def test_from_nothing_every_table_and_every_guard_comes(migrated):
    with sqlite3.connect(migrated) as opened:
        rows = opened.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()

    assert {model._meta.db_table for model in apps.get_models()} <= {name for (name,) in rows}
    assert triggers(migrated) == wanted()


def test_once_more_changes_nothing(migrated):
    before = triggers(migrated)
    run = manage(migrated, "migrate")

    assert (run.returncode, run.stderr) == (0, "")
    assert "No migrations to apply." in run.stdout
    assert triggers(migrated) == before


def test_a_guard_that_was_taken_away_is_missed_at_start_and_comes_back_by_migrating(migrated):
    name = next(iter(wanted()))
    with sqlite3.connect(migrated) as opened:
        opened.execute(f'DROP TRIGGER "{name}"')

    missed = manage(migrated, "check", "--database", "default")
    assert missed.returncode == 1
    assert name in missed.stderr

    assert manage(migrated, "migrate", "--verbosity", "0").returncode == 0
    assert triggers(migrated) == wanted()
    assert manage(migrated, "check", "--database", "default").returncode == 0


@pytest.mark.django_db
def test_the_database_of_these_tests_was_made_by_the_migrations():
    """So what is tested on PostgreSQL too is what the migrations make there."""
    executor = MigrationExecutor(connection)

    assert executor.migration_plan(executor.loader.graph.leaf_nodes()) == []
    assert guards.missing_guards(connection) == []


@pytest.mark.parametrize("label", OURS)
def test_migrations_are_numbered_in_one_line(label):
    folder = Path(apps.get_app_config(label).path) / "migrations"
    numbers = sorted(path.name[:4] for path in folder.glob("[0-9]*.py"))

    assert numbers == [f"{number:04}" for number in range(1, len(numbers) + 1)]
    assert all(re.fullmatch(r"\d{4}_[a-z0-9_]+\.py", path.name) for path in folder.glob("0*.py"))
