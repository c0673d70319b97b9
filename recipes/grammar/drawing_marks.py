"""What a drink carries beside liquid and ice: bubbles, foam, leaves, rim, straw, garnish."""

from collections.abc import Iterator

from recipes.grammar.drawing_garnish import garnish, half_moon, leaf
from recipes.grammar.drawing_tools import (
    INK,
    Canvas,
    Point,
    dots,
    number,
    scatter,
    shape,
    tag,
)
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import Ingredient, Kind, Pantry
from recipes.grammar.liquids import CLEAR, darker, is_dark
from recipes.grammar.seen import has_head
from recipes.grammar.spec import How, Method, When

_FIZZY = frozenset({Kind.SODA_MIXER, Kind.SPARKLING, Kind.BEER, Kind.CIDER})
STRAW = "#1b4a3c"
BRASS = "#e0b565"


def bubbles(
    spec: HouseSpec, pantry: Pantry, canvas: Canvas, surface: float, colour: str
) -> Iterator[str]:
    """Fizz, or the flecks of ice in a blended drink."""
    fizzy = any(pantry[p.ingredient].kind in _FIZZY for p in spec.parts)
    blended = spec.method is Method.BLEND
    if not (fizzy or blended):
        return
    thrown = scatter(len(spec.parts) + round(spec.glass_ml))
    found = [_inside(canvas, surface, thrown) for _n in range(26 if blended else 11)]
    if blended:
        yield dots(found, fill="#ffffff", fill_opacity=0.65)
    else:
        edge = "#8fb0b0" if colour == CLEAR else "#ffffff"
        yield dots(found, fill="none", stroke=edge, stroke_width=0.9, stroke_opacity=0.8)


def _inside(canvas: Canvas, surface: float, thrown: Iterator[float]) -> tuple[float, float, float]:
    up = surface * (0.05 + 0.87 * next(thrown))
    reach = canvas.glass.radius(up) * 0.86
    x, y = canvas.at(reach * (2 * next(thrown) - 1), up)
    return x, y, 0.7 + 0.9 * next(thrown)


def head(
    spec: HouseSpec, pantry: Pantry, canvas: Canvas, surface: float, colour: str
) -> Iterator[str]:
    """The head of a drawn beer, in the lip above the fill line and a little over the rim."""
    if not has_head(spec, pantry):
        return
    foam = "#ecdcbd" if is_dark(colour) else "#fffaf0"
    wall = canvas.glass.between(surface, canvas.glass.rim_cm)
    left = [canvas.at(-r, h) for h, r in wall]
    right = [canvas.at(r, h) for h, r in reversed(wall)]
    crown = _crown(left[-1], right[0], smooth=spec.method is Method.TWO_PART)
    start, *up = left
    d = f"M{_xy(start)}" + "".join(f"L{_xy(p)}" for p in up) + crown
    d += "".join(f"L{_xy(p)}" for p in right) + "Z"
    yield tag(
        "path", d=d, fill=foam, stroke=darker(foam), stroke_width=1.2, stroke_linejoin="round"
    )


def _xy(point: Point) -> str:
    return f"{number(point[0])} {number(point[1])}"


def _crown(left: Point, right: Point, *, smooth: bool) -> str:
    """The top of the foam: one low dome, or a row of bubbles."""
    count = 1 if smooth else 5
    step = (right[0] - left[0]) / count
    rise = 6.0 if smooth else 8.5
    return "".join(f"q{number(step / 2)} {number(-rise)} {number(step)} 0" for _n in range(count))


def label(canvas: Canvas) -> Iterator[str]:
    """A plain paper label, so that a bottle and a can are read as what they are."""
    glass = canvas.glass
    if not glass.profile.neck:
        return
    low, high = 0.17 * glass.cm, 0.4 * glass.cm
    wide = glass.radius(low) * 0.97
    for bottom, top, colour in (
        (low, high, "#fbf6e9"),
        (low * 1.25, high * 0.5 + low * 0.5, BRASS),
    ):
        band = [
            canvas.at(x, h) for x, h in ((-wide, bottom), (-wide, top), (wide, top), (wide, bottom))
        ]
        yield shape(band, fill=colour)


