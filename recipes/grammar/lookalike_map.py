"""A map of drinks: the more alike two of them are built, the nearer they lie.

Points come from the distances alone: classical scaling (the two leading eigenvectors of the
doubly centred squared distances; Torgerson 1952, from memory), then majorisation of the stress
(de Leeuw 1977, from memory), which never makes it worse. Boxes around the points are then pushed
apart until none covers another. Millimetres, rounded to a tenth so that a paper is the same on
every machine; x to the right, y downwards; no randomness.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

ROUNDS = 200
PUSHES, GENTLY = 120, 0.4
"""Rounds of majorisation; rounds of pushing, and how much of an overlap each of them undoes (our
own choices, by eye)."""
BEAT = 1.5
"""Millimetres between the places that are tried for a box."""
GROWTH = 1.08
MOST_GROWTHS = 40
MARGINS = (7.0, 4.0, 1.2)
"""Millimetres kept free between two boxes, tried in turn: with the first there is room for a label
on a line between neighbours."""
APART = MARGINS[-1]
"""The same about a label, and wherever it is crowded."""


@dataclass(frozen=True)
class Box:
    """What is to be placed: how wide and high it is."""

    width: float
    height: float


@dataclass(frozen=True)
class Tie:
    """A line between two boxes, by their numbers, with a label of its own."""

    one: int
    other: int
    label: Box


@dataclass(frozen=True)
class Spot:
    """A box in its place: the middle of it."""

    x: float
    y: float
    width: float
    height: float

    @property
    def left(self) -> float:
        return self.x - self.width / 2

    @property
    def top(self) -> float:
        return self.y - self.height / 2

    def covers(self, other: Spot) -> bool:
        across = abs(self.x - other.x) < (self.width + other.width) / 2
        return across and abs(self.y - other.y) < (self.height + other.height) / 2


@dataclass(frozen=True)
class Layout:
    """`spots` of the boxes and `labels` of the ties, in the order given, in a room of `width` by
    `height`. The room has the shape that was asked for, and is larger where that was too small."""

    spots: tuple[Spot, ...]
    labels: tuple[Spot, ...]
    width: float
    height: float


def lay_out(
    boxes: Sequence[Box], distances: Array, ties: Sequence[Tie], width: float, height: float
) -> Layout:
    """`distances` is square and symmetric, in the order of the boxes. Raises ValueError for
    anything else."""
    apart = np.asarray(distances, dtype=float)
    if apart.shape != (len(boxes), len(boxes)) or not np.allclose(apart, apart.T):
        raise ValueError("a distance for every pair of boxes, the same both ways")
    points = _long_side_across(plane(apart), width >= height)
    sizes = np.array([[b.width, b.height] for b in boxes]).reshape(-1, 2)
    tags = np.array([[t.label.width, t.label.height] for t in ties]).reshape(-1, 2)
    for room, margin in _rooms(width, height):
        placed = _place(points, sizes + margin, ties, tags + APART, room, sizes + APART)
        if placed is not None:
            return _layout(placed, sizes, tags, room)
    rows, room = _in_rows(np.vstack([sizes, tags]) + APART, width)
    return _layout(rows, sizes, tags, room)


def _rooms(width: float, height: float) -> Iterator[tuple[Array, float]]:
    """The room with ever smaller margins in it, then ever larger rooms of its shape."""
    room = np.array([width, height])
    yield from ((room, margin) for margin in MARGINS[:-1])
    yield from ((room * GROWTH**growth, APART) for growth in range(MOST_GROWTHS))


def plane(apart: Array) -> Array:
    """Points in the plane whose distances are as near to these as can be had."""
    points = _scaled(apart)
    for _round in range(ROUNDS):
        points = _majorised(apart, points)
    return points


def stress(apart: Array, points: Array) -> float:
    """Kruskal's stress-1 (1964, from memory): 0 where the points keep every distance. The points
    may be of any scale."""
    found = _between(points)
    total = float((found**2).sum())
    if total == 0:
        return 0.0 if not apart.any() else 1.0
    scale = float((found * apart).sum()) / total
    wanted = float((apart**2).sum())
    return float(np.sqrt(((scale * found - apart) ** 2).sum() / wanted)) if wanted else 1.0


def _scaled(apart: Array) -> Array:
    count = len(apart)
    if count < 2:
        return np.zeros((count, 2))
    centre = np.eye(count) - 1 / count
    values, vectors = np.linalg.eigh(-0.5 * centre @ (apart**2) @ centre)
    leading = vectors[:, ::-1][:, :2] * np.sqrt(np.maximum(values[::-1][:2], 0))
    return _signed(leading)


def _signed(points: Array) -> Array:
    """An eigenvector has no sign of its own: the point farthest out lies to the right, below."""
    largest = np.abs(points.round(6)).argmax(axis=0)
    signs = np.sign(points[largest, range(points.shape[1])])
    return points * np.where(signs == 0, 1, signs)


def _between(points: Array) -> Array:
    gaps = points[:, None, :] - points[None, :, :]
    return np.asarray(np.sqrt((gaps**2).sum(axis=2)))


def _majorised(apart: Array, points: Array) -> Array:
    """One step of Guttman's transform."""
    found = _between(points)
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = np.where(found > 1e-12, apart / found, 0.0)
    weights = -ratio
    np.fill_diagonal(weights, 0.0)
    np.fill_diagonal(weights, -weights.sum(axis=1))
    return np.asarray(weights @ points / max(len(points), 1))


