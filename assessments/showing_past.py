"""A person's past as their page shows it."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from math import ceil, floor

from assessments.board import Row
from assessments.measures.sales_mix import ShiftKind
from assessments.past import Day, Point, past_of
from assessments.past_plot import plot
from recipes.menu import Menu


@dataclass(frozen=True)
class Figures:
    """Of 100 orders; the interval rounded outwards."""

    right: int
    low: int
    high: int


@dataclass(frozen=True)
class Line:
    """`figures` None: that day was not reckoned, something happened on it."""

    day: Day
    figures: Figures | None


def show_past(
    row: Row | None, menu: Menu, now: dt.datetime, shift: ShiftKind | None = None
) -> dict[str, object]:
    """For the page; nothing where there is no past to show yet. The menu is that of the moment,
    and `shift` the kind, that the row is reckoned for."""
    found = past_of(row, menu, now, shift) if row else None
    if row is None or found is None:
        return {}
    return {
        "past": found,
        "past_plot": plot(found, row.sheet.policy.least_right),
        "past_lines": [
            Line(day, _figures(day.point) if day.point else None) for day in reversed(found.days)
        ],
        "past_station": row.station,
        "past_to_come": found.points[-1].at if found.points[-1].at > now else None,
    }


def _figures(point: Point) -> Figures:
    return Figures(round(100 * point.right), floor(100 * point.low), ceil(100 * point.high))
