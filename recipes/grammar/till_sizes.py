"""Words of a till for sizes (common practice, no source): beside a name they say how it is served,
as the heading of a column how many of that size were sold."""

from __future__ import annotations

import re

BIGGER = frozenset({
    "single", "sgl", "sngl", "small", "sm", "sml", "medium", "med", "large", "lg", "lge", "lrg",
    "xl",
})  # fmt: skip
"""The same drink in another glass: a guest need not say it."""
SERVED = BIGGER | frozenset({
    "half", "double", "dbl", "triple", "regular", "reg", "short", "tall", "normal", "full", "big",
    "klein", "groß",
})  # fmt: skip
"""They leave a drink what it is, and may change how much is poured."""
LETTERS = frozenset({"s", "m", "l", "d", "r"})
"""Beside a name they are sizes; as headings they may be days of the week."""
_BESIDE = frozenset({"size", "sized"})
ONE_GLASS = frozenset({"pint", "schooner", "glass"})
"""What one of a drink is served in, whatever else it may be beside a name."""
_HOLDERS = (
    "pint", "pt", "schooner", "glass", "gls", "bottle", "btl", "carafe", "jug", "pitcher", "shot",
    "flasche", "glas", "verre", "bouteille", "copa", "botella",
)  # fmt: skip
"""What it is sold in; beside a name it may be another drink, or several."""
_HALF = r"(?:half|1/2|½)"
_HEADING = re.compile(
    rf"(?:(?:{'|'.join(sorted(SERVED, key=len, reverse=True))})(?: (?:tall|short))?|"
    rf"(?:{_HALF} ?)?(?:{'|'.join(sorted(_HOLDERS, key=len, reverse=True))})s?|½|"
    r"\d+(?:[.,]\d+)?\s*(?:ml|cl|l|oz|fl\.? ?oz))\.?(?: (?:qty|sold|count))?",
    re.IGNORECASE,
)


def is_size(word: str) -> bool:
    """Whether it says, at either end of a name, how that is served: "half", "d"."""
    return word in SERVED or word in LETTERS or word in _BESIDE


def is_heading(name: str) -> bool:
    """Whether a column of that name says how many of a size were sold: "Dbl Tall", "0,5 l"."""
    return bool(_HEADING.fullmatch(name))
