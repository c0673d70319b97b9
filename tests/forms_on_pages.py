"""Reads a form off a page as a browser does: everything in it that would be sent untouched."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import urljoin

NEW_EACH_TIME = {"csrfmiddlewaretoken", "form_key"}
NOT_SENT = {"submit", "button", "reset", "image", "file"}


@dataclass
class Form:
    method: str
    action: str
    sends: dict[str, list[str]] = field(default_factory=dict)

    def add(self, name: str | None, value: str) -> None:
        if name and name not in NEW_EACH_TIME:
            self.sends.setdefault(name, []).append(value)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.forms: list[Form] = []
        self.select: str | None = None
        self.options: list[tuple[str, bool]] = []
        self.text: tuple[str, list[str]] | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if tag == "form":
            self.forms.append(Form(given.get("method", "get").lower(), given.get("action", "")))
        if not self.forms or "disabled" in given:
            return
        if tag == "input":
            self._input(given)
        elif tag == "select":
            self.select, self.options = given.get("name"), []
        elif tag == "option":
            self.options.append((given.get("value", ""), "selected" in given))
        elif tag == "textarea":
            self.text = (given.get("name", ""), [])

    def _input(self, given: dict[str, str]) -> None:
        kind = given.get("type", "text")
        tick = kind in ("radio", "checkbox")
        if kind not in NOT_SENT and (not tick or "checked" in given):
            self.forms[-1].add(given.get("name"), given.get("value", "on" if tick else ""))

    def handle_data(self, data: str) -> None:
        if self.text:
            self.text[1].append(data)

    def handle_endtag(self, tag: str) -> None:
        if tag == "select" and self.options:
            chosen = [value for value, is_chosen in self.options if is_chosen]
            for value in chosen or [self.options[0][0]]:
                self.forms[-1].add(self.select, value)
        elif tag == "textarea" and self.text:
            self.forms[-1].add(self.text[0], "".join(self.text[1]).removeprefix("\n"))
            self.text = None


def forms_on(page: str, at: str) -> list[Form]:
    """Every form of the page that stands at this address; one without an action sends there."""
    reader = _Reader()
    reader.feed(page)
    reader.close()
    for form in reader.forms:
        form.action = urljoin(at, form.action) if form.action else at
    return reader.forms


def form_to(page: str, at: str, action: str) -> dict[str, list[str]]:
    """What the first form that posts to `action` sends. AssertionError where there is none."""
    found = [f for f in forms_on(page, at) if f.method == "post" and f.action == action]
    assert found, f"no form on {at} posts to {action}"
    return dict(found[0].sends)
