"""Words of a till for money that bought no drink (common practice, no source): how a receipt was
paid, and what is charged beside what is drunk."""

from __future__ import annotations

import re
from enum import Flag, auto


class Says(Flag):
    """Where a word says so: as the whole name of a row, which then sold nothing, as "Cash" does and
    "Cash Cow" doesn't; or wherever it stands in a name, which then is no drink, as "cover charge".
    Nobody reads these words."""

    ALONE = auto()
    WITHIN = auto()


_BOTH = Says.ALONE | Says.WITHIN
WORDS: dict[str, Says] = {
    "cash": Says.ALONE,
    r"(?:(?:credit|debit|bank)[ -]?)?cards?": Says.ALONE,
    r"gift[ -]?cards?": _BOTH,
    "contactless": Says.ALONE,
    "payments?": Says.ALONE,
    "tender(?:ed)?": Says.ALONE,
    "change(?: due| given)?": Says.ALONE,
    "(?:amount|total) (?:due|paid)": Says.ALONE,
    "balance(?: due)?": Says.ALONE,
    "(?:sales )?tax(?:es)?": Says.ALONE,
    "vat": Says.ALONE,
    "mwst": Says.ALONE,
    "bar(?:zahlung| gezahlt)": Says.ALONE,
    "vouchers?": _BOTH,
    "gutschein": _BOTH,
    "rounding": _BOTH,
    "(?:card |cash )?tips?": _BOTH,
    "gratuit(?:y|ies)": _BOTH,
    "service charges?": _BOTH,
    "trinkgeld": _BOTH,
    "propina": _BOTH,
    "pourboire": _BOTH,
    r"(?:[\w%]+[ -]){0,3}discounts?": _BOTH,
    r"[\w -]*?(?:(?:[*\u2022#]{2,}+|x{4,}+)[ -]?)+\d{4}": Says.ALONE,  # a card's hidden number
    r"cards? ending(?: in)?": Says.ALONE,
    "cover": Says.WITHIN,
    "couvert": Says.WITHIN,
    "cubierto": Says.WITHIN,
    "corkage": Says.WITHIN,
    "service": Says.WITHIN,
    "surcharges?": Says.WITHIN,
    "charges?": Says.WITHIN,
    "fees?": Says.WITHIN,
    "deposits?": Says.WITHIN,
    "pfand": Says.WITHIN,
    "hire": Says.WITHIN,
    "delivery": Says.WITHIN,
    "breakages?": Says.WITHIN,
    "donations?": Says.WITHIN,
}


def _any_of(where: Says) -> str:
    return "|".join(word for word, says in WORDS.items() if where in says)


_ALONE = re.compile(rf"\W*(?:{_any_of(Says.ALONE)})\b[\W\d]*", re.IGNORECASE)
_WITHIN = re.compile(rf"\b(?:{_any_of(Says.WITHIN)})\b", re.IGNORECASE)


def is_payment(said: str) -> bool:
    """Whether a row of that name sold nothing: "Cash", "Tip 18%"."""
    return bool(_ALONE.fullmatch(said))


def is_charge(said: str) -> bool:
    """Whether it is money for something else than a drink: "cover charge"."""
    return bool(_WITHIN.search(said))