def _long_side_across(points: Array, across: bool) -> Array:
    """Turned so that the points spread most along the long side of the room."""
    if len(points) < 2:
        return points
    _values, axes = np.linalg.eigh(np.cov((points - points.mean(axis=0)).T))
    order = [1, 0] if across else [0, 1]
    return _signed((points - points.mean(axis=0)) @ axes[:, order])


def _place(
    points: Array, sizes: Array, ties: Sequence[Tie], tags: Array, room: Array, bare: Array
) -> Array | None:
    """Boxes first, each as near to its point as the others let it; then the ties' labels, each as
    near to the middle of its line, between the `bare` boxes. None where the room is too small."""
    start = _pushed(_fitted(points, sizes, room), sizes, room)
    boxes = _settled(start, sizes, np.empty((0, 2)), np.empty((0, 2)), room)
    if boxes is None:
        return None
    middles = np.array([(boxes[t.one] + boxes[t.other]) / 2 for t in ties]).reshape(-1, 2)
    labels = _settled(middles, tags, boxes, bare, room)
    return None if labels is None else np.vstack([boxes, labels])


def _fitted(points: Array, sizes: Array, room: Array) -> Array:
    """As large as the room lets them be, in one scale for both ways."""
    if not len(points):
        return points
    free = np.maximum(room - sizes.max(axis=0), 1)
    spread = np.maximum(np.ptp(points, axis=0), 1e-9)
    scale = float((free / spread).min())
    middle = (points.max(axis=0) + points.min(axis=0)) / 2
    return np.asarray((points - middle) * scale + room / 2)


def _pushed(start: Array, sizes: Array, room: Array) -> Array:
    """Whatever covers something gives way a little at a time, the short way; a crowd spreads."""
    at = _inside(start, sizes, room)
    for _round in range(PUSHES):
        over = _overlaps(at, sizes)
        if not over.any():
            break
        at = _inside(at + GENTLY * _push(at, over), sizes, room)
    return at


def _inside(at: Array, sizes: Array, room: Array) -> Array:
    return np.asarray(np.clip(at, sizes / 2, np.maximum(room - sizes / 2, sizes / 2)))


def _overlaps(at: Array, sizes: Array) -> Array:
    """How deep each pair covers each other, both ways; 0 for pairs that don't."""
    gaps = np.abs(at[:, None, :] - at[None, :, :])
    over = (sizes[:, None, :] + sizes[None, :, :]) / 2 - gaps
    clear = np.asarray((over <= 1e-6).any(axis=2)) | np.eye(len(at), dtype=bool)
    over[clear] = 0
    return np.asarray(over)


def _push(at: Array, over: Array) -> Array:
    """For each box the sum of what it has to give way, both ways."""
    gaps = at[:, None, :] - at[None, :, :]
    earlier = np.sign(np.subtract.outer(np.arange(len(at)), np.arange(len(at))))
    way = np.where(np.abs(gaps) < 1e-9, earlier[:, :, None], np.sign(gaps))
    across = over[:, :, 0] <= over[:, :, 1]
    short = np.stack([across, ~across], axis=2)
    return np.asarray((way * over * short).sum(axis=1))


def _settled(wanted: Array, sizes: Array, taken: Array, around: Array, room: Array) -> Array | None:
    """Each box in the free place nearest to where it wants to lie, those in the middle first.

    `taken` and `around` are places and sizes of what lies there already. None where one finds no
    free place.
    """
    found = np.zeros_like(wanted)
    middle = np.abs(wanted - room / 2).sum(axis=1).round(3)
    for number in np.argsort(middle, kind="stable"):
        place = _free(wanted[number], sizes[number], taken, around, room)
        if place is None:
            return None
        found[number] = place
        taken, around = np.vstack([taken, place]), np.vstack([around, sizes[number]])
    return found


def _free(wanted: Array, size: Array, taken: Array, around: Array, room: Array) -> Array | None:
    if (size > room).any():
        return None
    ways = [np.arange(size[i] / 2, room[i] - size[i] / 2, BEAT) for i in (0, 1)]
    beats = np.stack(np.meshgrid(*ways), axis=-1).reshape(-1, 2)
    places = np.vstack([_inside(wanted, size, room), beats])
    gaps = np.abs(places[:, None, :] - taken[None, :, :])
    beside = np.asarray(gaps >= (size + around[None, :, :]) / 2 - 1e-6).any(axis=2)
    clear = np.asarray(beside).all(axis=1)
    if not clear.any():
        return None
    far = ((places - wanted) ** 2).sum(axis=1).round(6)
    return np.asarray(places[np.where(clear, far, np.inf).argmin()])


def _in_rows(sizes: Array, width: float) -> tuple[Array, Array]:
    """Where nothing else helps: side by side, row below row."""
    left, top, row = 0.0, 0.0, 0.0
    wide = max(width, float(sizes[:, 0].max(initial=0)))
    at = []
    for across, down in sizes:
        if left + across > wide:
            left, top, row = 0.0, top + row, 0.0
        at.append([left + across / 2, top + down / 2])
        left, row = left + across, max(row, down)
    return np.array(at).reshape(-1, 2), np.array([wide, top + row])


def _layout(placed: Array, sizes: Array, tags: Array, room: Array) -> Layout:
    spots = tuple(
        Spot(round(float(x), 1), round(float(y), 1), float(w), float(h))
        for (x, y), (w, h) in zip(placed, np.vstack([sizes, tags]), strict=True)
    )
    count = len(sizes)
    wide, high = (round(float(side), 1) for side in room)
    return Layout(spots[:count], spots[count:], wide, high)
