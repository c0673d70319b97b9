"""What the tests of pages share."""

from __future__ import annotations

import re
import uuid
from html import unescape
from typing import Any

from django.http import HttpResponse

Typed = dict[str, str | list[str]]


def text(answer: HttpResponse) -> str:
    """What a reader reads of the page, in one line."""
    body = re.sub(r"<(script|style|title).*?</\1>", "", answer.content.decode(), flags=re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", body)).split())


def typed(answer: HttpResponse, form: str = "change") -> Typed:
    """What the form with this id would send as it stands; ticked boxes as lists."""
    page = answer.content.decode()
    [body] = re.findall(rf'<form[^>]*id="{form}".*?</form>', page, re.DOTALL)
    return {**_inputs(body), **_selects(body), **_textareas(body)}


def _inputs(body: str) -> Typed:
    said: Typed = {}
    for tag in re.findall(r"<input[^>]*>", body):
        name, value = _attribute(tag, "name"), _attribute(tag, "value") or ""
        if _attribute(tag, "type") == "checkbox":
            if " checked" in tag:
                said[name] = [*said.get(name, []), value or "on"]
        elif _attribute(tag, "type") != "radio" or " checked" in tag:
            said[name] = value
    return said


def _selects(body: str) -> Typed:
    said: Typed = {}
    for name, inside in re.findall(r'<select name="([^"]+)".*?>(.*?)</select>', body, re.DOTALL):
        options = re.findall(r'<option value="([^"]*)"( selected)?', inside)
        chosen = [value for value, mark in options if mark]
        said[name] = (chosen or [value for value, _ in options])[0]
    return said


def _textareas(body: str) -> Typed:
    found = re.findall(r'<textarea name="([^"]+)".*?>(.*?)</textarea>', body, re.DOTALL)
    return {name: unescape(inside).strip("\r\n") for name, inside in found}


def _attribute(tag: str, name: str) -> str:
    found = re.search(rf'\b{name}="([^"]*)"', tag)
    return unescape(found[1]) if found else ""


def look_at(browser: Any, path: str, **said: object) -> HttpResponse:
    """The first of the two steps: the page's form as it stands, with these things typed."""
    sent = {**typed(browser.get(path)), "form_key": str(uuid.uuid4()), "look": "1", **said}
    return browser.post(path, sent)


def publish_at(browser: Any, path: str, shown: HttpResponse) -> HttpResponse:
    """The second: what was shown, published, and the page that it leads to."""
    return browser.post(path, {**typed(shown), "publish": "1"}, follow=True)
