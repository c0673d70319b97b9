"""Garnishes, told apart by the words of their slug and else by what they are."""

import math
from collections.abc import Callable, Iterator, Sequence

from recipes.grammar.drawing_tools import FOOT, INK, Canvas, Point, circle, number, shape, tag
from recipes.grammar.ingredients import Ingredient, Kind
from recipes.grammar.liquids import darker, lighter

LINE = 1.5
GREEN = "#3f8f4a"


def garnish(
    items: Sequence[Ingredient], canvas: Canvas, surface: float, *, standing: bool = False
) -> Iterator[str]:
    """The first at the left of the rim, the next ones further in; drawn from the back.

    `standing`: only what stands in the drink; otherwise everything else.
    """
    glass = canvas.glass
    left = canvas.at(-glass.wall[-1][1], glass.rim_cm)
    places = [(left[0] + 15.0 * n, left[1]) for n in range(len(items))]
    for item, place in reversed(list(zip(items, places, strict=True))):
        drawn = _drawn_as(item)
        if (drawn in _STANDING) != standing:
            continue
        if drawn in _AFLOAT:
            yield drawn(canvas.at(0, surface), item.colour)
        else:
            yield drawn(place, item.colour)


Draws = Callable[[Point, str], str]


def _drawn_as(item: Ingredient) -> Draws:
    words = item.slug.split("-")
    known = [_BY_WORD[w] for w in words if w in _BY_WORD]
    return known[-1] if known else _BY_KIND.get(item.kind, _on_a_pick)


def _turned(content: str, turn: float, at: Point) -> str:
    return tag("g", content, transform=f"translate({_xy(at)}) rotate({number(turn)})")


def _xy(point: Point) -> str:
    return f"{number(point[0])} {number(point[1])}"


def half_moon(at: Point, r: float, turn: float, colour: str, *, ghost: bool = False) -> str:
    """A wedge or half a slice, flesh upwards; a ghost is only offered, so only its edge shows."""
    arc = f"M{number(-r)} 0A{number(r)} {number(r)} 0 0 0 {number(r)} 0Z"
    if ghost:
        edge = tag("path", d=arc, fill="#ffffff", fill_opacity=0.6, stroke=INK,
                   stroke_width=LINE, stroke_dasharray="2.4 2")  # fmt: skip
        return _turned(edge, turn, at)
    inner = r * 0.78
    flesh = f"M{number(-inner)} 0A{number(inner)} {number(inner)} 0 0 0 {number(inner)} 0Z"
    spokes = "".join(f"M0 0L{_xy(_around(inner, a))}" for a in (45, 90, 135))
    drawn = tag("path", d=arc, fill=colour, stroke=INK, stroke_width=LINE, stroke_linejoin="round")
    drawn += tag("path", d=flesh, fill=lighter(colour, 0.55))
    drawn += tag("path", d=spokes, stroke=colour, stroke_width=1.1)
    return _turned(drawn, turn, at)


def _around(r: float, degrees: float) -> Point:
    return r * math.cos(math.radians(degrees)), r * math.sin(math.radians(degrees))


def _wedge(at: Point, colour: str) -> str:
    return half_moon((at[0] + 1, at[1] + 0.5), 10.0, -152, colour)


def _slice(at: Point, colour: str) -> str:
    return half_moon((at[0] + 2, at[1] + 1), 12.5, -140, colour)


def _wheel(at: Point, colour: str) -> str:
    x, y, r = at[0] + 1, at[1] - 1, 10.5
    spokes = "".join(f"M{_xy((x, y))}l{_xy(_around(r * 0.78, a))}" for a in range(0, 360, 60))
    return (
        circle(x, y, r, fill=colour, stroke=INK, stroke_width=LINE)
        + circle(x, y, r * 0.78, fill=lighter(colour, 0.55))
        + tag("path", d=spokes, stroke=colour, stroke_width=1.2)
    )


