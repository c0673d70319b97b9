"""Ice in the drawing: cubes stacked to the top, fewer afloat, or crushed and heaped."""

import math
from collections.abc import Iterator

from recipes.grammar.drawing_tools import Canvas, Point, polygon, scatter, tag
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.liquids import is_dark
from recipes.grammar.spec import Ice, Method

CUBE_CM = 2.5
CRUMB_CM = 0.95
EDGE = "#8fa9ab"


def ice(spec: HouseSpec, canvas: Canvas, surface: float, colour: str) -> Iterator[str]:
    """Serving ice only; what a drink was shaken or blended with is gone."""
    if spec.ice is Ice.NONE or spec.method is Method.BLEND:
        return
    if spec.ice is Ice.CRUSHED:
        blocks = list(_crumbs(canvas))
    else:
        blocks = list(_cubes(canvas, spec.ice, surface))
    level = canvas.at(0, surface)[1]
    under = [b for b in blocks if sum(y for _x, y in b) / len(b) > level]
    over = [b for b in blocks if b not in under]
    yield from _drawn(under, "#ffffff" if is_dark(colour) else EDGE)
    yield from _drawn(over, EDGE)


def _drawn(blocks: list[list[Point]], edge: str) -> Iterator[str]:
    if blocks:
        yield tag(
            "path",
            d="".join(polygon(b) for b in blocks),
            fill="#ffffff",
            fill_opacity=0.58,
            stroke=edge,
            stroke_width=1.3,
            stroke_opacity=0.85,
            stroke_linejoin="round",
        )


def _cubes(canvas: Canvas, kind: Ice, surface: float) -> Iterator[list[Point]]:
    """Rows from the floor to just above the surface; light ice is the upper rows alone."""
    glass = canvas.glass
    side = min(CUBE_CM, 1.25 * glass.radius(glass.cm / 2))
    top = surface + 0.3 * side if kind is Ice.LIGHT else max(surface, glass.cm) + 0.25 * side
    rows = max(1, math.floor(top / side))
    turn = scatter(rows)
    first = rows - max(1, rows // 2) if kind is Ice.LIGHT else 0
    gap = (top - rows * side) / rows
    for row in range(first, rows):
        low = row * (side + gap) + gap / 2
        yield from _row(canvas, low, side, row, turn)


def _row(
    canvas: Canvas, low: float, side: float, row: int, turn: Iterator[float]
) -> Iterator[list[Point]]:
    glass = canvas.glass
    half = min(glass.radius(low), glass.radius(low + side)) - 0.12
    count = max(1, math.floor(2 * half / side + 0.15))
    pitch = min(2 * half / count, side * 1.25)
    for place in range(count):
        across = (place - (count - 1) / 2) * pitch
        slack = max(0.0, half - pitch * count / 2)
        across += (0.6 if row % 2 else -0.6) * slack
        angle = (next(turn) - 0.5) * 0.5
        size = min(side, pitch, 2 * half) * 0.82
        middle = canvas.at(across, low + side / 2)
        yield _square(middle, size * canvas.scale, angle)


def _square(middle: Point, side: float, angle: float) -> list[Point]:
    reach = side / math.sqrt(2)
    corners = (angle + math.pi / 4 + quarter * math.pi / 2 for quarter in range(4))
    return [(middle[0] + reach * math.cos(a), middle[1] + reach * math.sin(a)) for a in corners]


def _crumbs(canvas: Canvas) -> Iterator[list[Point]]:
    """Crumbs from wall to wall, the last rows heaped over the rim."""
    glass = canvas.glass
    size = max(CRUMB_CM, glass.cm / 9)
    rows = math.ceil(glass.cm / size) + 1
    thrown = scatter(rows)
    for row in range(rows):
        up = (row + 0.5) * size
        half = glass.radius(up) * (1.0 if up < glass.cm else 0.72) - size * 0.55
        count = max(1, round(2 * half / size) + 1)
        for place in range(count):
            across = -half + 2 * half * place / max(1, count - 1)
            middle = canvas.at(across, up + (next(thrown) - 0.5) * 0.4 * size)
            length = size * (0.62 + 0.25 * next(thrown)) * canvas.scale
            yield _square(middle, length, next(thrown) * math.pi)
