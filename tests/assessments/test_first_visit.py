"""What a first visit costs a phone: the page and every file that it names, as they are sent."""

from __future__ import annotations

import datetime as dt
import gzip
import json
import re
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from django.http import HttpResponse

from assessments import record_shift
from assessments.models.shift import MOST_MINUTES
from tests.assessments.pages import address
from tests.factories import assessments as make
from tests.factories.assessments import NOW

MOST = 100 * 1024
NAMED = re.compile(r"""(?:href|src)="/static/([^"?]+)""")
INSIDE = re.compile(r"""url\(["']?([^"')]+)["']?\)""")


def packed(content: bytes) -> int:
    """As gzip; the server sends brotli or gzip, whichever is smaller."""
    return len(gzip.compress(content, 9, mtime=0))


def files(response: HttpResponse) -> set[Path]:
    named = {found(name) for name in NAMED.findall(response.content.decode())}
    return named | {inner for path in named for inner in within(path)}


def found(name: str) -> Path:
    path = finders.find(name)
    assert path, name
    return Path(path)


def within(path: Path) -> set[Path]:
    """What a style sheet or a manifest loads in its turn."""
    if path.suffix == ".css":
        return {(path.parent / name).resolve() for name in INSIDE.findall(path.read_text())}
    if path.suffix == ".webmanifest":
        return {path.parent / Path(i["src"]).name for i in json.loads(path.read_text())["icons"]}
    return set()


def as_sent(browser, path: str) -> tuple[HttpResponse, int]:
    """A page as a browser reads it, and how many bytes came over the air."""
    response = browser.get(path, headers={"Accept-Encoding": "gzip, deflate, br"})
    assert (response.status_code, response["Content-Encoding"]) == (200, "gzip")
    sent = len(response.content)
    response.content = gzip.decompress(response.content)
    return response, sent


def test_neither_does_the_longest_plan(visit, nils, time_machine):
    """Sixty minutes of cards, every one of them new."""
    time_machine.move_to(NOW, tick=False)
    make.read(nils)
    record_shift.say_next_shift(
        by=nils, hire=nils, starts_at=NOW + dt.timedelta(days=2), minutes=MOST_MINUTES, at=NOW
    )
    response, sent = as_sent(visit(nils), address(nils, "next_shift"))

    sizes = {path.name: packed(path.read_bytes()) for path in files(response)}
    assert sent + sum(sizes.values()) <= MOST, (sent, sizes)


def test_a_page_s_length_does_not_tell_what_stands_on_it(visit, nils):
    """Against guessing letter by letter, each page carries a file name of another length (RFC 1952,
    2.3.1: FNAME)."""
    browser, path = visit(nils), address(nils, "modules")
    heads = [browser.get(path, headers={"Accept-Encoding": "gzip"}).content for _ in range(12)]

    assert all(head[3] & 0b1000 for head in heads)
    assert len({head.index(b"\0", 10) for head in heads}) > 1


@pytest.mark.parametrize("page", ["next_shift", "shift_cards", "quiz"])
def test_a_first_visit_takes_at_most_a_hundred_kilobytes(visit, nils, page, time_machine):
    time_machine.move_to(NOW, tick=False)
    make.read(nils)
    parts = {"code": make.start_quiz(nils).code} if page == "quiz" else {}
    response, sent = as_sent(visit(nils), address(nils, page, **parts))

    loaded = files(response)
    assert {"base.css", "htmx-2.min.js"} <= {path.name for path in loaded}
    sizes = {path.name: packed(path.read_bytes()) for path in loaded}
    assert sent + sum(sizes.values()) <= MOST, sizes
