"""What a first visit costs a phone: the page and every file that it names, as they are sent."""

from __future__ import annotations

import gzip
import json
import re
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from django.http import HttpResponse

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


@pytest.mark.parametrize("page", ["next_shift", "shift_cards", "quiz"])
def test_a_first_visit_takes_at_most_a_hundred_kilobytes(visit, nils, page, time_machine):
    time_machine.move_to(NOW, tick=False)
    make.read(nils)
    parts = {"code": make.start_quiz(nils).code} if page == "quiz" else {}
    response = visit(nils).get(address(nils, page, **parts))
    assert response.status_code == 200

    loaded = files(response)
    assert {"base.css", "htmx-2.min.js"} <= {path.name for path in loaded}
    sizes = {path.name: packed(path.read_bytes()) for path in loaded}
    assert packed(response.content) + sum(sizes.values()) <= MOST, sizes
