"""A program of its own, on the database of DATABASE_URL: `python -m tests.released.old_house`

    restore FILE    puts a released house into an empty database, as that release left it
    count           how many rows each table of its own holds, as JSON
    visit           opens every page that needs no more than a house, as its owner and as
                    one of its trainees, and tells as JSON what was answered, by house and role

On SQLite the file is the house itself. On PostgreSQL the migrations of that release are run and
the rows copied into them, with triggers off as a restored backup has them.
"""

from __future__ import annotations

import json
import lzma
import os
import sqlite3
import sys
import tempfile
from pathlib import Path
from typing import Any

os.environ["DJANGO_SETTINGS_MODULE"] = "tests.settings"
OURS = ("people", "recipes", "assessments", "papers")
RELEASED = "released"
AT_A_TIME = 500


def restore(file: str) -> dict[str, str]:
    from django.db import connection

    unpacked = lzma.decompress(Path(file).read_bytes())
    if connection.vendor == "sqlite":
        Path(connection.settings_dict["NAME"]).write_bytes(unpacked)
        return {"restored": file}
    with tempfile.TemporaryDirectory() as folder:
        kept = Path(folder) / "house.sqlite3"
        kept.write_bytes(unpacked)
        _copy(kept)
    return {"restored": file}


def _copy(kept: Path) -> None:
    """Every row, with the models of that release on both sides."""
    from django.core.management.color import no_style
    from django.db import connection, connections, transaction
    from django.db.migrations.executor import MigrationExecutor

    connections.databases[RELEASED] = {
        **connections["default"].settings_dict,
        "ENGINE": "django.db.backends.sqlite3", "NAME": str(kept), "OPTIONS": {},
    }  # fmt: skip
    executor = MigrationExecutor(connection)
    last = _newest_of(kept, executor.loader.graph)
    state = executor.migrate(last)
    models = [
        model
        for model in state.apps.get_models(include_auto_created=True)
        if model._meta.app_label in OURS
    ]
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("SET LOCAL session_replication_role = replica")
        for model in models:
            model._base_manager.all().delete()
            rows = list(model._base_manager.using(RELEASED).all())
            model._base_manager.using("default").bulk_create(rows, batch_size=AT_A_TIME)
        for statement in connection.ops.sequence_reset_sql(no_style(), models):
            cursor.execute(statement)
    connections[RELEASED].close()


def _newest_of(kept: Path, graph: Any) -> list[tuple[str, str]]:
    with sqlite3.connect(kept) as opened:
        done = set(opened.execute("SELECT app, name FROM django_migrations").fetchall())
    opened.close()
    return [
        node
        for node in sorted(done)
        if not any(child.key in done for child in graph.node_map[node].children)
    ]


def count() -> dict[str, int]:
    from django.db import connection

    with connection.cursor() as cursor:
        tables = [
            table
            for table in connection.introspection.table_names(cursor)
            if table.startswith(tuple(f"{app}_" for app in OURS))
        ]
        found = {}
        for table in sorted(tables):
            cursor.execute(f'SELECT COUNT(*) FROM "{table}"')
            found[table] = cursor.fetchone()[0]
    return found


def visit() -> dict[str, dict[str, int]]:
    from django.test import Client
    from django.urls import reverse

    from barcourse.people.models import Membership
    from tests.pages import pages

    plain = [page.name for page in pages() if page.parts == ("house",)]
    found: dict[str, dict[str, int]] = {}
    here = Membership.objects.filter(left_day=None, role__in=("owner", "trainee"))
    for member in here.select_related("venue", "person").order_by("venue__slug", "role", "pk"):
        key = f"{member.venue.slug} {member.role}"
        if key in found:
            continue
        browser = Client(SERVER_NAME="127.0.0.1")
        browser.force_login(member.person)
        found[key] = {
            name: browser.get(reverse(name, kwargs={"house": member.venue.slug})).status_code
            for name in plain
        }
    return found


if __name__ == "__main__":
    import django

    django.setup()
    answer = {"restore": restore, "count": count, "visit": visit}[sys.argv[1]](*sys.argv[2:])
    sys.stdout.write(json.dumps(answer))
