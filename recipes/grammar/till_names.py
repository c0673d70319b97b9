"""Names as tills write them: marks of voids and refunds, numbers, sizes and short words."""

from __future__ import annotations

import re

VOID = re.compile(
    r"^\W*(?:void|voided|cancel|cancelled|canceled|deleted|removed|error correct|storno|storniert|"
    r"annul\w*|anulado)\b",
    re.IGNORECASE,
)
BACK_BEFORE = re.compile(r"^\W*(?:refund(?:ed)?|return(?:ed)?)\b\W*(?=\w)", re.IGNORECASE)

_CODE = re.compile(r"^\W*(?:\d{3,}|#\d+|[A-Z]{1,3}\d{2,})\W+(?=[^\W\d_])")
_SERVED = re.compile(
    r"\b\d+(?:[.,]\d+)?\s*(?:ml|cl|l|oz|fl\.? ?oz|floz)\b\.?|[€$£]\s*\d+(?:[.,]\d+)?|"
    r"\b(?:happy hour|hh|promo|offer|special|reg|regular|std|standard|each|ea)\b",
    re.IGNORECASE,
)
_SHORT_FOR = (
    (r"^(?:1/2|½)(?:\s*(?:pts?\b\.?|pints?\b))?(?:\s*of\b)?", "half of"),
    (r"(?:\b1/2|½)(?:\s*(?:pts?\b\.?|pints?\b))?", "half"),
    (r"\bpts?\b\.?", "pint"),
    (r"\b(?:dbl|dble|doppelt|doble)\b\.?", "double"),
    (r"\b(?:sgl|sngl|single|lge?|large|sml?|small|med|medium|glass of|btl of)\b\.?", " "),
    (r"\b(?:btl|bot)\b\.?", "bottle"),
    (r"\bw/\s*", "and "),
    (r"[()\[\]{}*_/|+]|(?<=\s)-(?=\s)", " "),
)


def spoken(item: str, size: str = "") -> str:
    """What a guest would have said: without the till's number, volumes, prices and marks. A size
    that changes the build stays; one that is only a bigger glass does not."""
    bare = _CODE.sub("", BACK_BEFORE.sub("", VOID.sub("", item)))
    said = _SERVED.sub(" ", f"{size} {bare}").strip()
    for pattern, words in _SHORT_FOR:
        said = re.sub(pattern, words, said, flags=re.IGNORECASE)
    return " ".join(said.split()).strip(" -.,:#")
