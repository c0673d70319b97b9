"""The tests' own promises: they stay on this machine, and a skip cannot hide."""

import os
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from tests.conftest import NetworkBlockedError, reaches_database

ROOT = Path(__file__).parent.parent


@pytest.mark.parametrize("address", [("192.0.2.1", 80), ("2001:db8::1", 80), ("bar.example", 80)])
def test_a_connection_to_another_machine_is_refused(address):
    family = socket.AF_INET6 if ":" in address[0] else socket.AF_INET

    with socket.socket(family) as sock, pytest.raises(NetworkBlockedError):
        sock.connect(address)


def test_a_packet_to_another_machine_is_refused():
    with (
        socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as sock,
        pytest.raises(NetworkBlockedError),
    ):
        sock.sendto(b"hello", ("192.0.2.1", 53))


def test_a_name_is_not_looked_up():
    with pytest.raises(NetworkBlockedError):
        socket.create_connection(("bar.example", 443))


def test_this_machine_can_be_reached():
    server = socket.create_server(("127.0.0.1", 0))

    with server, socket.create_connection(server.getsockname()) as client:
        assert client.getpeername() == server.getsockname()


SKIPS = {
    "in a test": "import pytest\ndef test_it():\n    pytest.skip('no reason')\n",
    "by a mark": "import pytest\n@pytest.mark.skip\ndef test_it():\n    pass\n",
    "of a whole file": "import pytest\npytest.skip('no reason', allow_module_level=True)\n",
}


@pytest.mark.parametrize("source", SKIPS.values(), ids=SKIPS)
@pytest.mark.parametrize(("no_skips", "passes"), [("0", True), ("1", False)])
def test_a_skip_fails_where_none_is_allowed(tmp_path, source, no_skips, passes):
    (tmp_path / "test_skips.py").write_text(source + "\ndef test_other():\n    pass\n")
    (tmp_path / "conftest.py").write_text("from tests.conftest import *\n")

    run = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-c",
         str(ROOT / "pyproject.toml"), "--rootdir", str(ROOT), str(tmp_path)],
        cwd=ROOT, env={**os.environ, "BARCOURSE_NO_SKIPS": no_skips},
        capture_output=True, text=True, check=False,
    )  # fmt: skip

    assert (run.returncode in (0, 5)) is passes, run.stdout + run.stderr
    assert ("skipped where no test may be skipped" in run.stdout) is not passes


@pytest.mark.parametrize(
    ("fixtures", "marked", "source", "reaches"),
    [
        ((), False, "", False),
        (("tmp_path", "monkeypatch"), False, "assert 1 + 1 == 2", False),
        (("nils", "db"), False, "", True),
        (("transactional_db",), False, "", True),
        (("live_server",), False, "", True),
        (("the_town", "django_db_setup"), False, "", True),
        ((), True, "", True),
        ((), False, "import subprocess", True),
        ((), False, "os.environ['DATABASE_URL']", True),
        ((), False, "from django.db import connection", True),
        ((), False, "request.getfixturevalue('nils')", True),
        ((), False, "with django_db_blocker.unblock():", True),
    ],
)
def test_what_could_differ_between_databases(fixtures, marked, source, reaches):
    assert reaches_database(fixtures, marked=marked, source=source) is reaches


WITH_A_DATABASE = """
def test_by_a_fixture(db): pass
def test_by_another(odalys): pass
@pytest.mark.django_db
def test_by_a_mark(): pass
"""


def test_on_another_database_what_reaches_none_is_left_out(tmp_path):
    (tmp_path / "test_pure.py").write_text("def test_pure(): pass\n")
    (tmp_path / "test_rows.py").write_text("import pytest\n" + WITH_A_DATABASE)
    (tmp_path / "conftest.py").write_text("from tests.conftest import *\n")

    run = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "--collect-only", "-m", "reaches_database",
         "-p", "no:cacheprovider", "-c", str(ROOT / "pyproject.toml"), "--rootdir", str(ROOT),
         str(tmp_path)],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip

    found = {line.rpartition("::")[2] for line in run.stdout.splitlines() if "::" in line}
    assert found == {"test_by_a_fixture", "test_by_another", "test_by_a_mark"}, run.stdout
