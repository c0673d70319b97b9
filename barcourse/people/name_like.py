"""What in a few words looks like somebody's name, so that whoever typed it can leave it out.

A guess by rule, to ask with and never to refuse with: a title before a capital letter, or two words
with capital letters beside one another. Weekdays and months aren't names.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

TITLES = (
    "mr", "mrs", "ms", "miss", "mx", "dr", "prof", "professor", "sir", "dame", "lord", "lady",
    "señor", "señora", "don", "doña", "monsieur", "madame", "mme", "herr", "frau",
)  # fmt: skip
_WORD = r"[^\W\d_]+(?:['\u2019-][^\W\d_]+)*"
_PAIR = re.compile(rf"\b({_WORD})(\.?[ \t]+)({_WORD})")


def name_like(words: str, known: Iterable[str] = ()) -> str:
    """The first such pair as it was typed, empty where there is none. `known`: words that begin
    with a capital letter and are no names here."""
    plain = {word.casefold() for word in known}
    place = 0
    while (found := _PAIR.search(words, place)) is not None:
        first, between, second = found.groups()
        if _is_name(first, between, second, plain):
            return found.group(0)
        place = found.start(3)
    return ""


def _is_name(first: str, between: str, second: str, plain: set[str]) -> bool:
    if not _is_capitalised(second) or second.casefold() in plain:
        return False
    if first.casefold() in TITLES:
        return True
    return "." not in between and first.casefold() not in plain and _is_capitalised(first)


def _is_capitalised(word: str) -> bool:
    """One capital letter and small ones: neither "ID" nor "A"."""
    return word[:1].isupper() and any(letter.islower() for letter in word[1:])
