"""Strength over ice as a small plot: axes with their numbers, curves, marks, all of it labelled."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.utils.formats import number_format
from django.utils.translation import gettext as _

from recipes.grammar.strength_curves import AtIce, Curve, Size
from recipes.wording import label

WIDTH, HEIGHT = 320.0, 220.0
LEFT, RIGHT, TOP, BOTTOM = 40.0, 18.0, 34.0, 52.0
"""The plot's own units, about a pixel on a phone; the paper decides how big it is drawn."""
_NAMES = 96.0
"""Room for the names at the right ends of several curves."""
_APART = 17.0
_STEPS = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0)
_MOST_TICKS = 5
_DASHES = {Size.SINGLE: "", Size.SHORT_DOUBLE: "9 4", Size.TALL_DOUBLE: "2 4"}


@dataclass(frozen=True)
class Label:
    x: str
    y: str
    text: str
    anchor: str = "middle"


@dataclass(frozen=True)
class Line:
    """A path; `dashes` tells curves apart without colour."""

    path: str
    dashes: str = ""


@dataclass(frozen=True)
class Dot:
    x: str
    y: str


@dataclass(frozen=True)
class Plot:
    """`title` says the whole in words; `grid` are the lines of the numbers at the left."""

    title: str
    grid: tuple[Line, ...]
    axes: Line
    lines: tuple[Line, ...]
    dots: tuple[Dot, ...]
    labels: tuple[Label, ...]


@dataclass(frozen=True)
class _Scale:
    most_ice: float
    most_abv: float
    right: float

    def x(self, share: float) -> float:
        return LEFT + share / self.most_ice * (WIDTH - self.right - LEFT)

    def y(self, abv: float) -> float:
        return HEIGHT - BOTTOM - abv / self.most_abv * (HEIGHT - BOTTOM - TOP)

    def path(self, curve: Curve) -> str:
        return "M" + "L".join(f"{self.x(s):.1f} {self.y(abv):.1f}" for s, abv in curve)


def ice_plot(at: Sequence[AtIce], curve: Curve, percent: Callable[[float], str]) -> Plot:
    """One drink over ice, with a mark for no, light and full ice. `percent` words strengths."""
    scale = _Scale(curve[-1][0], _top(abv for _share, abv in curve), RIGHT)
    marks = [(scale.x(a.ice_share), scale.y(a.strength.abv_percent), a) for a in at]
    labels = [*_axis_labels(scale)]
    for place, (x, y, a) in enumerate(marks):
        anchor = "start" if place == 0 else "end" if place == len(marks) - 1 else "middle"
        beside = x + 6 if place == 0 else x  # clear of the axis
        labels.append(_label(beside, y - 9, percent(a.strength.abv_percent), anchor))
        labels.append(_label(x, HEIGHT - BOTTOM + 18, label(a.ice), anchor))
    said = "; ".join(f"{label(a.ice)}: {percent(a.strength.abv_percent)}" for _x, _y, a in marks)
    return Plot(
        title=_("Alcohol by volume, as served, over the ice in the glass. %(said)s.")
        % {"said": said},
        grid=_grid(scale),
        axes=_axes(scale),
        lines=(Line(scale.path(curve)),),
        dots=tuple(Dot(f"{x:.1f}", f"{y:.1f}") for x, y, _a in marks),
        labels=tuple(labels),
    )


def size_plot(curves: Mapping[Size, Curve], percent: Callable[[float], str]) -> Plot:
    """A highball and its doubles over ice, each curve with its name at its end."""
    most_ice = max(curve[-1][0] for curve in curves.values())
    most_abv = _top(abv for curve in curves.values() for _share, abv in curve)
    scale = _Scale(most_ice, most_abv, _NAMES + RIGHT)
    names = _names()
    ends = {size: (scale.x(c[-1][0]), scale.y(c[-1][1])) for size, c in curves.items()}
    labels = [*_axis_labels(scale), _label(LEFT, HEIGHT - BOTTOM + 18, _("no ice"), "start")]
    right = scale.x(most_ice)
    labels.append(_label(right, HEIGHT - BOTTOM + 18, _("full ice"), "end"))
    for size, y in _spread({size: y for size, (_x, y) in ends.items()}).items():
        labels.append(_label(right + 8, y + 5, names[size], "start"))
    said = "; ".join(f"{names[s]}: {percent(c[-1][1])}" for s, c in curves.items())
    return Plot(
        title=_("Alcohol by volume of the single and its doubles, over the ice in the glass. With "
                "full ice %(said)s.") % {"said": said},
        grid=_grid(scale),
        axes=_axes(scale),
        lines=tuple(Line(scale.path(c), _DASHES[s]) for s, c in curves.items()),
        dots=tuple(Dot(f"{x:.1f}", f"{y:.1f}") for x, y in ends.values()),
        labels=tuple(labels),
    )  # fmt: skip


def _names() -> dict[Size, str]:
    return {
        Size.SINGLE: _("single"),
        Size.SHORT_DOUBLE: _("short double"),
        Size.TALL_DOUBLE: _("tall double"),
    }


def _spread(heights: Mapping[Size, float]) -> dict[Size, float]:
    """The same order from top to bottom, and room for a line of letters between two."""
    found: dict[Size, float] = {}
    above = -math.inf
    for size, y in sorted(heights.items(), key=lambda pair: pair[1]):
        above = max(y, above + _APART)
        found[size] = above
    return found


def _ticks(most: float) -> list[float]:
    """Round numbers from nothing to what the axis reaches."""
    step = next((s for s in _STEPS if most / s <= _MOST_TICKS), _STEPS[-1])
    return [step * n for n in range(int(most / step + 1e-9) + 1)]


def _top(strengths: Iterable[float]) -> float:
    """What the axis reaches: the next round number above the strongest."""
    most = max(strengths)
    step = next((s for s in _STEPS if most / s <= _MOST_TICKS), _STEPS[-1])
    return step * math.ceil(most / step - 1e-9)


def _grid(scale: _Scale) -> tuple[Line, ...]:
    right = WIDTH - scale.right
    heights = [scale.y(tick) for tick in _ticks(scale.most_abv)[1:]]
    return tuple(Line(f"M{LEFT:g} {y:.1f}H{right:g}") for y in heights)


def _axes(scale: _Scale) -> Line:
    return Line(f"M{LEFT:g} {TOP:g}V{HEIGHT - BOTTOM:g}H{WIDTH - scale.right:g}")


def _axis_labels(scale: _Scale) -> Iterable[Label]:
    yield _label(4, 16, _("percent alcohol by volume"), "start")
    for tick in _ticks(scale.most_abv):
        said = number_format(f"{tick:g}")
        yield _label(LEFT - 6, scale.y(tick) + 5, said, "end")
    share = {"n": number_format(round(100 * scale.most_ice))}
    said = _("ice takes 0 to %(n)s %% of the glass") % share
    yield _label((LEFT + WIDTH - scale.right) / 2, HEIGHT - 8, said)


def _label(x: float, y: float, text: str, anchor: str = "middle") -> Label:
    return Label(f"{x:.1f}", f"{y:.1f}", text, anchor)
