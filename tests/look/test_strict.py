"""What holds for every template and every static file of the look, read as text."""

import gzip
import re

import pytest

from tests.look.scan import ROOT, TEMPLATES, inline_code, templates

CSS = sorted((ROOT / "static/css").glob("*.css"))
JS = sorted((ROOT / "static/js").glob("*.js"))
STYLES = TEMPLATES / "parts/styles.html"
OF_SOME_PAGES = {
    "book.css",
    "calls.css",
    "hands.css",
    "learn.css",
    "mixups.css",
    "ready.css",
}  # the pages that need one link it themselves

REFUSED = {
    "a style": ('<p style="color:red">', "style"),
    "a style sheet": ("<style>p{}</style>", "<style>"),
    "a script": ("<script>go()</script>", "<script>"),
    "a handler": ('<button onclick="go()">', "onclick"),
    "an htmx handler": ('<button hx-on:click="go()">', "hx-on:click"),
    "an address that runs": ('<a href="javascript:go()">', "href=javascript:"),
}


@pytest.mark.parametrize(("source", "what"), REFUSED.values(), ids=REFUSED)
def test_inline_code_is_caught(source, what):
    assert [finding.what for finding in inline_code(source)] == [what]


def test_a_script_file_and_drawing_attributes_are_no_inline_code():
    source = '<script src="{% static "js/a.js" %}" defer></script><svg fill="none"></svg>'

    assert inline_code(source) == []


@pytest.mark.parametrize("path", templates(), ids=lambda path: str(path.relative_to(TEMPLATES)))
def test_a_template_has_no_inline_style_or_script(path):
    assert inline_code(path.read_text()) == []


def test_every_style_sheet_is_linked_once():
    linked = re.findall(r"css/[\w-]+\.css", STYLES.read_text())

    assert sorted(linked) == [f"css/{path.name}" for path in CSS if path.name not in OF_SOME_PAGES]


@pytest.mark.parametrize("name", sorted(OF_SOME_PAGES))
def test_a_sheet_of_some_pages_is_linked_by_them_alone(name):
    linking = [p for p in templates() if f"css/{name}" in p.read_text()]

    assert linking
    assert STYLES not in linking


def test_the_style_sheets_of_every_page_are_small_together():
    every_page = [path for path in CSS if path.name not in {"print.css", *OF_SOME_PAGES}]

    assert sum(len(gzip.compress(path.read_bytes())) for path in every_page) < 8 * 1024


@pytest.mark.parametrize("path", CSS, ids=lambda path: path.name)
def test_a_style_sheet_stays_on_this_machine(path):
    assert re.findall(r"@import|url\(|https?:", path.read_text()) == []


@pytest.mark.parametrize("path", CSS, ids=lambda path: path.name)
def test_no_colour_is_named_outside_the_tokens(path):
    """White, black and shades of ink on paper aside, a colour has a name in tokens.css."""
    if path.name == "tokens.css":
        return
    colours = set(re.findall(r"#[0-9a-f]{3,8}\b", path.read_text()))

    assert colours <= {"#fff", "#000", "#0000", "#333", "#888", *RAIL}


# The highlights and the shade of the brass rod and of the paper under it.
RAIL = {"#7d5519", "#f6dfa6", "#6e4a14", "#17211d3d", "#17211d00"}


@pytest.mark.parametrize("path", JS, ids=lambda path: path.name)
def test_a_script_is_short_and_strict(path):
    source = path.read_text()

    assert '"use strict"' in source
    assert len(source.splitlines()) < 60
    assert re.findall(r"\beval\(|innerHTML|new Function|\.style\b|https?:", source) == []
