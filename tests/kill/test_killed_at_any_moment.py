"""The server is killed at any moment, with four trainers signing off at once: what was answered is
on record, nothing stands there twice, and the chain holds."""

from __future__ import annotations

import json
import os
import random
import socket
import statistics
import subprocess
import sys
import time
import uuid
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from tests.kill.served_house import TRAINERS
from tests.kill.writers import Writer

ROOT = Path(__file__).parent.parent.parent
KILLS = 50
SEED = 20260307
DRINKS = ("madras", "bay-breeze", "cuba-libre", "sea-breeze")
LONGEST_WAIT_S = 10
"""Where nothing is killed. Generous: what it really takes stands in the bench."""


@pytest.fixture
def database(tmp_path: Path) -> Iterator[str]:
    """An empty database of its own, on the kind that the other tests run on."""
    url = os.environ.get("DATABASE_URL", "")
    if not url.startswith("postgres"):
        yield f"sqlite:///{tmp_path}/killed.sqlite3"
        return
    import psycopg

    name = f"barcourse_killed_{uuid.uuid4().hex[:8]}"
    with psycopg.connect(url, autocommit=True) as server:
        server.execute(f'CREATE DATABASE "{name}"')
        yield urlsplit(url)._replace(path=f"/{name}").geturl()
        server.execute(f'DROP DATABASE "{name}" WITH (FORCE)')


class House:
    """The program that serves it; see there what it can be told."""

    def __init__(self, database: str) -> None:
        with socket.create_server(("127.0.0.1", 0)) as free:
            self.port: int = free.getsockname()[1]
        self.program = subprocess.Popen(
            [sys.executable, "-m", "tests.kill.served_house", str(self.port)],
            cwd=ROOT, env={**os.environ, "DATABASE_URL": database}, text=True,
            stdin=subprocess.PIPE, stdout=subprocess.PIPE,
        )  # fmt: skip
        self.people = self._answer()

    def tell(self, word: str) -> dict:
        self.program.stdin.write(f"{word}\n")
        self.program.stdin.flush()
        return self._answer()

    def _answer(self) -> dict:
        line = self.program.stdout.readline()
        assert line, f"the program of the house ended with {self.program.wait()}"
        return json.loads(line)

    def close(self) -> None:
        self.program.stdin.close()
        self.program.stdout.close()
        self.program.wait(timeout=30)


@pytest.fixture
def house(database: str) -> Iterator[House]:
    house = House(database)
    house.tell("open")
    yield house
    house.tell("kill")
    house.close()


@pytest.fixture
def writers(house: House) -> list[Writer]:
    hires = house.people["hires"]
    four = [
        Writer(
            sign_in=name, port=house.port, slug=house.people["slug"], hire=hires[n % len(hires)],
            drink=drink, first=10 + 890 * n,
        )
        for n, (name, drink) in enumerate(zip(TRAINERS, DRINKS, strict=True))
    ]  # fmt: skip
    for writer in four:
        writer.come_in()
        writer.start()
    return four


def signed(writers: list[Writer]) -> int:
    return sum(len(writer.signed) for writer in writers)


def wait_for_more(writers: list[Writer], than: int) -> None:
    give_up = time.monotonic() + 60
    while signed(writers) <= than:
        fall_over(writers)
        assert time.monotonic() < give_up, "nobody gets an answer any more"
        time.sleep(0.005)


def fall_over(writers: list[Writer]) -> None:
    for writer in writers:
        if writer.fault:
            raise writer.fault


def send_home(writers: list[Writer]) -> None:
    for writer in writers:
        writer.enough.set()
    for writer in writers:
        writer.join(timeout=90)
    fall_over(writers)
    assert not any(writer.is_alive() for writer in writers)


def test_killed_at_any_moment(house, writers, capsys):
    chance = random.Random(SEED)
    wait_for_more(writers, 20)
    unhurried = [seconds for writer in writers for seconds in writer.waited]
    for _kill in range(KILLS):
        wait_for_more(writers, signed(writers))  # it is up, and under load
        time.sleep(chance.uniform(0, 0.4))
        killed = house.tell("kill")
        assert killed["processes"] >= 2
        house.tell("open")
    send_home(writers)
    found = house.tell("report")

    with capsys.disabled():
        sys.stdout.write(f"\n{figures(writers, found, unhurried)}\n")
    told = {n: code for writer in writers for n, code in writer.acknowledged.items()}
    stored = Counter((seconds, code) for code, seconds, _at in found["builds"])
    assert stored == Counter(told.items())
    assert Counter(found["signed"]) == Counter(c for w in writers for c in w.signed)
    kinds = Counter(found["entries"])
    assert (kinds["build_watched"], kinds["signed_off"]) == (len(told), len(found["signed"]))
    assert int(found["head"].split(":")[0]) == len(found["entries"])
    assert (found["findings"], found["sound"]) == ([], "ok")
    assert sum(writer.cut_off for writer in writers) >= KILLS
    assert max(unhurried) < LONGEST_WAIT_S


def figures(writers: list[Writer], found: dict, unhurried: list[float]) -> str:
    """What came of it, to be read beside the dots."""
    at = {str(seconds): moment for _code, seconds, moment in found["builds"]}
    kept = sum(
        at[number] < again
        for writer in writers
        for number, again in writer.sent_again_at.items()
        if number in at
    )
    return (
        f"{found['database']}: {KILLS} kills, {len(found['signed'])} sign-offs, "
        f"{sum(w.cut_off for w in writers)} requests cut off, "
        f"{kept} of them on record before they were answered; four at once wait "
        f"{statistics.median(unhurried):.2f} s, at most {max(unhurried):.2f} s"
    )
