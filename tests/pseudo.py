"""A language that nobody speaks, in which whatever was translated stands in brackets.

`⟦…⟧` is what the program says, `«…»` what a house typed in (see `typed`). On a page of a house
whose every name is marked so, no letter stands outside of the two: one that does was never offered
to a translator. What a sentence is filled with stays outside its brackets, so that an untranslated
word can't hide in a translated sentence.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from html.parser import HTMLParser
from zoneinfo import available_timezones

import pytest
from django.utils.translation import trans_real

from tests.look.scan import SAME_EVERYWHERE, SPOKEN_ATTRIBUTES

CONTEXT = "\x04"
FILLED = re.compile(r"(%\(\w+\)[-#0 +]*\d*(?:\.\d+)?[a-z]|%[a-z]|\{\w*\}|<[^>]*>|&\w+;)")
ADDRESS = re.compile(r"https?://\S+")
SAID = re.compile(r"⟦[^⟦⟧]*⟧|«[^«»]*»")


def typed(text: str) -> str:
    """Marks what a house typed in."""
    return f"«{text}»"


def said(message: str) -> str:
    """The translation of a message: brackets around every run of words in it."""
    words = message.rpartition(CONTEXT)[2]
    return "".join(
        part if FILLED.fullmatch(part) or not any(c.isalpha() for c in part) else f"⟦{part}⟧"
        for part in FILLED.split(words)
    )


class _Language:
    """What Django asks of a language."""

    def gettext(self, message: str) -> str:
        return said(message)

    def ngettext(self, one: str, many: str, number: int) -> str:
        return said(one if number == 1 else many)

    def to_language(self) -> str:
        return "en"


@contextmanager
def spoken() -> Iterator[None]:
    """Inside, every request is answered in the language that nobody speaks."""
    language = _Language()
    before = getattr(trans_real._active, "value", None)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(trans_real, "translation", lambda code: language)
        patch.setattr(trans_real, "_default", language)
        trans_real._active.value = language
        yield
    trans_real._active.value = before or trans_real.translation("en")


class _Reader(HTMLParser):
    """Collects what a page shows or has read out; what stands in a field was typed, and what is
    quoted was said by a guest in their own words."""

    UNREAD = ("script", "style", "textarea", "blockquote")

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.texts: list[str] = []
        self.unread = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.unread += tag in self.UNREAD
        given = dict(attrs)
        button = tag == "input" and given.get("type") in ("submit", "button", "reset")
        for name, value in attrs:
            if value and (name in SPOKEN_ATTRIBUTES or (button and name == "value")):
                self.texts.append(value)

    def handle_endtag(self, tag: str) -> None:
        self.unread -= tag in self.UNREAD

    def handle_data(self, data: str) -> None:
        if not self.unread:
            self.texts.append(data)


ZONES = {zone.replace("_", " ") for zone in available_timezones()}


def unsaid(html: str, also: Iterable[str] = ()) -> list[str]:
    """Texts of a page with letters that are neither the program's nor a house's words.

    The program's own name, addresses and time zones are the same in every language; so are codes
    and hashes, which `also` lists.
    """
    reader = _Reader()
    reader.feed(html)
    reader.close()
    return [" ".join(text.split()) for text in reader.texts if _letters(text, tuple(also))]


def _letters(text: str, also: tuple[str, ...]) -> bool:
    if text.strip() in ZONES:
        return False
    while SAID.search(text):
        text = SAID.sub("", text)
    text = ADDRESS.sub("", text)
    for same in (*SAME_EVERYWHERE, *also):
        text = text.replace(same, "")
    return any(letter.isalpha() for letter in text)
