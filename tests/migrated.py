"""A database with every migration applied takes ten seconds to make and is the same each time: the
next run of the tests begins with a copy. It is made anew whenever a line of the program differs.
A test that really writes into its database leaves a copy behind it, too."""

from __future__ import annotations

import hashlib
import os
import sqlite3
from contextlib import closing
from pathlib import Path

import django
from django.db.backends.base.base import BaseDatabaseWrapper

ROOT = Path(__file__).parent.parent
FOLDER = ROOT / ".pytest_cache" / "migrated"
APPS = ("barcourse", "recipes", "assessments", "papers")


def template() -> Path:
    """Where the copy of this very program lies, if there is one."""
    print_ = hashlib.sha256(f"{django.__version__} {sqlite3.sqlite_version}".encode())
    for source in sorted(path for app in APPS for path in (ROOT / app).rglob("*.py")):
        print_.update(str(source.relative_to(ROOT)).encode() + source.read_bytes())
    return FOLDER / f"{print_.hexdigest()[:32]}.sqlite3"


def copy(from_: Path, to: Path) -> None:
    """Whole or not at all, whoever else does the same."""
    to.parent.mkdir(parents=True, exist_ok=True)
    half = to.with_suffix(f".{os.getpid()}")
    with closing(sqlite3.connect(from_)) as source, closing(sqlite3.connect(half)) as target:
        source.backup(target)
    half.replace(to)


def again(connection: BaseDatabaseWrapper, kept: Path) -> None:
    """The open database is what it was on its first day, whatever has been written into it: tables,
    guards and counters. Emptying a hundred tables and setting their guards takes a second."""
    connection.ensure_connection()
    with closing(sqlite3.connect(kept)) as source:
        source.backup(connection.connection)


def keep(database: Path) -> None:
    """For the next run; those of other programs go."""
    copy(database, template())
    for older in set(FOLDER.glob("*.sqlite3")) - {template()}:
        older.unlink(missing_ok=True)
