"""A house that an earlier release filled goes on here: every row, the sealed log and its pages."""

import json
import lzma
import os
import sqlite3
import subprocess
import sys
import uuid
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest

ROOT = Path(__file__).parent.parent
RELEASED = sorted((ROOT / "tests" / "data" / "released").glob("*.sqlite3.xz"))
NOT_OURS = ("auth_", "django_")
EMPTY = {"people_sentform", "people_signintry"}
"""Kept for minutes only, so no release leaves any."""


@pytest.fixture
def database(tmp_path: Path) -> Iterator[str]:
    """An empty database of its own, on the kind that the other tests run on."""
    url = os.environ.get("DATABASE_URL", "")
    if not url.startswith("postgres"):
        yield f"sqlite:///{tmp_path}/house.sqlite3"
        return
    import psycopg

    name = f"barcourse_upgraded_{uuid.uuid4().hex[:8]}"
    with psycopg.connect(url, autocommit=True) as server:
        server.execute(f'CREATE DATABASE "{name}"')
        yield urlsplit(url)._replace(path=f"/{name}").geturl()
        server.execute(f'DROP DATABASE "{name}" WITH (FORCE)')


def run(database: str, *words: str) -> str:
    done = subprocess.run(
        [sys.executable, *words], cwd=ROOT, capture_output=True, text=True, check=False,
        env={**os.environ, "BARCOURSE_DEMO": "1", "DATABASE_URL": database},
    )  # fmt: skip
    assert done.returncode == 0, f"{words}: {done.stdout[-2000:]}\n{done.stderr[-4000:]}"
    return done.stdout


def old_house(database: str, *words: str) -> dict:
    answer: dict = json.loads(run(database, "-m", "tests.released.old_house", *words))
    return answer


def kept(file: Path, tmp_path: Path, asked: str) -> list[tuple]:
    """What the file itself answers, read without any of our code."""
    unpacked = tmp_path / "kept.sqlite3"
    unpacked.write_bytes(lzma.decompress(file.read_bytes()))
    opened = sqlite3.connect(unpacked)
    rows = opened.execute(asked).fetchall()
    opened.close()
    return rows


def rows_kept(file: Path, tmp_path: Path) -> dict[str, int]:
    tables = kept(file, tmp_path, "SELECT name FROM sqlite_master WHERE type = 'table'")
    ours = [name for (name,) in tables if not name.startswith((*NOT_OURS, "sqlite_"))]
    return {name: kept(file, tmp_path, f'SELECT COUNT(*) FROM "{name}"')[0][0] for name in ours}


def heads_kept(file: Path, tmp_path: Path) -> dict[str, str]:
    """The head of each house's log, as a paper printed before the upgrade has it."""
    asked = """SELECT slug, number, hash FROM people_venue JOIN people_logentry
        ON venue_id = people_venue.id GROUP BY slug HAVING number = MAX(number)"""
    return {slug: f"{number}:{digest}" for slug, number, digest in kept(file, tmp_path, asked)}


def test_a_release_is_kept():
    assert RELEASED


@pytest.mark.parametrize("file", RELEASED, ids=lambda file: file.name)
def test_what_a_release_left_is_all_there_and_opens(file, database, tmp_path):
    before = rows_kept(file, tmp_path)
    assert {name for name, rows in before.items() if not rows} <= EMPTY
    old_house(database, "restore", str(file))
    run(database, "manage.py", "migrate", "--verbosity", "0")

    after = old_house(database, "count")
    assert {name: after.get(name) for name in before} == before

    run(database, "manage.py", "check", "--database", "default", "--fail-level", "WARNING")
    heads = heads_kept(file, tmp_path)
    assert len(heads) > 1
    for slug, head in heads.items():
        run(database, "manage.py", "check_log", "--venue", slug, "--head", head)

    opened = old_house(database, "visit")
    assert {key.split()[0] for key in opened} == set(heads)
    for who, answers in opened.items():
        assert set(answers.values()) <= {200, 302, 403, 405}, (who, answers)
        if who.endswith("owner"):
            assert list(answers.values()).count(200) > len(answers) / 2
