"""A person's past as their page shows it."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor

from assessments.board import Row
from assessments.past import Point, past_of
from assessments.past_plot import plot
from recipes.menu import Menu


@dataclass(frozen=True)
class Line:
    """Of 100 orders; the interval rounded outwards."""

    point: Point
    right: int
    low: int
    high: int


def show_past(row: Row | None, menu: Menu) -> dict[str, object]:
    """For the page; nothing where there is no past to show yet."""
    found = past_of(row, menu) if row else None
    if row is None or found is None:
        return {}
    return {
        "past": found,
        "past_plot": plot(found, row.sheet.policy.least_right),
        "past_lines": [
            Line(p, round(100 * p.right), floor(100 * p.low), ceil(100 * p.high))
            for p in reversed(found.points)
        ],
        "past_station": row.station,
    }
