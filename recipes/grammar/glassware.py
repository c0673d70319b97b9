"""Glasses as solids of revolution: a profile of radii over height, scaled to a real capacity.

Profiles are proportions of common glasses (common practice, no source): heights run from 0 at
the inside floor to 1 at the fill line, radii are in the same unit. A glass is its profile scaled
until it holds its capacity up to the fill line, in centimetres, so that volumes in the drawing
are volumes in the glass. 1 ml is 1 cubic centimetre.
"""

import math
from dataclasses import dataclass
from itertools import pairwise

Points = tuple[tuple[float, float], ...]
"""(height, radius), from the floor upwards."""


@dataclass(frozen=True)
class Profile:
    """`lip` is the wall above the fill line, `base` the thickness under the floor, `stem` the
    length of the stem, all as shares of the inside height."""

    points: Points
    lip: float = 0.05
    base: float = 0.04
    stem: float = 0.0
    handle: bool = False
    tint: str = "#ffffff"
    neck: bool = False  # a bottle: closed, with a label


def _frustum(low: tuple[float, float], high: tuple[float, float]) -> float:
    (h0, r0), (h1, r1) = low, high
    return math.pi * (h1 - h0) * (r0 * r0 + r0 * r1 + r1 * r1) / 3


def _smooth(points: Points, steps: int = 8) -> Points:
    """A curve through the points that never swings past them, sampled.

    Radius over height by monotone cubics (Fritsch and Carlson 1980, with the harmonic mean of
    Fritsch and Butland 1984 for the slopes).
    """
    slopes = _slopes(points)
    found = [points[0]]
    for (low, high), (slope, next_slope) in zip(pairwise(points), pairwise(slopes), strict=True):
        shares = (step / steps for step in range(1, steps + 1))
        found += [_hermite(low, high, slope, next_slope, t) for t in shares]
    return tuple(found)


def _slopes(points: Points) -> list[float]:
    steep = [(r1 - r0) / (h1 - h0) for (h0, r0), (h1, r1) in pairwise(points)]
    inner = [2 * a * b / (a + b) if a * b > 0 else 0.0 for a, b in pairwise(steep)]
    return [steep[0], *inner, steep[-1]]


def _hermite(
    low: tuple[float, float], high: tuple[float, float], slope: float, next_slope: float, t: float
) -> tuple[float, float]:
    (h0, r0), (h1, r1) = low, high
    wide = h1 - h0
    rest = 1 - t
    radius = (
        (1 + 2 * t) * rest**2 * r0
        + t * rest**2 * wide * slope
        + t**2 * (3 - 2 * t) * r1
        - t**2 * rest * wide * next_slope
    )
    return h0 + t * wide, radius


def _bowl(radius: float, steps: int = 20) -> Points:
    """Half an ellipsoid, as wide as it likes and 1 high."""
    angles = [math.pi / 2 * i / steps for i in range(steps + 1)]
    return tuple((1 - math.cos(a), radius * math.sin(a)) for a in angles)


PROFILES: dict[str, Profile] = {
    "tumbler": Profile(((0, 0.25), (1, 0.27))),
    "highball": Profile(((0, 0.215), (1, 0.262))),
    "collins": Profile(((0, 0.178), (1, 0.192)), lip=0.04),
    "rocks": Profile(((0, 0.42), (1, 0.49)), lip=0.08, base=0.12),
    "shot": Profile(((0, 0.25), (1, 0.39)), lip=0.06, base=0.2),
    "pint": Profile(((0, 0.19), (1, 0.285)), lip=0.07, base=0.03),
    "cup": Profile(((0, 0.29), (1, 0.41)), base=0.02, tint="#dfe3e1"),
    "mug": Profile(
        _smooth(((0, 0.385), (0.15, 0.415), (0.6, 0.425), (1, 0.40))),
        base=0.02,
        handle=True,
        tint="#e2b48c",
    ),
    "coffee": Profile(
        _smooth(((0, 0.10), (0.03, 0.195), (0.1, 0.265), (0.4, 0.315), (1, 0.345))),
        stem=0.16,
        handle=True,
    ),
    "cocktail": Profile(_bowl(0.92), lip=0.1, stem=1.45),
    "martini": Profile(((0, 0.0), (1, 0.93)), lip=0.06, stem=1.1),
    "hurricane": Profile(
        _smooth(
            (
                (0, 0.07),
                (0.02, 0.125),
                (0.07, 0.17),
                (0.22, 0.21),
                (0.42, 0.195),
                (0.58, 0.18),
                (0.8, 0.2),
                (1, 0.24),
            )
        ),
        stem=0.09,
    ),
    "wine": Profile(
        _smooth(
            (
                (0, 0.05),
                (0.03, 0.16),
                (0.1, 0.275),
                (0.32, 0.42),
                (0.55, 0.445),
                (0.8, 0.41),
                (1, 0.365),
            )
        ),
        stem=0.75,
    ),
    "flute": Profile(
        _smooth(((0, 0.012), (0.1, 0.075), (0.4, 0.14), (0.75, 0.158), (1, 0.145))), stem=0.42
    ),
    "bottle": Profile(
        _smooth(
            (
                (0, 0.166),
                (0.2, 0.166),
                (0.46, 0.166),
                (0.6, 0.14),
                (0.72, 0.085),
                (0.84, 0.064),
                (1, 0.058),
            )
        ),
        lip=0.1,
        base=0.01,
        tint="#c9a35c",
        neck=True,
    ),
    "can": Profile(
        _smooth(((0, 0.245), (0.06, 0.264), (0.5, 0.266), (0.93, 0.264), (1, 0.235))),
        lip=0.02,
        base=0.015,
        tint="#d5d9d8",
        neck=True,
    ),
}
_SAME_SHAPE = {
    "balloon": "wine",
    "beer": "pint",
    "champagne": "flute",
    "coupe": "cocktail",
    "julep": "cup",
    "lowball": "rocks",
    "old-fashioned": "rocks",
    "schooner": "pint",
    "shooter": "shot",
    "sling": "hurricane",
    "stein": "mug",
}
_KNOWN = {**{name: name for name in PROFILES}, **_SAME_SHAPE}


