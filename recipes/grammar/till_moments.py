"""Columns that say when something was ordered or paid: "Opened at", "Closed at".

The moment of ordering is when it was made, so it wins over that of paying, which may be after
midnight. What a heading of that kind holds is seen in its cells: "Paid" may be money.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence

from recipes.grammar import till_cells
from recipes.grammar.course import fold
from recipes.grammar.till_columns import NEARLY_ALL, Rows, column_of

_OF = ("{} at", "{} on", "{} time", "time {}", "date {}", "{} date", "{} date time", "{}",
       "order {}", "order {} at", "check {}", "check {} at", "bill {}", "bill {} at",
       "tab {}", "tab {} at", "ticket {}", "ticket {} at", "{} um",
       "{} am", "{} le", "{} à")  # fmt: skip
_ORDERED = ("ordered", "order", "placed", "rung up", "rung in", "rung", "entered", "sent", "fired",
            "sold", "opened", "open", "created", "started", "start", "bestellt", "geöffnet",
            "commandé", "ouvert")  # fmt: skip
_PAID = ("closed", "close", "paid", "payment", "settled", "completed", "finished", "ended",
         "end", "bezahlt", "geschlossen", "payé", "fermé")  # fmt: skip

ORDERED = tuple(fold(way.format(word)) for word in _ORDERED for way in _OF)
PAID = tuple(fold(way.format(word)) for word in _PAID for way in _OF)
_MOMENTS = {*ORDERED, *PAID}
_CLOCK = re.compile(r"\d{1,2}(?:[:h]\d{2}(?::\d{2})?(?:\.\d+)?| ?(?=[ap]\.?m))\s*(?:[ap]\.?m\.?)?",
                    re.IGNORECASE)  # fmt: skip
_FIRST_YEAR = 2000
"""Spreadsheets write an hour without a day as one of 1899 or 1904."""


def is_moment(name: str) -> bool:
    return fold(name) in _MOMENTS


def rank(name: str) -> int:
    """Moments of ordering before what is no moment by its name, and those of paying last."""
    return -1 if fold(name) in ORDERED else int(fold(name) in PAID)


def with_moments(body: Rows, places: Mapping[str, int], names: Sequence[str]) -> dict[str, int]:
    """`places` with the day and the hour where headings of moments tell them. A moment that has
    its day wins over a day without hours; where somebody keeps business days these stay."""
    found = dict(places)
    if "date" in found and is_moment(names[found["date"]]) and _all(body, found["date"], _is_clock):
        place = found.pop("date")
        found.setdefault("hour", place)
    date, hour = found.get("date"), found.get("hour")
    by_house = date is not None and fold(names[date]).startswith("business")
    if hour is not None:
        if date is not None and is_moment(names[date]) and _all(body, hour, _is_whole):
            found["date"] = hour
        return found
    if date is not None and _all(body, date, _has_hour):
        return found
    free = _ranked(names, {*found.values()})
    whole = next((place for place in free if _all(body, place, _is_whole)), None)
    clock = next((place for place in free if _all(body, place, _is_clock)), None)
    if by_house and whole is not None and clock is not None:
        found["hour"] = min(whole, clock, key=free.index)
    elif whole is not None:
        found["hour" if by_house else "date"] = whole
    elif clock is not None:
        found["hour"] = clock
    return found


def beside(body: Rows, places: Mapping[str, int], names: Sequence[str]) -> list[str]:
    """Headings of moments that were not taken, where another was; what is paid isn't when."""
    if not any(is_moment(names[places[what]]) for what in ("date", "hour") if what in places):
        return []
    free = [place for place in range(len(names)) if place not in places.values()]
    return [
        names[place]
        for place in free
        if is_moment(names[place]) and any(_all(body, place, m) for m in (_is_whole, _is_clock))
    ]


def _ranked(names: Sequence[str], used: set[int]) -> list[int]:
    order = {name: n for n, name in enumerate((*ORDERED, *PAID))}
    places = (p for p, name in enumerate(names) if fold(name) in order and p not in used)
    return sorted(places, key=lambda place: order[fold(names[place])])


def _all(body: Rows, place: int, holds: Callable[[str], bool]) -> bool:
    cells = column_of(body, place)
    return bool(cells) and sum(map(holds, cells)) >= NEARLY_ALL * len(cells)


def _is_clock(cell: str) -> bool:
    return bool(_CLOCK.fullmatch(cell))


def _has_hour(cell: str) -> bool:
    return till_cells.hour_of(cell) is not None


def _is_whole(cell: str) -> bool:
    """A day with its hour."""
    days = (till_cells.day_of(cell, month_first=m) for m in (False, True))
    return any(day and day.year >= _FIRST_YEAR for day in days) and _has_hour(cell)


def with_clocks(body: Rows, place: int | None) -> Rows:
    """Rows with the hours of this column as clocks, where a spreadsheet wrote shares of a day."""
    if place is None:
        return body
    said = [cells[place].strip() if place < len(cells) else "" for _n, cells in body]
    clocks = till_cells.clocks(said)
    if clocks is said:
        return body
    return [
        (number, [*cells[:place], clock, *cells[place + 1 :]]) if clock else (number, cells)
        for (number, cells), clock in zip(body, clocks, strict=True)
    ]
