"""The reliability plot of what the program stated: on the line, it came as often as stated."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from assessments.measures.rehearsal import Bin

SIZE, EDGE = 320, 40
INK, PAPER, LINE = "#1d3b2f", "#f6efe0", "#9a7b34"


def plot(bins: Sequence[Bin]) -> str:
    """An SVG by itself: a dot a tenth of the stated chance, the larger the more often stated."""
    most = max((b.count for b in bins), default=1)
    dots = "".join(_dot(b, most) for b in bins)
    corner, far = _at(0, 0), _at(1, 1)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {SIZE} {SIZE}" role="img">'
        "<title>Reliability: stated chance across, share that came right upwards</title>"
        f'<rect width="{SIZE}" height="{SIZE}" fill="{PAPER}"/>'
        f'<line x1="{corner[0]}" y1="{corner[1]}" x2="{far[0]}" y2="{far[1]}" stroke="{LINE}"/>'
        f"{dots}{_axes()}</svg>\n"
    )


def _at(stated: float, came: float) -> tuple[float, float]:
    room = SIZE - 2 * EDGE
    return round(EDGE + room * stated, 1), round(SIZE - EDGE - room * came, 1)


def _dot(found: Bin, most: int) -> str:
    x, y = _at(found.stated, found.came)
    radius = round(3 + 9 * (found.count / most) ** 0.5, 1)
    said = f"stated {found.stated:.2f}, came {found.came:.2f}, {found.count} times"
    return (
        f'<circle cx="{x}" cy="{y}" r="{radius}" fill="{INK}" fill-opacity="0.75">'
        f"<title>{escape(said)}</title></circle>"
    )


def _axes() -> str:
    marks = []
    for tenth in (0, 5, 10):
        (x, low), (left, y) = _at(tenth / 10, 0), _at(0, tenth / 10)
        said = f"{tenth / 10:g}"
        marks.append(f'<text x="{x}" y="{low + 20}" text-anchor="middle">{said}</text>')
        marks.append(f'<text x="{left - 8}" y="{y + 5}" text-anchor="end">{said}</text>')
    return f'<g font-family="sans-serif" font-size="13" fill="{INK}">{"".join(marks)}</g>'
