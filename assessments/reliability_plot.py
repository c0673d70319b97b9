"""What was stated, across, against what came, upwards: on the slant line both are the same. Pure
geometry, in SVG units: 320 by 320."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from assessments.measures.own_record import Bin

SIZE, EDGE = 320, 44
ROOM = SIZE - 2 * EDGE
LEAST, MOST = 3.0, 9.0
"""Radius of a dot: its area goes with how many builds it stands for."""


class Mark(NamedTuple):
    """A dot and the line of what it may be."""

    x: str
    y: str
    radius: str
    low: str
    high: str


class Tick(NamedTuple):
    said: str
    across: str
    up: str


class ReliabilityPlot(NamedTuple):
    marks: tuple[Mark, ...]
    ticks: tuple[Tick, ...]
    slant: str
    frame: str


def plot(bins: Sequence[Bin]) -> ReliabilityPlot:
    most = max((b.count for b in bins), default=1)
    first, last = EDGE, SIZE - EDGE
    return ReliabilityPlot(
        marks=tuple(_mark(b, most) for b in bins),
        ticks=tuple(Tick(str(n), _across(n / 100), _up(n / 100)) for n in (0, 25, 50, 75, 100)),
        slant=f"M{first} {last}L{last} {first}",
        frame=f"M{first} {first}V{last}H{last}",
    )


def _mark(found: Bin, most: int) -> Mark:
    radius = max(LEAST, MOST * (found.count / most) ** 0.5)
    return Mark(
        _across(found.stated), _up(found.came), f"{radius:.1f}", _up(found.low), _up(found.high)
    )


def _across(share: float) -> str:
    return f"{EDGE + ROOM * share:.1f}"


def _up(share: float) -> str:
    return f"{SIZE - EDGE - ROOM * share:.1f}"
