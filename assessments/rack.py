"""The glass rack: of 100 orders, how many are right, would be asked about, or go out wrong.

A rack seen from above has 25 slots in five rows, and each slot stands for four orders, read in rows
from the top left. Full is right, hatched is ask, empty is wrong. A slot on a border is shared, so
the picture is exact to one order. Pure: no Django, no clock. SVG units: the rack is 96 by 96.
"""

import math
from typing import NamedTuple

from assessments.measures.whole_orders import ORDERS, Orders

ROWS = 5
SLOTS = ROWS * ROWS
A_SLOT = ORDERS // SLOTS

PITCH = 18.0
FIRST = 12.0
RADIUS = 7.0
EDGE = FIRST - PITCH / 2
HATCH_GAP = 3.4


class Drawing(NamedTuple):
    """Path data for the rack; `bar` is empty where the house has set no bar."""

    full: str
    hatch: str
    rims: str
    bar: str


class Whisker(NamedTuple):
    """Path data for an interval on a line from 0 to 100, 200 units long."""

    whisker: str
    middle: str
    bar: str


def slots(orders: Orders) -> tuple[Orders, ...]:
    """The 25 slots in reading order, four orders each: right first, then ask, then wrong."""
    if min(orders) < 0 or sum(orders) != ORDERS:
        raise ValueError(f"a rack holds {ORDERS} orders, not {orders}")
    borders = orders.right, orders.right + orders.ask
    return tuple(_slot(start, *borders) for start in range(0, ORDERS, A_SLOT))


def _slot(start: int, asked: int, wrong: int) -> Orders:
    """The slot that begins after `start` orders, where those asked about and those that are wrong
    begin after so many."""
    right = min(max(asked - start, 0), A_SLOT)
    not_wrong = min(max(wrong - start, 0), A_SLOT)
    return Orders(right, not_wrong - right, A_SLOT - not_wrong)


def centre(slot: int) -> tuple[float, float]:
    """Where slot 0 to 24 lies."""
    return FIRST + PITCH * (slot % ROWS), FIRST + PITCH * (slot // ROWS)


def draw(orders: Orders, bar: float | None = None) -> Drawing:
    """The rack as path data, with the house's bar (orders of 100 that must be right).

    Slots that hold one kind alone are drawn beforehand; at most two don't.
    """
    full: list[str] = []
    hatch: list[str] = []
    for number, slot in enumerate(slots(orders)):
        if slot.right == A_SLOT:
            full.append(RIMS[number])
        elif slot.ask == A_SLOT:
            hatch.append(HATCHED[number])
        elif slot.wrong < A_SLOT:
            first, second = slot.right / A_SLOT, (slot.right + slot.ask) / A_SLOT
            full.extend(_filled(number, first))
            hatch.extend(_hatched(number, first, second))
    return Drawing("".join(full), "".join(hatch), ALL_RIMS, "" if bar is None else bar_path(bar))


def bar_path(bar: float) -> str:
    """The line that full slots must reach: everything above and to the left of it.

    Raises ValueError outside 0 to 100.
    """
    if not 0 <= bar <= ORDERS:
        raise ValueError(f"a bar lies between 0 and {ORDERS}, not at {bar}")
    slot, orders = divmod(bar, A_SLOT)
    row, column = divmod(min(int(slot), SLOTS), ROWS)
    left, right = EDGE, EDGE + PITCH * ROWS
    top, bottom = EDGE + PITCH * row, EDGE + PITCH * (row + 1)
    x = left + PITCH * column
    if orders:
        x += PITCH / 2 - RADIUS + 2 * RADIUS * orders / A_SLOT
    if x == left:
        return f"M{_n(left)} {_n(top)}H{_n(right)}"
    return f"M{_n(left)} {_n(bottom)}H{_n(x)}V{_n(top)}H{_n(right)}"


def whisker(low: float, high: float, middle: float, bar: float | None = None) -> Whisker:
    """An interval with its middle, each 0 to 100. Raises ValueError where they are out of order."""
    if not 0 <= low <= middle <= high <= ORDERS:
        raise ValueError(f"an interval runs low, middle, high: {low}, {middle}, {high}")
    if bar is not None and not 0 <= bar <= ORDERS:
        raise ValueError(f"a bar lies between 0 and {ORDERS}, not at {bar}")
    x_low, x_mid, x_high = low * 2, middle * 2, high * 2
    line = f"M{_n(x_low)} 7v10M{_n(x_low)} 12H{_n(x_high)}M{_n(x_high)} 7v10"
    diamond = f"M{_n(x_mid)} 5l4 7l-4 7l-4 -7z"
    return Whisker(line, diamond, "" if bar is None else f"M{_n(bar * 2)} 1v22")


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _circle(slot: int) -> str:
    x, y = centre(slot)
    return f"M{_n(x - RADIUS)} {_n(y)}a7 7 0 1 0 14 0a7 7 0 1 0 -14 0z"


def _filled(slot: int, share: float) -> list[str]:
    """The left part of a slot, up to `share` of its width."""
    if share <= 0:
        return []
    if share >= 1:
        return [_circle(slot)]
    x, y = centre(slot)
    across = 2 * RADIUS * share - RADIUS
    half = math.sqrt(RADIUS**2 - across**2)
    arc = 1 if share > 0.5 else 0
    return [
        f"M{_n(x + across)} {_n(y - half)}A7 7 0 {arc} 0 {_n(x + across)} {_n(y + half)}z",
    ]


def _hatched(slot: int, first: float, second: float) -> list[str]:
    """Slanted lines inside the slot, between two shares of its width."""
    if second <= first:
        return []
    x, y = centre(slot)
    left, right = (2 * RADIUS * share - RADIUS for share in (first, second))
    lines = []
    for number in range(-3, 4):
        offset = number * HATCH_GAP
        # The line v = -u + offset meets the circle where 2u² - 2·offset·u + offset² = r².
        reach = math.sqrt(max(2 * RADIUS**2 - offset**2, 0))
        start, end = max((offset - reach) / 2, left), min((offset + reach) / 2, right)
        if end - start > 0.3:
            lines.append(
                f"M{_n(x + start)} {_n(y + offset - start)}L{_n(x + end)} {_n(y + offset - end)}"
            )
    return lines


RIMS = tuple(_circle(number) for number in range(SLOTS))
HATCHED = tuple("".join(_hatched(number, 0, 1)) for number in range(SLOTS))
ALL_RIMS = "".join(RIMS)