def _twist(at: Point, colour: str) -> str:
    x, y = number(at[0] - 5), number(at[1] - 6)
    d = f"M{x} {y}c8 -5 15 0 9 6s-6 10 3 9s10 -6 6 -9"
    wide = tag("path", d=d, fill="none", stroke=INK, stroke_width=6.4, stroke_linecap="round")
    return wide + tag("path", d=d, fill="none", stroke=colour, stroke_width=3.6,
                      stroke_linecap="round")  # fmt: skip


def _spiral(at: Point, colour: str) -> str:
    x, y = number(at[0] - 2), number(at[1] - 5)
    d = f"M{x} {y}c14 -5 16 6 6 9s-2 12 8 9s8 11 -2 11s-6 10 4 10s8 8 0 10"
    wide = tag("path", d=d, fill="none", stroke=INK, stroke_width=6.2, stroke_linecap="round")
    return wide + tag("path", d=d, fill="none", stroke=colour, stroke_width=3.4,
                      stroke_linecap="round")  # fmt: skip


def _cherry(at: Point, colour: str) -> str:
    x, y = at[0] + 3, at[1] - 2
    stem = f"M{_xy((x, y - 5))}q1 -9 8 -12"
    return (
        tag("path", d=stem, fill="none", stroke=GREEN, stroke_width=1.8, stroke_linecap="round")
        + circle(x, y, 6.2, fill=colour, stroke=INK, stroke_width=LINE)
        + circle(x - 2, y - 2, 1.4, fill="#ffffff", fill_opacity=0.75)
    )


def _on_a_pick(at: Point, colour: str) -> str:
    x, y = at
    pick = shape([(x - 9, y - 7), (x + 26, y + 5)], stroke=INK, stroke_width=1.7, close=False)
    balls = [(x + 5, y - 2.2), (x + 15.5, y + 1.4)]
    return pick + "".join(
        circle(bx, by, 5.4, fill=colour, stroke=INK, stroke_width=LINE)
        + circle(bx - 1.6, by - 1.8, 1.2, fill="#ffffff", fill_opacity=0.7)
        for bx, by in balls
    )


def leaf(at: Point, length: float, turn: float, colour: str) -> str:
    size = number(length)
    bulge = number(length * 0.55)
    blade = f"M0 0Q{number(length / 2)} -{bulge} {size} 0Q{number(length / 2)} {bulge} 0 0Z"
    drawn = tag("path", d=blade, fill=colour, stroke=darker(colour, 0.45), stroke_width=0.9)
    return _turned(drawn, turn, at)


def _sprig(at: Point, colour: str) -> str:
    root = (at[0] + 8, at[1] + 2)
    turns = (-165, -135, -35, -60, -112, -86)
    return "".join(leaf(root, 14.0 if t == -86 else 12.5, t, colour) for t in turns)


def _stalk(at: Point, colour: str) -> str:
    x, y = at[0] + 9, at[1]
    top = [(x - 9, y - 17), (x - 3, y - 19)]
    stick = shape(
        [*top, (x + 10, y + 46), (x + 4, y + 46)], fill=colour, stroke=INK, stroke_width=LINE
    )
    rib = shape([(x - 6, y - 17), (x + 7, y + 45)], stroke=darker(colour), stroke_width=1.1,
                close=False)  # fmt: skip
    return "".join(leaf((x - 6, y - 16), 10.0, t, GREEN) for t in (-150, -100, -50)) + stick + rib


def _pineapple(at: Point, colour: str) -> str:
    x, y = at[0] + 1, at[1] + 2
    flesh = [(x, y + 4), (x - 12, y - 11), (x + 8, y - 15)]
    rind = shape(flesh[1:], stroke="#7a5a1e", stroke_width=4.0, close=False)
    tuft = "".join(leaf((x - 2, y - 14), 11.0, t, GREEN) for t in (-125, -95, -65))
    return tuft + shape(flesh, fill=colour, stroke=INK, stroke_width=LINE) + rind


