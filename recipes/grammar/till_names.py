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

_OTHERWISE_FREE = ("sugar", "gluten", "dairy", "lactose", "caffeine", "fat")
_WITHOUT_ELSE = "".join(rf"(?<!{word}[ -])" for word in _OTHERWISE_FREE)
_FREE = re.compile(
    r"(?<![\w.,])(?:n\W?a|a\W?f|virgin|mocktails?|sober|no(?:jito|groni|secco)|"
    rf"zero(?!\W*(?:sugar|zucker|sucre))|{_WITHOUT_ELSE}free|"
    r"(?:non|no|zero|low|without|sans|sin|senza|ohne)\W*al[ck]\w*|al[ck]\w*\W*(?:free|frei|vrij)\w*|"
    r"de\W?al[ck]\w*|0+(?:[.,]0+)?|0+[.,][0-5]\s*%)(?![\w%]|[.,]?\d)|"
    r"(?<![\w.,])0+(?:[.,]0+)?\s*%",
    re.IGNORECASE,
)
"""How tills write of what has no alcohol, or next to none (common practice, no source)."""
_CHARGE = re.compile(
    r"\b(?:cover|corkage|service|surcharges?|charges?|gratuit(?:y|ies)|tips?|fees?|deposits?|"
    r"discounts?|vouchers?|gift cards?|hire|delivery|breakages?|donations?|rounding|"
    r"trinkgeld|pfand|gutschein|couvert|cubierto|propina|pourboire)\b",
    re.IGNORECASE,
)
"""What a till rings up beside what is drunk (common practice, no source)."""


def as_called(said: str) -> str:
    """As a guest would say what a till's change adds: "gin tonic add lime"."""
    return re.sub(r"\badd(?:ed)?\b", "with", said)


def is_alcohol_free(said: str) -> bool:
    """Whether a name has a word for what has no alcohol: "0.0 lager", "af lager", "mocktail"."""
    return bool(_FREE.search(said))


def is_charge(said: str) -> bool:
    """Whether it is money for something else than a drink: "cover charge"."""
    return bool(_CHARGE.search(said))


def spoken(item: str, size: str = "") -> str:
    """What a guest would have said: without the till's number, volumes, prices and marks. A size
    that changes the build stays; one that is only a bigger glass does not."""
    bare = _CODE.sub("", BACK_BEFORE.sub("", VOID.sub("", item)))
    said = _SERVED.sub(" ", f"{size} {bare}").strip()
    for pattern, words in _SHORT_FOR:
        said = re.sub(pattern, words, said, flags=re.IGNORECASE)
    return " ".join(said.split()).strip(" -.,:#")
