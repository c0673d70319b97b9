"""A run plot: pours in their order, the target and what the house allows. Pure geometry, in SVG
units: 320 wide, 120 high. What is off is a cross, so that no colour is needed to see it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from assessments.measures.pours import PourTarget, is_within

WIDTH, HEIGHT = 320, 120
LEFT, TOP = 8.0, 10.0
SIZE = 5.0


class RunPlot(NamedTuple):
    """Path data; `band` is (y, height) of what is allowed."""

    band: tuple[str, str]
    target: str
    run: str
    good: str
    off: str


def plot(pours: Sequence[float], aim: PourTarget) -> RunPlot:
    """Raises ValueError for no pours."""
    if not pours:
        raise ValueError("nothing was poured")
    low, high = aim.limits
    bottom, top = min(*pours, low), max(*pours, high)
    span = (top - bottom) or 1.0

    def y(value: float) -> float:
        return TOP + (top - value) / span * (HEIGHT - 2 * TOP)

    step = (WIDTH - 4 * LEFT) / max(1, len(pours) - 1)
    points = [(2 * LEFT + n * step, y(p)) for n, p in enumerate(pours)]
    within = [is_within(p, aim) for p in pours]
    return RunPlot(
        band=(_n(y(high)), _n(y(low) - y(high))),
        target=f"M0 {_n(y(aim.target))}H{WIDTH}",
        run="M" + "L".join(f"{_n(px)} {_n(py)}" for px, py in points),
        good="".join(_dot(*at) for at, fits in zip(points, within, strict=True) if fits),
        off="".join(_cross(*at) for at, fits in zip(points, within, strict=True) if not fits),
    )


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _dot(x: float, y: float) -> str:
    return f"M{_n(x - SIZE)} {_n(y)}a{_n(SIZE)} {_n(SIZE)} 0 1 0 10 0a5 5 0 1 0 -10 0z"


def _cross(x: float, y: float) -> str:
    left, right, high, low = x - SIZE, x + SIZE, y - SIZE, y + SIZE
    return (
        f"M{_n(left)} {_n(high)}L{_n(right)} {_n(low)}M{_n(left)} {_n(low)}L{_n(right)} {_n(high)}"
    )
