"""A drink drawn from its house spec alone: an SVG of the glass, its ice and liquids, its finish.

The glass stands in a box of 100 by 140 units, a back in a smaller one at its right. Liquids are
bodies of revolution: the volume under each edge is the volume in the glass, at `data-scale` units
to a centimetre. Flat fills and presentation attributes only, so that pages with a strict content
policy and papers draw the same.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from html import escape

from recipes.grammar.drawing_ice import ice
from recipes.grammar.drawing_marks import (
    behind,
    bubbles,
    finish,
    head,
    label,
    muddle,
    rim,
    straw_below,
)
from recipes.grammar.drawing_tools import (
    FOOT,
    HEIGHT,
    INK,
    MIDDLE,
    WIDTH,
    Canvas,
    number,
    polygon,
    shape,
    tag,
)
from recipes.grammar.glassware import Glass, Points, make_glass
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import Pantry
from recipes.grammar.liquids import Layer, darker, layers, level_ml

WALL = 1.3  # how thick the glass is drawn, in units, without its outline
OUTLINE = 2.6
BACK = 0.6
"""How big a back is drawn beside a drink that would be drawn as big as itself."""


def draw(
    spec: HouseSpec, pantry: Pantry, *, title: str, prefix: str = "", height: int = 140
) -> str:
    """The drink as one `<svg>` element, `height` pixels high.

    `title` says in words what is to be seen. `prefix` keeps the only id apart from the ids of
    other drawings on the page; without it the drawing has none.
    """
    drink = _drink(spec, pantry)
    body = "".join([*_body(drink), *_backs(spec, pantry)])
    wide = WIDTH + len(spec.beside) * BACK * WIDTH
    named = f'<title id="{escape(prefix)}title">' if prefix else "<title>"
    by = {"aria_labelledby": f"{prefix}title"} if prefix else {}
    return tag(
        "svg",
        f"{named}{escape(title)}</title>{body}",
        xmlns="http://www.w3.org/2000/svg",
        role="img",
        **by,
        width=round(height * wide / HEIGHT),
        height=height,
        viewBox=f"0 0 {number(wide)} {HEIGHT}",
        data_scale=f"{drink.canvas.scale:.5f}",
    )


@dataclass(frozen=True)
class _Drink:
    spec: HouseSpec
    pantry: Pantry
    canvas: Canvas
    layers: tuple[Layer, ...]
    surface: float  # centimetres above the floor


def _drink(spec: HouseSpec, pantry: Pantry) -> _Drink:
    canvas, found = _canvas(make_glass(spec.glass, spec.glass_ml)), layers(spec, pantry)
    return _Drink(spec, pantry, canvas, found, _surface(spec, canvas.glass, found))


def _backs(spec: HouseSpec, pantry: Pantry) -> Iterator[str]:
    """Each a drawing of its own, on the ground that the drink stands on."""
    for place, back in enumerate(spec.beside):
        left, top = WIDTH * (1 + place * BACK), FOOT * (1 - BACK)
        to = f"translate({number(left)} {number(top)}) scale({BACK})"
        yield tag("g", "".join(_body(_drink(back, pantry))), transform=to, data_back=place + 1)


def _canvas(glass: Glass) -> Canvas:
    """Small glasses are drawn smaller, but not as small as they are: a shot must still be read."""
    real = glass.rim_cm + glass.under_cm
    tall = min(108.0, 106 * (real / 14) ** 0.4)
    held = 6.0 if glass.profile.handle else 0.0  # a handle takes room on the right
    scale = min(tall / real, (40 - held) / glass.widest_cm)
    return Canvas(glass, scale, FOOT - glass.under_cm * scale, MIDDLE - held)


def _surface(spec: HouseSpec, glass: Glass, found: tuple[Layer, ...]) -> float:
    return glass.height_of(level_ml(spec, sum(layer.ml for layer in found)))


def _body(drink: _Drink) -> Iterator[str]:
    """From the back to the front."""
    spec, pantry, canvas = drink.spec, drink.pantry, drink.canvas
    yield _stand(canvas)
    yield _outside(canvas)
    yield _inside(canvas)
    yield from behind(spec, pantry, canvas)
    yield from _liquids(drink)
    colour = drink.layers[-1].colour if drink.layers else "#ffffff"
    yield from muddle(spec, pantry, canvas)
    yield from bubbles(spec, pantry, canvas, drink.surface, colour)
    yield from straw_below(spec, canvas, drink.surface, colour)
    yield from ice(spec, canvas, drink.surface, colour)
    yield from head(spec, pantry, canvas, drink.surface, colour)
    yield _outline(canvas)
    yield from label(canvas)
    yield from rim(spec, pantry, canvas)
    yield from finish(spec, pantry, canvas, drink.surface)


def _liquids(drink: _Drink) -> Iterator[str]:
    """Each layer from one level to the next; ice spreads all of them by the same share."""
    glass = drink.canvas.glass
    poured = sum(layer.ml for layer in drink.layers)
    spread = level_ml(drink.spec, poured) / poured if poured else 1.0
    under, low = 0.0, 0.0
    for layer in drink.layers:
        under += layer.ml * spread
        high = glass.height_of(under)
        if high > low:
            d = _revolved(drink.canvas, glass.between(low, high))
            yield tag("path", d=d, fill=layer.colour, data_liquid=" ".join(layer.items))
        low = high
    if drink.layers:
        left, right = (drink.canvas.at(x, low) for x in (-glass.radius(low), glass.radius(low)))
        line = darker(drink.layers[-1].colour)
        yield shape([left, right], stroke=line, stroke_width=1.4, close=False)


def _revolved(canvas: Canvas, wall: Points) -> str:
    left = [canvas.at(-r, h) for h, r in wall]
    right = [canvas.at(r, h) for h, r in reversed(wall)]
    return polygon([*left, *right])


def _wall(
    canvas: Canvas, out: float
) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    """The glass from the left rim down and up to the right rim, `out` units outside the drink."""
    wall = canvas.glass.wall
    left = [(x - out, y) for x, y in (canvas.at(-r, h) for h, r in reversed(wall))]
    right = [(2 * canvas.middle - x, y) for x, y in reversed(left)]
    return left, right


def _thick(canvas: Canvas) -> float:
    """Metal and brown glass show as a wall; clear glass hardly does."""
    return WALL if canvas.glass.profile.tint == "#ffffff" else 2.6


def _inside(canvas: Canvas) -> str:
    """The empty glass behind the drink, where the wall has a colour of its own."""
    if canvas.glass.profile.tint == "#ffffff":
        return ""
    return tag("path", d=_revolved(canvas, canvas.glass.wall), fill="#fdfbf4")


def _outside(canvas: Canvas) -> str:
    profile = canvas.glass.profile
    left, right = _wall(canvas, _thick(canvas))
    opacity = 0.55 if profile.tint == "#ffffff" else 1.0
    floor = _floor(canvas, left[-1], right[0])
    return shape([*left, *floor, *right], fill=profile.tint, fill_opacity=opacity)


def _floor(
    canvas: Canvas, left: tuple[float, float], right: tuple[float, float]
) -> list[tuple[float, float]]:
    """The underside: a thick base, or the point where the stem begins."""
    profile = canvas.glass.profile
    if profile.stem:
        return [(canvas.middle - 1.5, left[1] + 2.2), (canvas.middle + 1.5, right[1] + 2.2)]
    return [(left[0] + 0.8, FOOT), (right[0] - 0.8, FOOT)]


def _outline(canvas: Canvas) -> str:
    left, right = _wall(canvas, _thick(canvas))
    profile = canvas.glass.profile
    floor = _floor(canvas, left[-1], right[0])
    around = shape([*left, *floor, *right], stroke=INK, stroke_width=OUTLINE, close=profile.neck)
    return around + _shine(canvas)


def _shine(canvas: Canvas) -> str:
    """A streak of light down the left side."""
    glass = canvas.glass
    low, high = 0.22 * glass.cm, 0.86 * glass.cm
    streak = glass.between(low, high)
    outer = [canvas.at(-r * 0.86, h) for h, r in streak]
    inner = [canvas.at(-r * 0.86 + 0.24, h) for h, r in reversed(streak)]
    return shape([*outer, *inner], fill="#ffffff", fill_opacity=0.5)


def _stand(canvas: Canvas) -> str:
    """Stem, foot and handle, behind the glass."""
    profile, glass = canvas.glass.profile, canvas.glass
    drawn = ""
    if profile.handle:
        drawn += _handle(canvas)
    if profile.stem:
        foot = min(0.72 * glass.widest_cm, 3.6) * canvas.scale
        top = canvas.floor
        half = [(1.5, top), (1.5, FOOT - 3.4), (foot, FOOT - 0.8), (foot, FOOT)]
        left = [(canvas.middle - x, y) for x, y in half]
        right = [(canvas.middle + x, y) for x, y in reversed(half)]
        drawn += shape([*left, *right], fill="#ffffff", stroke=INK, stroke_width=OUTLINE - 0.6)
    return drawn


def _handle(canvas: Canvas) -> str:
    glass = canvas.glass
    x = canvas.at(glass.radius(glass.cm * 0.8), 0)[0]
    top, low = canvas.at(0, glass.cm * 0.82)[1], canvas.at(0, glass.cm * 0.25)[1]
    near, far = number(x), number(x + 0.42 * (low - top))
    high, deep = number(top), number(low)
    d = f"M{near} {high}C{far} {high} {far} {deep} {near} {deep}"
    wide = tag("path", d=d, fill="none", stroke=INK, stroke_width=6.2)
    return wide + tag("path", d=d, fill="none", stroke=glass.profile.tint, stroke_width=2)
