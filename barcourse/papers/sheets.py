"""A paper's lines as CSV, for whoever reads on in a spreadsheet."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from django.http import HttpResponse

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


def csv_file(content: str, name: str) -> HttpResponse:
    """A file to be kept, under this name; nobody's cache keeps it."""
    response = HttpResponse(content, content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{name}.csv"'
    response["Cache-Control"] = "private, no-store"
    return response
