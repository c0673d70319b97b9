"""A file from the till into rows, as text or a workbook."""

from __future__ import annotations

from barcourse.people.models import Venue
from recipes.grammar.sheet_text import decode
from recipes.grammar.till_columns import Chosen
from recipes.grammar.till_found import TillSheet
from recipes.grammar.till_sheet import has_columns, read_till, till_of
from recipes.importing import Received, received

MOST_TILL_KB = 4000
"""A night of 50,000 rows."""

MONTH_FIRST = frozenset({"us"})
"""Where 02/03 is February, if the days themselves don't say (common practice, no source)."""


DECIMAL_COMMA = frozenset({"eu"})
"""Where 1.204 is more than a thousand, if the figures themselves don't say (common practice, no
source)."""


def till_received(data: bytes) -> Received:
    """The file or text as it came; of a workbook the first sheet that has sales."""
    return received(data, MOST_TILL_KB, has_columns, formulas=True)


def till_sheet(
    came: Received, venue: Venue, encoding: str | None = None, chosen: Chosen | None = None
) -> TillSheet:
    """Raises `CannotBuild` with the reasons where it is no export of a till."""
    month_first = venue.country in MONTH_FIRST
    decimal = "," if venue.country in DECIMAL_COMMA else "."
    if came.rows is not None:
        return till_of(came.rows, month_first=month_first, decimal=decimal, chosen=chosen)
    text, _encoding = decode(came.data, encoding)
    return read_till(text, month_first=month_first, decimal=decimal, chosen=chosen)
