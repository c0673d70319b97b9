"""Names as tills write them: marks of voids and refunds, numbers, sizes and short words."""

from __future__ import annotations

import re
from functools import lru_cache

from recipes.grammar.calls.words import SOBER
from recipes.grammar.course import MOST_FOLDED, fold
from recipes.grammar.till_sizes import BIGGER

_VOIDED = (
    r"void|voids|voided|cancel|cancelled|canceled|deleted|removed|error correct|storno|storniert|"
    r"annul\w*|anulado"
)
_BACK = r"refund(?:s|ed)?|return(?:s|ed)?"
VOID = re.compile(rf"^\W*(?:{_VOIDED})\b", re.IGNORECASE)
_VOID_AFTER = re.compile(rf"(?<=\w)(?<!\bthe)\W+(?:{_VOIDED})\W*$", re.IGNORECASE)
_BACK_BEFORE = re.compile(rf"^\W*(?:{_BACK})\b\W*(?=\w)", re.IGNORECASE)
_BACK_AFTER = re.compile(rf"(?<=\w)(?<!\bthe)\W+(?:{_BACK})\W*$", re.IGNORECASE)
"""Before a name or after it; "The Void" is a name."""

_CODE = re.compile(r"^\W*(?:\d{3,}|#\d+|[A-Z]{1,3}\d{2,})\W+(?=[^\W\d_])")
_SERVED = re.compile(
    r"\b\d+(?:[.,]\d+)?\s*(?:ml|cl|l|oz|fl\.? ?oz|floz)\b\.?|[€$£]\s*\d+(?:[.,]\d+)?|"
    r"\b(?:happy hour|hh|promo|offer|special|reg|regular|std|standard|each|ea)\b",
    re.IGNORECASE,
)
_LITRE = r"\s*(?:l|lt|ltrs?|lit(?:er|re)s?)\b\.?"
_FIRST = r"(?<![\w.,/])"
_VESSELS = (
    (rf"{_FIRST}(?:7[05]\s*cl\b|7[05]0\s*ml\b|0[.,]7(?:0|5|50)?{_LITRE})", "bottle"),
    (rf"{_FIRST}(?:37[.,]5\s*cl|375\s*ml)\b", "half bottle"),
    (rf"{_FIRST}(?:[1-9](?:[.,]\d+)?{_LITRE}|1[05]0\s*cl\b|[1-9][05]00\s*ml\b)", "litre"),
)
"""Volumes of wine and spirits that are a bottle (EU directive 2007/45/EC and common practice)."""
_LARGER = re.compile(
    r"\b(bottle|carafe|pitcher|jug|magnum|decanter|growler|tower|bucket|litre|karaffe|pichet|jarra)"
    r"s?\b",
    re.IGNORECASE,
)
_SHORT_FOR = (
    (r"^(?:1/2|½)(?:\s*(?:pts?\b\.?|pints?\b))?(?:\s*of\b)?", "half of"),
    (r"(?:\b1/2|½)(?:\s*(?:pts?\b\.?|pints?\b))?", "half"),
    (r"\bpts?\b\.?", "pint"),
    (r"\b(?:dbl|dble|doppelt|doble)\b\.?", "double"),
    (rf"\b(?:{'|'.join(sorted(BIGGER))}|gls)\b\.?", " "),
    (r"(?<=\w)(?:\s*\(\s*(?:[sml]|glass)\s*\)|\s+-\s+[sml])\s*$", " "),
    (r"\b(?:btls?|bot|bots|flasche)\b\.?", "bottle"),
    (r"\bhse\b\.?", "house"),
    (r"\bw/\s*", "and "),
    (r"[()\[\]{}*_/|+]|(?<=\s)-(?=\s)", " "),
)

_OTHERWISE_FREE = ("sugar", "gluten", "dairy", "lactose", "caffeine", "fat")
_WITHOUT_ELSE = "".join(rf"(?<!{word}[ -])" for word in _OTHERWISE_FREE)
_FREE = re.compile(
    rf"(?<![\w.,])(?:n\W?a|a\W?f|virgin|mocktails?|sober|{'|'.join(SOBER)}|"
    rf"zero(?!\W*(?:sugar|zucker|sucre))|{_WITHOUT_ELSE}free|"
    r"(?:non|no|zero|low|without|sans|sin|senza|ohne)\W*(?:the\W*)?(?:al[ck]\w*|booze)|al[ck]\w*\W*(?:free|frei|vrij)\w*|"
    r"de\W?al[ck]\w*|0+(?:[.,]0+)?|0+[.,][0-5]\s*%)(?![\w%]|[.,]?\d)|"
    r"(?<![\w.,])0+(?:[.,]0+)?\s*%",
    re.IGNORECASE,
)
"""How tills write of what has no alcohol, or next to none (common practice, no source)."""


_AND = re.compile(
    r"(?<=\w)\s*&\s*(?=\w)|(?<=\w)\s*['\u2019`]n['\u2019`]?\s*(?=\w)|"
    r"(?<=\w)\s+n['\u2019`]?\s+(?!al[ck])(?=\w{2})",  # "lager n a" is one without alcohol
    re.IGNORECASE,
)
"""Ways to write "and" between two words."""


def with_and(said: str) -> str:
    """Every "&" and "n" between words as "and": "gin & tonic" and "gin 'n' tonic" are one name."""
    return _AND.sub(" and ", said)


@lru_cache(maxsize=MOST_FOLDED)
def without_and(said: str) -> str:
    """Letters and figures in lower case, without "and" between words: on a till "gin and tonic",
    "gin + tonic" and "gin tonic" are one name."""
    return re.sub(r"(?<=\w) and(?= \w)", "", fold(with_and(said)))


def as_called(said: str) -> str:
    """As a guest would say what a till's change adds: "gin tonic add lime"."""
    return re.sub(r"\badd(?:ed)?\b", "with", said)


def is_alcohol_free(said: str) -> bool:
    """Whether a name has a word for what has no alcohol: "0.0 lager", "af lager", "mocktail"."""
    return bool(_FREE.search(said))


def is_void(item: str) -> bool:
    """Whether a name says that it was rung up and never sold: "VOID Madras", "Madras (void)"."""
    return bool(VOID.match(item) or _VOID_AFTER.search(item))


def is_back(item: str) -> bool:
    """Whether a name says that it takes a sale off: "Refund Madras", "Madras - REFUND"."""
    return bool(_BACK_BEFORE.match(item) or _BACK_AFTER.search(item))


def vessel(said: str) -> str:
    """The word of a name for what holds several glasses, or a bottle that is sold as it is."""
    found = _LARGER.search(said)
    return found[1].casefold() if found else ""


def spoken(item: str, size: str = "") -> str:
    """What a guest would have said: without the till's number, volumes, prices and marks. A size
    that changes the build or is another item stays; one that is only a bigger glass does not."""
    bare = item
    for mark in (VOID, _VOID_AFTER, _BACK_BEFORE, _BACK_AFTER, _CODE):
        bare = mark.sub("", bare)
    said = f"{size} {bare}"
    for pattern, words in _VESSELS:
        said = re.sub(pattern, f" {words} ", said, flags=re.IGNORECASE)
    said = _SERVED.sub(" ", said).strip()
    for pattern, words in _SHORT_FOR:
        said = re.sub(pattern, words, said, flags=re.IGNORECASE)
    return " ".join(said.split()).strip(" -.,:#")
