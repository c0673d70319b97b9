"""A log line tells what happened, and strikes out who and how they got in."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from barcourse import logs

ROOT = Path(__file__).parent.parent

TOKEN = "q3Zt8LkVw1xYb5NcR7uHsA"


@pytest.mark.parametrize(
    "key",
    ["password", "new_password", "secret_key", "token", "session_id", "Cookie", "authorization",
     "csrfmiddlewaretoken", "name", "display_name", "sign_in", "email", "note"],
)  # fmt: skip
def test_what_is_private_by_its_key_is_struck_out(key):
    assert logs.strike_out(None, "info", {key: "Ada Quill"}) == {key: logs.STRUCK}


@pytest.mark.parametrize("key", ["event", "venue", "status", "duration_ms", "module", "renamed"])
def test_what_an_owner_needs_to_see_stays(key):
    assert logs.strike_out(None, "info", {key: "highballs"}) == {key: "highballs"}


def test_what_lies_deeper_is_struck_out_too():
    event = logs.strike_out(None, "info", {"form": {"password": "x"}, "args": [f"/join/{TOKEN}/"]})

    assert event == {
        "form": {"password": logs.STRUCK},
        "args": [f"/join/{logs.STRUCK}/"],
    }


@pytest.mark.parametrize(
    ("said", "kept"),
    [
        (f"Not Found: /join/{TOKEN}/", f"Not Found: /join/{logs.STRUCK}/"),
        (f"Gone: /join/{TOKEN}", f"Gone: /join/{logs.STRUCK}"),
        ("Not Found: /h/harbour-lights/recipes/", "Not Found: /h/harbour-lights/recipes/"),
        (
            "DETAIL: Key (sign_in)=(ada) already exists.",
            f"DETAIL: Key (sign_in)=({logs.STRUCK}) already exists.",
        ),
    ],
)
def test_codes_in_addresses_and_values_in_database_messages_are_struck_out(said, kept):
    assert logs.without_codes(said) == kept


PROGRAM = f"""
import logging, logging.config, structlog
from barcourse import logs

logging.config.dictConfig(logs.configuration(level="INFO", for_people=FOR_PEOPLE))
logs.configure()
structlog.get_logger("barcourse").info("sign_off", venue=7, name="Ada Quill")
try:
    raise LookupError("no such page")
except LookupError:
    logging.getLogger("django.request").warning(
        "Not Found: %s",
        "/join/{TOKEN}/",
        extra={{"status_code": 404, "request": object()}},
        exc_info=True,
    )
try:
    raise ValueError("Key (sign_in)=(ada) already exists.")
except ValueError:
    structlog.get_logger("barcourse").exception("could_not_save")
"""


def written(*, for_people):
    """What a process that logs those three events writes to standard error."""
    run = subprocess.run(
        [sys.executable, "-c", PROGRAM.replace("FOR_PEOPLE", str(for_people))],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    return run.stderr


def test_our_lines_and_djangos_come_out_alike_one_an_event():
    ours, djangos, fault = (json.loads(line) for line in written(for_people=False).splitlines())

    assert (ours["event"], ours["venue"], ours["name"]) == ("sign_off", 7, logs.STRUCK)
    assert djangos["event"] == f"Not Found: /join/{logs.STRUCK}/"
    assert djangos["status_code"] == 404
    assert "request" not in djangos
    assert [line["level"] for line in (ours, djangos, fault)] == ["info", "warning", "error"]
    assert "ValueError" in fault["exception"]
    assert "exception" not in djangos


def test_a_page_not_found_takes_one_line_of_the_console_and_what_broke_its_traceback():
    text = written(for_people=True)

    [not_found] = [line for line in text.splitlines() if "Not Found" in line]
    assert "LookupError" not in text
    assert "warning" in not_found
    assert text.count("Traceback") == 1


@pytest.mark.parametrize("for_people", [False, True], ids=["for programs", "for people"])
def test_nothing_private_is_left_in_what_is_written(for_people):
    text = written(for_people=for_people)

    assert "could_not_save" in text
    assert [secret for secret in ("Ada", "ada", TOKEN) if secret in text] == []
