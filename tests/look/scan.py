"""Reads templates as a translator and a strict browser do: bare words, inline style, script."""

import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parent.parent.parent
TEMPLATES = ROOT / "templates"

# The program's own name is the same in every language.
SAME_EVERYWHERE = ("Barcourse",)

SPOKEN_ATTRIBUTES = {
    "alt", "title", "placeholder", "label", "summary",
    "aria-label", "aria-description", "aria-roledescription", "aria-valuetext", "aria-placeholder",
    "data-label", "data-stop", "data-go", "hx-confirm",
}  # fmt: skip
# What an include is told to show. Codes (name, value, standing, level, type) aren't read out.
SPOKEN_PARAMETERS = {"title", "label", "text", "note", "mark", "off", "legend", "words", "heading"}
# Filters whose argument is a pattern, not words.
PATTERN_FILTERS = r"(?:date|time|floatformat|stringformat|slice|get_digit|length_is|dictsort)"

COMMENT = re.compile(r"\{#.*?#\}|\{%\s*comment\b.*?%\}.*?\{%\s*endcomment\s*%\}", re.DOTALL)
TRANSLATED = re.compile(
    r"\{%\s*(blocktrans(?:late)?)\b[^%]*(?:%(?!\})[^%]*)*%\}.*?\{%\s*end\1\s*%\}", re.DOTALL
)
TRANSLATED_LITERAL = re.compile(r"""_\(\s*("[^"]*"|'[^']*')\s*\)""")
PATTERN = re.compile(rf"""\|\s*{PATTERN_FILTERS}\s*:\s*("[^"]*"|'[^']*')""")
LITERAL = re.compile(r"""("[^"]*"|'[^']*')""")
TAG = re.compile(r"\{%(.*?)%\}|\{\{(.*?)\}\}", re.DOTALL)
TAGS_THAT_PRINT = {"firstof", "cycle"}


class Finding(NamedTuple):
    line: int
    what: str


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.bare: list[Finding] = []
        self.inline: list[Finding] = []
        self.unread = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag in ("script", "style"):
            self.unread += 1
        if tag == "style" or (tag == "script" and "src" not in given):
            self._note(self.inline, f"<{tag}>")
        for name, value in attrs:
            self._attribute(tag, name, value or "", given)

    def _attribute(self, tag: str, name: str, value: str, given: dict[str, str | None]) -> None:
        if name == "style" or name.startswith(("on", "hx-on")):
            self._note(self.inline, name)
        if value.strip().lower().startswith("javascript:"):
            self._note(self.inline, f"{name}=javascript:")
        button = tag == "input" and given.get("type") in ("submit", "button", "reset")
        if name in SPOKEN_ATTRIBUTES or (button and name == "value"):
            self._words(value)

    def handle_endtag(self, tag: str) -> None:
        if tag in ("script", "style") and self.unread:
            self.unread -= 1

    def handle_data(self, data: str) -> None:
        if not self.unread:
            self._words(data)

    def _words(self, text: str) -> None:
        for name in SAME_EVERYWHERE:
            text = text.replace(name, "")
        first = next((at for at, letter in enumerate(text) if letter.isalpha()), None)
        if first is not None:
            self._note(self.bare, " ".join(text.split()), lines=text[:first].count("\n"))

    def _note(self, findings: list[Finding], what: str, lines: int = 0) -> None:
        findings.append(Finding(self.getpos()[0] + lines, what))


def bare_words(source: str) -> list[Finding]:
    """Words that a reader would see and a translator would not."""
    return sorted([*_read(source).bare, *_told_to_show(_plain(source))])


def inline_code(source: str) -> list[Finding]:
    """Style and script that the content security policy would refuse."""
    return _read(source).inline


def templates() -> list[Path]:
    return sorted(path for path in TEMPLATES.rglob("*") if path.is_file())


def _read(source: str) -> _Reader:
    reader = _Reader()
    reader.feed(TAG.sub(_printed, _plain(source)))
    reader.close()
    return reader


def _plain(source: str) -> str:
    """The source without comments and without what is translated already; lines stay in place."""
    for pattern in (COMMENT, TRANSLATED, TRANSLATED_LITERAL, PATTERN):
        source = pattern.sub(lambda found: "\n" * found[0].count("\n"), source)
    return source


def _printed(found: re.Match[str]) -> str:
    """The words a tag or a variable would print by itself: literals in `default:"none"`."""
    tag, variable = found[1], found[2]
    lines = "\n" * found[0].count("\n")
    if variable is not None:
        return _literals(variable) + lines
    name = (tag.split() or [""])[0]
    return (_literals(tag) if name in TAGS_THAT_PRINT else "") + lines


def _literals(expression: str) -> str:
    return " ".join(literal[1:-1] for literal in LITERAL.findall(expression))


def _told_to_show(source: str) -> Iterator[Finding]:
    given = re.compile(rf"\b({'|'.join(SPOKEN_PARAMETERS)})=({LITERAL.pattern[1:-1]})")
    for tag in re.finditer(r"\{%\s*include\b(.*?)%\}", source, re.DOTALL):
        for parameter in given.finditer(tag[1]):
            if any(letter.isalpha() for letter in parameter[2]):
                yield Finding(source[: tag.start()].count("\n") + 1, parameter[0])