def profile(glass: str) -> Profile:
    """By the house's word for the glass ("double-rocks" is rocks); unknown: a straight tumbler."""
    if glass in _KNOWN:
        return PROFILES[_KNOWN[glass]]
    words = [w for w in glass.split("-") if w in _KNOWN]
    return PROFILES[_KNOWN[words[-1]] if words else "tumbler"]


@dataclass(frozen=True)
class Glass:
    """A glass in centimetres. `wall` runs from the floor past the fill line to the rim."""

    profile: Profile
    capacity_ml: float
    cm: float  # the inside height up to the fill line

    @property
    def wall(self) -> Points:
        wall = [(h * self.cm, r * self.cm) for h, r in self.profile.points]
        rim = (1 + self.profile.lip) * self.cm
        return (*wall, (rim, _beyond(wall, rim)))

    @property
    def rim_cm(self) -> float:
        return self.wall[-1][0]

    @property
    def widest_cm(self) -> float:
        return max(r for _h, r in self.wall)

    @property
    def under_cm(self) -> float:
        """What stands under the inside floor: base, or stem and foot."""
        return (self.profile.base + self.profile.stem) * self.cm

    def radius(self, height: float) -> float:
        wall = self.wall
        for (h0, r0), (h1, r1) in pairwise(wall):
            if height <= h1:
                return r0 + (r1 - r0) * max(0.0, height - h0) / (h1 - h0)
        return wall[-1][1]

    def height_of(self, ml: float) -> float:
        """Where this much liquid stands, in centimetres above the floor; never above the rim."""
        wall, left = self.wall, ml
        for low, high in pairwise(wall):
            held = _frustum(low, high)
            if left <= held:
                return _height_within(low, high, left)
            left -= held
        return self.rim_cm

    def between(self, low: float, high: float) -> Points:
        """The inside wall from one height to another, both ends included."""
        inner = [p for p in self.wall if low < p[0] < high]
        return ((low, self.radius(low)), *inner, (high, self.radius(high)))


def _beyond(wall: list[tuple[float, float]], height: float) -> float:
    """The radius above the fill line, if the wall goes on as it came."""
    (h0, r0), (h1, r1) = wall[-2:]
    return r1 + (r1 - r0) / (h1 - h0) * (height - h1)


def _height_within(low: tuple[float, float], high: tuple[float, float], ml: float) -> float:
    """Halving, to a thousandth of a millimetre: the closed form divides by nought in a cylinder."""
    (h0, r0), (h1, r1) = low, high
    bottom, top = h0, h1
    while top - bottom > 1e-5:
        middle = (bottom + top) / 2
        radius = r0 + (r1 - r0) * (middle - h0) / (h1 - h0)
        if _frustum(low, (middle, radius)) < ml:
            bottom = middle
        else:
            top = middle
    return (bottom + top) / 2


def make_glass(slug: str, capacity_ml: float) -> Glass:
    shape = profile(slug)
    points = shape.points
    held = sum(_frustum(a, b) for a, b in pairwise(points))
    return Glass(shape, capacity_ml, (capacity_ml / held) ** (1 / 3))
