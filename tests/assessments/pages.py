"""What the tests of pages share."""

from __future__ import annotations

import re
import uuid
from html import unescape
from typing import Any

from django.db import connection
from django.db.models import Model
from django.http import HttpResponse
from django.urls import reverse

from assessments import models
from barcourse.people.models import LogEntry, Membership, PersonalText
from tests.cast import Visitor
from tests.forms_on_pages import form_to


def address(member: Membership, page: str, **parts: str) -> str:
    return reverse(page, kwargs={"house": member.venue.slug, **parts})


def text(response: HttpResponse) -> str:
    """What a reader reads of the main part of the page, in one line."""
    [body] = re.findall(r"<main.*?</main>", response.content.decode(), re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", body)).split())


def fields(response: HttpResponse, action: str | None = None) -> dict[str, Any]:
    """What a form of the page sends as it stands: the one to this address, else the one to the
    page itself."""
    at = response.wsgi_request.get_full_path()
    return dict(form_to(response.content.decode(), at, action or at))


def written() -> dict[str, int]:
    """How much there is of everything that a form of this room can write."""
    rows: list[type[Model]] = [getattr(models, name) for name in models.__all__]
    tables = {m.__name__: m._meta.db_table for m in (*rows, LogEntry, PersonalText)}
    counts = ", ".join(f'(SELECT COUNT(*) FROM "{table}")' for table in tables.values())
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT {counts}")  # names of our own tables
        return dict(zip(tables, cursor.fetchone(), strict=True))


def send_twice(browser: Visitor, path: str, sent: dict[str, Any]) -> list[HttpResponse]:
    """The same form with the same key, twice."""
    body = {"form_key": str(uuid.uuid4()), **sent}
    return [browser.post(path, body) for _ in range(2)]