def muddle(spec: HouseSpec, pantry: Pantry, canvas: Canvas) -> Iterator[str]:
    """Leaves and fruit at the bottom; sugar is gone."""
    thrown = scatter(7)
    for part in spec.how(How.MUDDLED):
        item = pantry[part.ingredient]
        if item.kind not in (Kind.HERB, Kind.FRUIT):
            continue
        for place in range(min(5, max(2, round(part.amount or 1)))):
            up = canvas.glass.cm * (0.05 + 0.13 * place)
            reach = canvas.glass.radius(up) * 0.62
            middle = canvas.at(reach * (2 * next(thrown) - 1), up)
            turn = 360 * next(thrown)
            if item.kind is Kind.HERB:
                yield leaf(middle, 6.5, turn, item.colour)
            else:
                yield half_moon(middle, 6.0, turn, item.colour)


def rim(spec: HouseSpec, pantry: Pantry, canvas: Canvas) -> Iterator[str]:
    """A rough crust along the edge; half a rim is the left half."""
    if spec.rim is None:
        return
    glass = canvas.glass
    left, top = canvas.at(-glass.wall[-1][1], glass.rim_cm)
    right = canvas.at(0 if spec.rim.half else glass.wall[-1][1], 0)[0]
    start, end = left - 3.2, right + (0 if spec.rim.half else 3.2)
    thrown = scatter(11)
    steps = max(4, round((end - start) / 2.6))
    across = [start + (end - start) * n / steps for n in range(steps + 1)]
    upper = [(x, top - 1.2 - 1.8 * next(thrown)) for x in across]
    lower = [(x, top + 2.6 + 3.4 * next(thrown)) for x in reversed(across)]
    colour = pantry[spec.rim.item].colour
    yield shape([*upper, *lower], fill=colour, stroke=INK, stroke_width=1.1)


def behind(spec: HouseSpec, pantry: Pantry, canvas: Canvas) -> Iterator[str]:
    """Garnish that stands in the drink, so that the liquid hides its foot."""
    yield from garnish(_always(spec, pantry), canvas, 0, standing=True)


def _always(spec: HouseSpec, pantry: Pantry) -> list[Ingredient]:
    return [pantry[g.item] for g in spec.garnish if g.when is When.ALWAYS]


def finish(spec: HouseSpec, pantry: Pantry, canvas: Canvas, surface: float) -> Iterator[str]:
    """The straw leans right; garnishes hang from the left. What is only on request stays off."""
    if spec.straw:
        yield from _straw(canvas, surface)
    always = _always(spec, pantry)
    yield from garnish(always, canvas, surface)
    asked = [pantry[g.item] for g in spec.garnish if g.when is When.ASK]
    if asked and not always:
        left = canvas.at(-canvas.glass.wall[-1][1], canvas.glass.rim_cm)
        yield half_moon((left[0] + 1, left[1]), 10.0, -152, asked[0].colour, ghost=True)


def straw_below(spec: HouseSpec, canvas: Canvas, surface: float, colour: str) -> Iterator[str]:
    """The part in the drink, behind the ice and seen through the liquid."""
    if spec.straw:
        low, at_surface, _out = _straw_points(canvas, surface)
        seen = "#ffffff" if is_dark(colour) else STRAW
        yield shape([low, at_surface], close=False, stroke=seen, stroke_width=4.2,
                    stroke_opacity=0.28)  # fmt: skip


def _straw(canvas: Canvas, surface: float) -> Iterator[str]:
    _low, at_surface, out = _straw_points(canvas, surface)
    yield shape([at_surface, out], stroke=INK, stroke_width=5.4, close=False)
    yield shape([at_surface, out], stroke="#f2ead6", stroke_width=2.8, close=False)


def _straw_points(canvas: Canvas, surface: float) -> tuple[Point, Point, Point]:
    """Its end in the drink, where it meets the surface, and its end above the rim."""
    low, high = 0.12 * canvas.glass.cm, canvas.glass.rim_cm
    from_x, to_x = _straw_line(canvas, low, high)
    slope = (to_x - from_x) / (high - low)
    out = high + 17 / canvas.scale
    heights = (low, surface, out)
    first, middle, last = (canvas.at(from_x + slope * (h - low), h) for h in heights)
    return first, middle, last


def _straw_line(canvas: Canvas, low: float, high: float) -> tuple[float, float]:
    """Across the glass, drawn in until no wall is in the way."""
    glass = canvas.glass
    for share in (1.0, 0.8, 0.6, 0.4, 0.2):
        start, end = -0.3 * share * glass.radius(low), 0.72 * share * glass.radius(high)
        at = [low + (high - low) * n / 12 for n in range(13)]
        across = [start + (end - start) * n / 12 for n in range(13)]
        if all(abs(x) + 0.3 < glass.radius(h) for x, h in zip(across, at, strict=True)):
            return start, end
    return 0.0, 0.0
