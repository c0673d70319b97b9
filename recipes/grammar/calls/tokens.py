"""A call in words: lower case, no accents, no apostrophes; commas and "and" stay."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple, cast, overload

from recipes.grammar.units import US_FLOZ_ML

COMMA = ","
LINE = "\n"
BREAKS = frozenset({COMMA, LINE})

_PLAIN = re.compile(r"\n|[^\W_]+(?:['\u2019`][^\W_]+|(?<=\d)[.,]\d+)*|(?<!\S)[-\u2212]\d[^\W_]*|\S")
"""A number with a point or a minus is one word, and no count: nobody pours "1.5" or "-1"."""
_UNITS = r"ml|cl|oz|fl\.? ?oz|(?:fluid )?ounces?"
_TOKEN = re.compile(rf"(?i:\d+(?:[.,]\d+)? ?(?:{_UNITS})\b)|{_PLAIN.pattern}")
_AMOUNT = re.compile(rf"(\d+(?:[.,]\d+)?) ?({_UNITS})")
"""An amount is one word: "17 cl" is no seventeen colas, "1.5 oz" no two numbers."""
_CENTILITRES = re.compile(r"\d ?cl\b")
_IN_ML = {"ml": 1.0, "cl": 10.0}
_WRITTEN = (
    (re.compile(r"\bn/a\b", re.IGNORECASE), "na"),
    (re.compile(r"\bw/o\b", re.IGNORECASE), "without"),
    (re.compile(r"\bw/", re.IGNORECASE), "with "),
    (re.compile(r"(?<!\d)1/2(?!\d)|½"), " half "),
    (re.compile("\u00d7"), "x"),
)
ONE_SPELLING = {"whisky": "whiskey", "whiskys": "whiskeys", "whiskies": "whiskeys"}
"""One word in two spellings, looked up as one: a house means the same by both."""
_SPACED = re.compile(r"\b(?:x +(\d{1,3})|(\d{1,3}) +x)\b", re.IGNORECASE)
"""How many times, with a blank inside: "x 3", "3 x"."""
_MARKS = {"&": "and", "+": "and", ",": COMMA, ";": LINE, "|": LINE, ".": COMMA, ":": COMMA,
          "#": "#", "(": COMMA, ")": COMMA,
          "\u2013": COMMA, "\u2014": COMMA, "\n": LINE}  # fmt: skip
_SILENT = frozenset({"P", "C", "M", "Z"})
"""Classes of characters that say nothing by themselves: punctuation, controls, marks, blanks."""
_INSIDE = re.compile(r"(?<=[a-z0-9])'(?=[a-z0-9])")


class Token(NamedTuple):
    """As it was said, and as it is looked up; "" for what says nothing."""

    said: str
    word: str


class Said(Sequence[Token]):
    """The words of a call as they were said, taken apart only once somebody asks for one."""

    __slots__ = ("_found", "_text")

    def __init__(self, text: str) -> None:
        self._text = text
        self._found: list[Token] | None = None

    def _words(self) -> list[Token]:
        if self._found is None:
            self._found = [t for t in tokens(self._text) if t.word]
        return self._found

    def __len__(self) -> int:
        return len(self._words())

    @overload
    def __getitem__(self, at: int) -> Token: ...
    @overload
    def __getitem__(self, at: slice) -> Sequence[Token]: ...
    def __getitem__(self, at: int | slice) -> Token | Sequence[Token]:
        return self._words()[at]


def at_once(text: str, known: Mapping[str, str]) -> list[str] | None:
    """The words of a call of which every one is known, as `tokens` has them; None for all others.

    `known` has a word for what it is looked up as, and marks with "" where they say nothing.
    """
    if not text.isascii():
        return None
    plain = text.strip().lower()
    if "/" in plain or "\r" in plain or ("cl" in plain and _CENTILITRES.search(plain)):
        return None
    if ("x " in plain or " x" in plain) and _SPACED.search(plain):
        return None
    if "'" in plain:
        plain = _INSIDE.sub("", plain)
    words = list(map(known.get, _PLAIN.findall(plain)))
    if None in words:
        return None
    found = cast("list[str]", words)
    return [w for w in found if w] if "" in found else found


def tokens(text: str) -> list[Token]:
    """Every word, and the marks that part drinks; letters and symbols are never dropped."""
    plain = text.strip()
    if _SPACED.search(plain):
        plain = _SPACED.sub(r"\1\2x", plain)
    if "/" in plain or "½" in plain or "\u00d7" in plain:
        for pattern, instead in _WRITTEN:
            plain = pattern.sub(instead, plain)
    return [Token(said, _word(said)) for said in _TOKEN.findall(plain.replace("\r", "\n"))]


@lru_cache(maxsize=1 << 14)
def words_of(text: str) -> tuple[str, ...]:
    """The words of a name, as calls are looked up; marks left out, "&" as "and". Names are few and
    asked for often, so they are kept."""
    return tuple(t.word for t in tokens(text) if t.word and t.word not in BREAKS)


def amount_ml(word: str) -> float | None:
    """ "17 cl" in millilitres; None for any other word."""
    found = _AMOUNT.fullmatch(word)
    if found is None:
        return None
    return float(found[1].replace(",", ".")) * _IN_ML.get(found[2], US_FLOZ_ML)


def _word(said: str) -> str:
    if said.isascii():
        low = said.lower()
        if said.isalnum():
            return ONE_SPELLING.get(low, low)
    else:
        split = unicodedata.normalize("NFKD", said.casefold())
        low = "".join(c for c in split if not unicodedata.combining(c)) or said
    if len(low) == 1:
        if low in _MARKS:
            return _MARKS[low]
        return "" if unicodedata.category(low)[0] in _SILENT else low
    return low.replace("'", "").replace("\u2019", "").replace("`", "")


MARKS = {m: _word(m) for m in map(chr, range(128)) if not m.isalnum() and not m.isspace()} | {
    LINE: LINE
}
"""What each mark of a keyboard is looked up as; "" for those that say nothing."""
