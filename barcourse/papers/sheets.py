"""A paper's lines as CSV, for whoever reads on in a spreadsheet."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from recipes.grammar.sheet_text import as_text

BYTE_ORDER_MARK = "\ufeff"
"""Without it a common spreadsheet takes the file for another alphabet."""


def to_csv(head: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Cells that look like formulas are written as text."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(head)
    for row in rows:
        writer.writerow([as_text(str(cell)) for cell in row])
    return BYTE_ORDER_MARK + out.getvalue()
