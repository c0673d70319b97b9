"""Rows of a till's export that are sums of others, by their words or by their figures; and how a
receipt was paid, which sold nothing."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from recipes.grammar.till_kinds import MOST_LETTERS, Kind, TillLine
from recipes.grammar.till_money import is_payment

_TOTAL = re.compile(
    r"^\W*(?:(?:grand|sub|net|gross|report|category|group|daily|day)[ -]*)?(?:totals?|subtotals?|"
    r"sum|summe|gesamt\w*|zwischensumme|total général)\b[\W\d]*(?:.*:)?\W*$|"
    r"^\W*(?:sub[ -]?total|zwischensumme)\b",
    re.IGNORECASE,
)
_ENDS_SO = re.compile(
    r"[^\W\d_].*[\W_](?:sub-?)?(?:totals?|summe|gesamt|zwischensumme)[\W\d]*$", re.IGNORECASE
)
"""After the name of what is added up: "Cocktails total"."""
PAYMENT = re.compile(r"^\W*(?:tenders?|payments?|zahlung|paiement|pago)\W*$", re.IGNORECASE)
"""What a column says of such a row."""
_SECTIONS, _IN_EACH = 2, 2
"""So many headings that are sums, each of so many rows, are no accident (our own numbers)."""


def is_sum(said: str) -> bool:
    """Whether a row of that name adds up others or says how they were paid."""
    if len(said) > MOST_LETTERS:
        return False
    return bool(_TOTAL.match(said) or _ENDS_SO.match(said) or is_payment(said))


def nameless_sums(lines: Sequence[TillLine]) -> Iterator[TillLine]:
    """A row without a name is a sum where its figure is that of all sales above it, or of those
    since the last sum, and these are more than one."""
    every: list[float] = []
    since: list[float] = []
    for line in lines:
        found = line
        if (
            line.kind is Kind.SALE
            and not line.item
            and any(
                len(part) > 1 and abs(sum(part) - line.quantity) < _ALMOST
                for part in (every, since)
            )
        ):
            found = replace(line, kind=Kind.TOTAL)
        if found.kind is Kind.TOTAL:
            since = []
        elif found.kind is Kind.SALE:
            every.append(line.quantity)
            since.append(line.quantity)
        yield found


def without_sums(lines: Sequence[TillLine]) -> Iterator[TillLine]:
    """Where all the sales stand in sections, each below or above a row with their sum, those rows
    are sums: "BEER 12", then its beers."""
    places = [n for n, line in enumerate(lines) if line.kind is Kind.SALE]
    counts = [lines[n].quantity for n in places]
    heads = _heads(counts) or [len(counts) - 1 - n for n in _heads(counts[::-1])]
    sums = {places[n] for n in heads}
    for n, line in enumerate(lines):
        yield replace(line, kind=Kind.TOTAL) if n in sums else line


def _heads(counts: Sequence[float]) -> list[int]:
    """Which of these are the sums of those that follow up to the next such; none where that
    leaves anything over."""
    if any(n <= 0 for n in counts):
        return []
    heads, at, long_ones = [], 0, 0
    while at < len(counts):
        end, left = at + 1, counts[at]
        while end < len(counts) and left > _ALMOST:
            left -= counts[end]
            end += 1
        if abs(left) > _ALMOST or end == at + 1:
            return []
        heads.append(at)
        long_ones += end - at - 1 >= _IN_EACH
        at = end
    return heads if long_ones >= _SECTIONS else []


_ALMOST = 1e-6
