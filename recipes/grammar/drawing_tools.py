"""Small tools of the drawing: the box, rounded numbers, elements, and seeded scatter."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape
from typing import Any

from recipes.grammar.glassware import Glass

WIDTH, HEIGHT = 100, 140
MIDDLE, FOOT = 50.0, 135.0
INK = "#17211d"

Point = tuple[float, float]


@dataclass(frozen=True)
class Canvas:
    """Where a glass stands: `scale` units to a centimetre, its inside floor at `floor`."""

    glass: Glass
    scale: float
    floor: float
    middle: float = MIDDLE

    def at(self, across: float, up: float) -> Point:
        """Centimetres from the middle and above the floor, as units of the box."""
        return self.middle + across * self.scale, self.floor - up * self.scale


def number(value: float) -> str:
    """Two decimals at most, without a trailing nought or a minus nought."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _value(value: Any) -> str:
    return number(value) if isinstance(value, float) else escape(str(value))


def tag(name: str, content: str = "", /, **attributes: Any) -> str:
    """An element; `stroke_width` becomes `stroke-width`, numbers are rounded, text is escaped."""
    said = "".join(f' {k.replace("_", "-")}="{_value(v)}"' for k, v in attributes.items())
    return f"<{name}{said}>{content}</{name}>" if content else f"<{name}{said}/>"


def polygon(points: Sequence[Point], *, close: bool = True) -> str:
    """Path data through the points."""
    steps = "L".join(f"{number(x)} {number(y)}" for x, y in points)
    return f"M{steps}{'Z' if close else ''}"


def shape(
    points: Sequence[Point], *, fill: str = "none", close: bool = True, **attributes: Any
) -> str:
    joined = {"stroke_linejoin": "round", "stroke_linecap": "round"}
    strokes = joined if "stroke" in attributes else {}
    return tag("path", d=polygon(points, close=close), fill=fill, **attributes, **strokes)


def circle(x: float, y: float, r: float, **attributes: Any) -> str:
    return tag("circle", cx=float(x), cy=float(y), r=float(r), **attributes)


def dots(found: Sequence[tuple[float, float, float]], **attributes: Any) -> str:
    """Many small circles (x, y, radius) in one path."""
    d = "".join(
        f"M{number(x - r)} {number(y)}a{number(r)} {number(r)} 0 1 0 {number(2 * r)} 0"
        f"a{number(r)} {number(r)} 0 1 0 {number(-2 * r)} 0"
        for x, y, r in found
    )
    return tag("path", d=d, **attributes)


def scatter(seed: int) -> Iterator[float]:
    """Numbers from 0 to 1 that look thrown and are always the same.

    Lehmer's generator with the constants of Park and Miller (1988): cheap, and the same on every
    machine and in every release of Python.
    """
    state = seed % 2147483646 + 1
    while True:
        state = state * 48271 % 2147483647
        yield state / 2147483647
