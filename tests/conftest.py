"""What holds for every test: no network, no silent skip, and the database it was written for."""

import ipaddress
import os
import random
import secrets
import socket
import zlib
from collections.abc import Collection, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings
from hypothesis import settings as property_tests
from whitenoise.middleware import WhiteNoiseMiddleware

from tests import migrated, replay_factories, unpacked

pytest_plugins = ("tests.cast",)

MARKED_BY_FOLDER = {Path(__file__).parent / name: name for name in ("browser", "kill")}
DATABASE_FIXTURES = {"db", "transactional_db", "live_server", "django_db_setup"}
DATABASE_WORDS = ("subprocess", "DATABASE", "connection", "getfixturevalue", "unblock")
"""A file that has one of these may reach a database though its tests do not ask for one."""
TOWNS = {"test_every_page.py", "test_translations.py"}
"""Each builds whole houses in every process that runs some of it. With two processes each begins
with an eighth of all tests in a row, so when these come first they stay in one."""
NO_SKIPS = os.environ.get("BARCOURSE_NO_SKIPS") == "1"


# A busy machine is no fault of what is tested, and a test that failed once fails again.
property_tests.register_profile("house", deadline=None, derandomize=True)
property_tests.load_profile("house")


class NetworkBlockedError(RuntimeError):
    """A test tried to leave this machine."""


def _refuse_outside(address: Any) -> None:
    """Lets through Unix sockets and loopback; names count as outside, save localhost."""
    host = address[0] if isinstance(address, tuple) else None
    if host in (None, "", "localhost"):
        return
    try:
        outside = not ipaddress.ip_address(host).is_loopback
    except ValueError:
        outside = True
    if outside:
        raise NetworkBlockedError(f"tests stay on this machine; refused {host!r}")


@pytest.fixture(autouse=True, scope="session")
def _network_blocked() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        for name in ("connect", "connect_ex", "sendto"):
            real = getattr(socket.socket, name)

            def guarded(self, *args, _real=real):
                _refuse_outside(args[-1])
                return _real(self, *args)

            patch.setattr(socket.socket, name, guarded)

        look_up = socket.getaddrinfo

        def guarded_look_up(host, *args, **kwargs):
            _refuse_outside((host.decode() if isinstance(host, bytes) else host,))
            return look_up(host, *args, **kwargs)

        patch.setattr(socket, "getaddrinfo", guarded_look_up)
        yield


@pytest.fixture(autouse=True)
def _same_dice(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Seeds drawn by a page (a quiz, a ticket of orders) are the same at every run of a test.

    They follow from the test's name, so tests still differ from one another. Keys and codes
    that must not be guessed stay truly random.
    """
    dice = random.Random(zlib.crc32(request.node.nodeid.encode()))
    monkeypatch.setattr(secrets, "randbelow", dice.randrange)
    replay_factories.begin(monkeypatch)


def _database() -> Path | None:
    """The file of the tests' database; None on PostgreSQL."""
    own = settings.DATABASES["default"]
    return Path(own["TEST"]["NAME"]) if "sqlite" in own["ENGINE"] else None


@pytest.fixture(scope="session")
def django_db_keepdb(django_db_modify_db_settings: None) -> bool:
    """Whether the migrated database of an earlier run serves."""
    database = _database()
    if not database or not migrated.template().exists():
        return False
    migrated.copy(migrated.template(), database)
    return True


@pytest.fixture(scope="session")
def django_db_setup(django_db_setup: None) -> None:
    database = _database()
    if database and not migrated.template().exists():
        migrated.keep(database)


@pytest.fixture(autouse=True, scope="session")
def _fonts_are_unpacked_once() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        unpacked.unpack_once(patch)
        yield


@pytest.fixture(autouse=True, scope="session")
def _static_files_are_listed_once() -> Iterator[None]:
    """Every client of a test is a server of its own, and would look through all folders."""
    listed: dict[tuple[object, ...], dict[str, Any]] = {}
    look = WhiteNoiseMiddleware.add_files_from_finders

    def look_once(self: WhiteNoiseMiddleware) -> None:
        how = (self.static_prefix, self.autorefresh, self.max_age, self.add_headers_function)
        if how not in listed:
            look(self)
            listed[how] = dict(self.files)
        self.files.update(listed[how])

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(WhiteNoiseMiddleware, "add_files_from_finders", look_once)
        yield


def reaches_database(fixtures: Collection[str], *, marked: bool, source: str) -> bool:
    """Whether a test could come out differently on another database. In doubt it could: a test
    that neither asks for a database nor stands in a file with a word of one is refused any."""
    return (
        marked
        or not DATABASE_FIXTURES.isdisjoint(fixtures)
        or any(word in source for word in DATABASE_WORDS)
    )


@cache
def _folder_mark(file: Path) -> str:
    return next((name for folder, name in MARKED_BY_FOLDER.items() if folder in file.parents), "")


@cache
def _source(file: Path) -> str:
    return file.read_text(encoding="utf-8")


def _mark(item: pytest.Item) -> None:
    if name := _folder_mark(item.path):
        item.add_marker(name)
    fixtures = getattr(item, "fixturenames", DATABASE_FIXTURES)
    marked = item.get_closest_marker("django_db") is not None
    if reaches_database(fixtures, marked=marked, source=_source(item.path)):
        item.add_marker("reaches_database")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Marks what takes long by its folder, and what reaches a database; leaves out what is for the
    other database; puts the towns first.

    They are deselected, not skipped: `.ci/run` runs the suite on both databases and takes a
    skip for a failure.
    """
    vendor = "sqlite" if "sqlite" in settings.DATABASES["default"]["ENGINE"] else "postgresql"
    other = {"sqlite": "postgresql_only", "postgresql": "sqlite_only"}[vendor]
    for item in items:
        _mark(item)
    left_out = [item for item in items if item.get_closest_marker(other)]
    if left_out:
        config.hook.pytest_deselected(items=left_out)
        gone = set(left_out)
        items[:] = [item for item in items if item not in gone]
    items.sort(key=lambda item: item.path.name not in TOWNS)


def _fail_if_skipped(report: pytest.TestReport | pytest.CollectReport) -> None:
    if NO_SKIPS and report.skipped and not hasattr(report, "wasxfail"):
        reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else report.longrepr
        report.outcome = "failed"
        report.longrepr = f"skipped where no test may be skipped: {reason}"


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Iterator[None]:
    report = yield
    _fail_if_skipped(report)
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Iterator[None]:
    report = yield
    _fail_if_skipped(report)
    return report
