"""Right of 100 orders over time with its interval, and what happened below it. Pure geometry, in
SVG units: 320 by 322."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from typing import NamedTuple

from assessments.past import Past

WIDTH, HEIGHT = 320, 322
LEFT, RIGHT, TOP = 44.0, 16.0, 14.0
FOOT = 204.0
"""Where 0 orders are; below it the rows of what happened."""
ROWS = (228.0, 250.0, 272.0, 294.0)
SIZE = 5.0


class Tick(NamedTuple):
    said: str
    at: str


class PastPlot(NamedTuple):
    """Path data; `bar` is the house's. Sign-offs are triangles, quizzes dots, changes of the menu
    strokes, those of what ready takes squares."""

    band: str
    line: str
    dots: str
    bar: str
    frame: str
    orders: tuple[Tick, ...]
    signed_off: str
    quizzes: str
    menu_changes: str
    policy_changes: str
    first: str
    last: str


def plot(past: Past, bar: float) -> PastPlot:
    """`bar` as a share. What happened stands at its own time, before the first point too."""
    first, last = past.begins, past.points[-1].at

    def x(at: dt.datetime) -> float:
        return LEFT + (WIDTH - LEFT - RIGHT) * ((at - first) / (last - first))

    points = [(x(p.at), _up(p.right)) for p in past.points]
    upper = [(x(p.at), _up(p.high)) for p in past.points]
    lower = [(x(p.at), _up(p.low)) for p in reversed(past.points)]
    end = _n(WIDTH - RIGHT)
    return PastPlot(
        band=_through([*upper, *lower]) + "Z",
        line=_through(points),
        dots="".join(_dot(*p) for p in points),
        bar=f"M{_n(LEFT)} {_n(_up(bar))}H{end}",
        frame=f"M{_n(LEFT)} {_n(TOP)}V{_n(FOOT)}H{end}",
        orders=tuple(Tick(str(n), _n(_up(n / 100))) for n in (0, 25, 50, 75, 100)),
        signed_off="".join(_triangle(x(at), ROWS[0]) for at in past.signed_off),
        quizzes="".join(_dot(x(at), ROWS[1]) for at in past.quizzes),
        menu_changes="".join(_stroke(x(at), ROWS[2]) for at in past.menu_changes),
        policy_changes="".join(_square(x(at), ROWS[3]) for at in past.policy_changes),
        first=_n(LEFT),
        last=end,
    )


def _up(share: float) -> float:
    return FOOT - (FOOT - TOP) * share


def _n(value: float) -> str:
    return f"{value:.1f}"


def _through(points: Sequence[tuple[float, float]]) -> str:
    return "M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in points)


def _dot(x: float, y: float) -> str:
    return f"M{_n(x - 4)} {_n(y)}a4 4 0 1 0 8 0a4 4 0 1 0 -8 0z"


def _triangle(x: float, y: float) -> str:
    return f"M{_n(x - SIZE)} {_n(y + SIZE)}L{_n(x)} {_n(y - SIZE)}L{_n(x + SIZE)} {_n(y + SIZE)}Z"


def _stroke(x: float, y: float) -> str:
    return f"M{_n(x)} {_n(y - 8)}v16"


def _square(x: float, y: float) -> str:
    return f"M{_n(x - SIZE)} {_n(y - SIZE)}h10v10h-10z"
