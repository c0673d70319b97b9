"""A database with every migration applied takes ten seconds to make and is the same each time: the
next run of the tests begins with a copy. It is made anew whenever a line of the program differs."""

from __future__ import annotations

import hashlib
import os
import sqlite3
from contextlib import closing
from pathlib import Path

import django

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


def keep(database: Path) -> None:
    """For the next run; those of other programs go."""
    copy(database, template())
    for older in set(FOLDER.glob("*.sqlite3")) - {template()}:
        older.unlink(missing_ok=True)