def _fan(at: Point, colour: str) -> str:
    return "".join(half_moon((at[0] + 3 * n, at[1] + 1), 9.0, -150 + 22 * n, colour)
                   for n in range(3))  # fmt: skip


def _berry(at: Point, colour: str) -> str:
    x, y = at[0] + 2, at[1] - 2
    d = f"M{_xy((x, y + 9))}q-10 -7 -7 -14q7 -5 14 0q3 7 -7 14Z"
    body = tag("path", d=d, fill=colour, stroke=INK, stroke_width=LINE, stroke_linejoin="round")
    seeds = "".join(circle(x + dx, y + dy, 0.7, fill="#ffffff", fill_opacity=0.8)
                    for dx, dy in ((-3, -1), (3, -1), (0, 2)))  # fmt: skip
    return body + seeds + "".join(leaf((x, y - 5), 6.0, t, GREEN) for t in (-160, -90, -20))


def _cluster(at: Point, colour: str) -> str:
    x, y = at[0] + 2, at[1] - 3
    drupes = [(0, 0), (-4.2, -2), (4.2, -2), (-2.2, 3.6), (2.2, 3.6), (0, -4.4)]
    return "".join(
        circle(x + dx, y + dy, 3.2, fill=lighter(colour, 0.12), stroke=INK, stroke_width=1.1)
        for dx, dy in drupes
    )


def _cut_fruit(at: Point, colour: str) -> str:
    x, y = at[0], at[1] - 2
    seeds = "".join(circle(x + dx, y + 0.8, 0.9, fill=INK) for dx in (-4, 0, 4))
    half = f"M{_xy((x - 9.5, y))}a9.5 8 0 0 0 19 0Z"
    rind = tag("path", d=half, fill="#6b2b45", stroke=INK, stroke_width=LINE)
    return rind + tag("ellipse", cx=x, cy=y, rx=8.4, ry=2.6, fill=colour) + seeds


def _beans(at: Point, colour: str) -> str:
    x, y = at[0], at[1] - 1.6
    return "".join(
        tag("ellipse", cx=x + dx, cy=y, rx=3.4, ry=2.1, fill=colour, stroke=INK, stroke_width=0.8)
        for dx in (-8.0, 0.0, 8.0)
    )


def _dust(at: Point, colour: str) -> str:
    x, y = at[0], at[1] - 0.6
    return "".join(circle(x + dx, y + dx % 2 * 0.8, 0.9, fill=colour) for dx in range(-12, 13, 3))


def _heap(at: Point, colour: str) -> str:
    """Salt on the side: a little heap beside the foot of the glass."""
    x = number(max(3.0, at[0] - 14))
    d = f"M{x} {number(FOOT)}q6 -2 8 -7q2 5 8 7Z"
    return tag("path", d=d, fill=colour, stroke=INK, stroke_width=1.2, stroke_linejoin="round")


_STANDING = (_stalk,)
_AFLOAT = (_beans, _dust, _cut_fruit)
_BY_WORD: dict[str, Draws] = {
    "wedge": _wedge,
    "lime": _wedge,
    "lemon": _wedge,
    "slice": _slice,
    "orange": _slice,
    "wheel": _wheel,
    "sugared": _wheel,
    "twist": _twist,
    "peel": _twist,
    "zest": _twist,
    "spiral": _spiral,
    "cherry": _cherry,
    "olive": _on_a_pick,
    "onion": _on_a_pick,
    "sprig": _sprig,
    "leaf": _sprig,
    "mint": _sprig,
    "celery": _stalk,
    "cucumber": _wheel,
    "pineapple": _pineapple,
    "apple": _fan,
    "strawberry": _berry,
    "raspberry": _cluster,
    "blackberry": _cluster,
    "passion": _cut_fruit,
    "beans": _beans,
    "nutmeg": _dust,
    "cinnamon": _dust,
}
_BY_KIND: dict[Kind, Draws] = {Kind.FRUIT: _wedge, Kind.HERB: _sprig, Kind.RIM: _heap}
