"""A call in words: lower case, no accents, no apostrophes; commas and "and" stay."""

from __future__ import annotations

import re
import unicodedata
from typing import NamedTuple

COMMA = ","
LINE = "\n"
BREAKS = frozenset({COMMA, LINE})

_TOKEN = re.compile(r"\n|[^\W_]+(?:['\u2019`][^\W_]+)*|\S")
_WRITTEN = (
    (re.compile(r"\bw/o\b", re.IGNORECASE), "without"),
    (re.compile(r"\bw/", re.IGNORECASE), "with "),
    (re.compile(r"(?<!\d)1/2(?!\d)|½"), " half "),
    (re.compile("\u00d7"), "x"),
)
_SPACED = re.compile(r"\b(?:x +(\d{1,3})|(\d{1,3}) +x)\b", re.IGNORECASE)
"""How many times, with a blank inside: "x 3", "3 x"."""
_MARKS = {"&": "and", "+": "and", ",": COMMA, ";": LINE, "|": LINE, ".": COMMA, ":": COMMA,
          "(": COMMA, ")": COMMA, "\u2013": COMMA, "\u2014": COMMA, "\n": LINE}  # fmt: skip
_SILENT = frozenset({"P", "C", "M", "Z"})
"""Classes of characters that say nothing by themselves: punctuation, controls, marks, blanks."""


class Token(NamedTuple):
    """As it was said, and as it is looked up; "" for what says nothing."""

    said: str
    word: str


def tokens(text: str) -> list[Token]:
    """Every word, and the marks that part drinks; letters and symbols are never dropped."""
    plain = text.strip()
    if _SPACED.search(plain):
        plain = _SPACED.sub(r"\1\2x", plain)
    if "/" in plain or "½" in plain or "\u00d7" in plain:
        for pattern, instead in _WRITTEN:
            plain = pattern.sub(instead, plain)
    return [Token(said, _word(said)) for said in _TOKEN.findall(plain.replace("\r", "\n"))]


def words_of(text: str) -> tuple[str, ...]:
    """The words of a name, as calls are looked up; marks left out, "&" as "and"."""
    return tuple(t.word for t in tokens(text) if t.word and t.word not in BREAKS)


def _word(said: str) -> str:
    if said.isascii():
        if said.isalnum():
            return said.lower()
        low = said.lower()
    else:
        split = unicodedata.normalize("NFKD", said.casefold())
        low = "".join(c for c in split if not unicodedata.combining(c)) or said
    if len(low) == 1:
        if low in _MARKS:
            return _MARKS[low]
        return "" if unicodedata.category(low)[0] in _SILENT else low
    return low.replace("'", "").replace("\u2019", "").replace("`", "")
