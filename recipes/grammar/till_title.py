"""The day that a till's title names above its rows, where the rows name none.

How tills word it is common practice, no source. A period of several days names none of them, nor
does what may be one; when it was printed is not when it was sold.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator
from dataclasses import dataclass

from recipes.grammar import till_cells
from recipes.grammar.till_columns import Rows
from recipes.grammar.till_kinds import clipped

_PRINTED = re.compile(
    r"\b(?:print\w*|run|ran|generated|created|made|exported|downloaded|produced|updated|erstellt|"
    r"gedruckt|exportiert|imprim\w*|édité\w*|impreso|generado|stampato)\b",
    re.IGNORECASE,
)
_OF_SEVERAL = re.compile(
    r"\b(?:from|since|until|till|through|thru|to|ending|weeks?|wk|weekly|months?|monthly|mtd|ytd|"
    r"ab|seit|bis|von|woche|monat|du|au|semaine|mois|desde|hasta|semana|mes)\b|[\u2013\u2014]|-\s*$",
    re.IGNORECASE,
)
"""Beside a single day it may be one end of a period."""
_PART_OF_DAY = re.compile(r"\d{1,2}\s*[./-]\s*(?:\d{1,2}\b|$)|\d\s*[&,+]\s*$")
_WORD = re.compile(r"[^\W\d_]{3,}")
_LONGEST = 500
_FIRST_YEAR = 2000


@dataclass(frozen=True)
class TitleDay:
    """`said` is what the row says, `cell` how it writes the day."""

    row: int
    said: str
    cell: str
    day: dt.date


def day_above(rows: Rows, *, month_first: bool) -> TitleDay | None:
    """The one day that these rows name; None for none, several, or what may be a period."""
    found: list[TitleDay] = []
    for number, row in rows:
        text = " | ".join(cell.strip() for cell in row if cell.strip())[:_LONGEST]
        days = [*till_cells.days_in(text, month_first=month_first)]
        labels = [*_labels(text, days)]
        if days and _is_unclear(labels, len({day for _at, _end, day in days})):
            return None
        for (at, end, day), label in zip(days, labels, strict=False):
            if day is None or day.year < _FIRST_YEAR:
                return None
            if not _PRINTED.search(label):
                found.append(TitleDay(number, clipped(text), text[at:end], day))
    return found[0] if len({one.day for one in found}) == 1 else None


_Day = tuple[int, int, dt.date | None]


def _labels(text: str, days: list[_Day]) -> Iterator[str]:
    """What stands before each day, and after the last."""
    before = 0
    for at, end, _day in days:
        yield text[before:at]
        before = end
    yield text[before:]


def _is_unclear(labels: list[str], days: int) -> bool:
    """A piece of another day beside a whole one, "2 March to 8 March 2026"; or a word of a period
    where one day alone stands."""
    if any(_PART_OF_DAY.search(label) or _has_month(label) for label in labels):
        return True
    return len(labels) == 2 and days == 1 and any(map(_OF_SEVERAL.search, labels))


def _has_month(label: str) -> bool:
    return any(till_cells.is_month(word) for word in _WORD.findall(label))
