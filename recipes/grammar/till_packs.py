"""Names on the till that tell of several glasses at once: packs, deals, counts.

How tills write them is common practice, no source. A figure that stands alone may as well be a size
("draught lager 16"), so it counts only before a plural ("3 lagers").
"""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass
from enum import Enum

from recipes.grammar.calls.words import AGAIN, COUNTS

MOST_IN_ONE = 99
"""A higher figure is no count of glasses in one sale (our own number)."""
_WORDS = {said: n for said, n in COUNTS.items() if n > 1 and said not in AGAIN}
_WORD = "|".join(sorted(_WORDS, key=len, reverse=True))
_N = rf"(?<![\w.,])(?P<n>\d{{1,2}}|{_WORD})"
_HOLDER = r"(?:bucket|tray|round|box|crate|case|set|flight|pack|pck|pk)(?:s|es)?"
_VOLUME = r"(?:\d+(?:[.,]\d+)?\s*(?:ml|cl|l|oz))?"


class How(Enum):
    """How a name says it: what a house told of one way says nothing of the others. Nobody reads
    these words."""

    DEAL = "deal"
    PACK = "pack"
    TIMES = "times"
    ALONE = "alone"


_SURE = (
    # "4 for 3": what is paid for comes last
    (How.DEAL, rf"{_N}\W*(?:for|4)\W*(?:\d{{1,2}}|{_WORD}|one)\b"),
    (How.PACK, rf"{_N}\W*{_HOLDER}\b"),  # "6 pack", "6pk"
    (How.PACK, rf"\b{_HOLDER}\W+(?:of\W+)?(?P<n>\d{{1,2}}|{_WORD})\b"),  # "bucket of 5", "pack 6"
    (How.TIMES, rf"{_N}\W*x\W*{_VOLUME}(?!\w)"),  # "2x", "2 x", "6x330ml"
    (How.TIMES, r"(?<!\w)x\W*(?P<n>\d{1,2})\b"),  # "x2", "x 2"
)
_IN_WORDS = rf"^(?P<n>{_WORD})\b|\b(?P<m>{_WORD})$"
_BARE = r"^(?P<n>\d{1,2})\b"


@dataclass(frozen=True)
class Several:
    """A name that tells of `each` glasses of `rest`."""

    each: int
    rest: str
    how: How

    @property
    def is_sure(self) -> bool:
        """Not where the number stands alone: it may belong to a drink's own name or be a size, so
        it counts only if the rest is known."""
        return self.how is not How.ALONE


def several(said: str, names: Collection[str] = ()) -> Several | None:
    """None where a name tells of one glass. It is in lower case; so are `names`, the drinks that
    are known, among which one may end as a plural does ("madras")."""
    for how, pattern in (*_SURE, (How.ALONE, _IN_WORDS)):
        if found := _found(how, pattern, said):
            return found
    found = _found(How.ALONE, _BARE, said)
    return found if found and _is_plural(found.rest, names) else None


def _found(how: How, pattern: str, said: str) -> Several | None:
    match = re.search(pattern, said)
    if not match:
        return None
    number = next(n for n in match.groups() if n)
    each = _WORDS.get(number) or int(number)
    rest = " ".join(f"{said[: match.start()]} {said[match.end() :]}".split()).strip(" -.,:#")
    rest = re.sub(r"^of\s+", "", rest)
    return Several(each, rest, how) if each > 1 and rest else None


def _is_plural(rest: str, names: Collection[str]) -> bool:
    ends_so = rest.endswith("s") and not rest.endswith("ss")
    return ends_so and not any(f" {rest}".endswith(f" {name}") for name in names)
