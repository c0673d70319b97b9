"""The look-alikes of a module on paper: what is built alike lies near, and what tells it apart."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from recipes.drawing_words import describe
from recipes.grammar.drawing import draw
from recipes.grammar.drink import Drink
from recipes.grammar.lookalike_map import Array, Box, Layout, Spot, Tie, lay_out
from recipes.grammar.lookalikes import apart
from recipes.menu import Menu, MenuDrink
from recipes.models import Module

from .mixed_up import NEAR, MixedUp, told_apart
from .pdf import Paper, to_pdf

WIDTH, HEIGHT = 182.0, 186.0
"""Millimetres that a map has on the first page, on either paper."""
MOST_TIES, MOST_PAIRS = 16, 24
EACH = 2
"""A drink is tied to so many of its nearest at most: more lines would hide the map."""
LETTER = 3.05
WIDEST, NARROWEST = 27.0, 15.0
A_LETTER, A_LINE = 1.9, 3.6
"""How much room a letter and a line of a name take, in millimetres; a little too much rather than
too little."""
PX_A_MM = 96 / 25.4


@dataclass(frozen=True)
class Placed:
    """A thing on the map: where its top left corner lies and how wide it is, in millimetres."""

    left: float
    top: float
    width: float
    text: str
    picture: SafeString | None = None


@dataclass(frozen=True)
class Line:
    x1: float
    y1: float
    x2: float
    y2: float


@dataclass(frozen=True)
class Pair:
    """Two drinks that are easily mixed up. `number` is the one on the map, 0 for none."""

    number: int
    told: MixedUp


@dataclass(frozen=True)
class Drawn:
    """The map itself; `letter` is the size of a drink's name. All in millimetres."""

    drinks: tuple[Placed, ...]
    labels: tuple[Placed, ...]
    lines: tuple[Line, ...]
    leaders: tuple[Line, ...]  # from the middle of a line to its label
    width: float
    height: float
    letter: float


@dataclass(frozen=True)
class MapFacts:
    """Everything that the paper says. `as_of` is when the newest thing on it took effect."""

    house: str
    module: str
    only_must_knows: bool
    map: Drawn
    pairs: tuple[Pair, ...]
    rules_version: int
    as_of: dt.datetime
    size: str = "a4"


def facts_of(menu: Menu, module: Module, size: str = "") -> MapFacts:
    """The must-knows of the module; all of its drinks where fewer than two are must-knows."""
    of_module = menu.of_module(module)
    must = tuple(i for i in of_module if i.recipe.must_know)
    items = sorted(must if len(must) > 1 else of_module, key=lambda i: i.drink.slug)
    pairs = _pairs(menu, [i.drink for i in items], _laid_out(items, ()).spots)
    dates = [menu.rules_version.takes_effect_at, *(i.revision.takes_effect_at for i in items)]
    return MapFacts(
        house=menu.venue.name,
        module=module.name,
        only_must_knows=len(must) > 1,
        map=_drawn(menu, items, pairs),
        pairs=tuple(n.pair for n in pairs),
        rules_version=menu.rules_version.number,
        as_of=menu.venue.local(max(dates)),
        size=size or menu.venue.paper_size,
    )


@dataclass(frozen=True)
class _Near:
    """A pair by the numbers of its drinks."""

    one: int
    other: int
    pair: Pair


def _pairs(menu: Menu, drinks: Sequence[Drink], spots: Sequence[Spot]) -> list[_Near]:
    """The nearest pairs, nearest first; the first few ties of each drink carry a number. A line
    that would run behind a third drink is none."""
    near = []
    for a, b in combinations(range(len(drinks)), 2):
        gap = round(apart(drinks[a].traits, drinks[b].traits), 9)
        if gap <= NEAR:
            near.append((gap, a, b))
    ties = [0] * len(drinks)
    found: list[_Near] = []
    for _gap, a, b in sorted(near)[:MOST_PAIRS]:
        free = max(ties[a], ties[b]) < EACH and sum(ties) < 2 * MOST_TIES
        tied = free and not _runs_behind(a, b, spots)
        number = sum(ties) // 2 + 1 if tied else 0
        if tied:
            ties[a], ties[b] = ties[a] + 1, ties[b] + 1
        found.append(_Near(a, b, Pair(number, told_apart(menu, drinks[a], drinks[b]))))
    return found


def _runs_behind(one: int, other: int, spots: Sequence[Spot]) -> bool:
    """Whether the line between two drinks touches a third."""
    a, b = spots[one], spots[other]
    points = [
        Spot(a.x + (b.x - a.x) * part / 50, a.y + (b.y - a.y) * part / 50, 0, 0)
        for part in range(51)
    ]
    others = [spot for number, spot in enumerate(spots) if number not in (one, other)]
    return any(point.covers(spot) for point in points for spot in others)


def _laid_out(items: Sequence[MenuDrink], ties: Sequence[Tie]) -> Layout:
    glass = _glass_height(len(items))
    return lay_out(
        [_box(i.drink.name, glass) for i in items],
        _distances([i.drink for i in items]),
        ties,
        WIDTH,
        _room_height(len(items)),
    )


def _drawn(menu: Menu, items: Sequence[MenuDrink], near: Sequence[_Near]) -> Drawn:
    """The map itself, shrunk where the drinks need more room than the page has."""
    glass = _glass_height(len(items))
    tied = [n for n in near if n.pair.number]
    tags = [_tag(n.pair) for n in tied]
    ties = [Tie(n.one, n.other, _tag_box(t)) for n, t in zip(tied, tags, strict=True)]
    layout = _laid_out(items, ties)
    zoom = min(1.0, WIDTH / layout.width)
    lines = tuple(_line(layout, n, zoom) for n in tied)
    return Drawn(
        drinks=tuple(
            _placed(spot, zoom, item.drink.name, _picture(menu, item, glass * zoom))
            for item, spot in zip(items, layout.spots, strict=True)
        ),
        labels=tuple(
            _placed(spot, zoom, tag) for tag, spot in zip(tags, layout.labels, strict=True)
        ),
        lines=lines,
        leaders=tuple(
            _leader(line, spot, zoom) for line, spot in zip(lines, layout.labels, strict=True)
        ),
        width=WIDTH,
        height=_mm(layout.height * zoom),
        letter=_mm(LETTER * zoom),
    )


def _distances(drinks: Sequence[Drink]) -> Array:
    found = [[apart(a.traits, b.traits) for b in drinks] for a in drinks]
    return np.array(found, dtype=float).reshape(len(drinks), len(drinks))


def _glass_height(count: int) -> float:
    """As large as lets the drinks take a third of the room."""
    share = 0.3 * WIDTH * HEIGHT / max(count, 1) / WIDEST
    return max(10.0, min(20.0, share - A_LINE))


def _room_height(count: int) -> float:
    return min(HEIGHT, 60.0 + 12.0 * count)


def _box(name: str, glass: float) -> Box:
    width, lines = room_of(name)
    return Box(width, glass + 0.6 + A_LINE * lines)


def room_of(name: str) -> tuple[float, int]:
    """How wide a name is set, in millimetres, and on how many lines."""
    whole = A_LETTER * len(name) + 1
    wide = max(NARROWEST, min(WIDEST, whole), A_LETTER * _longest_word(name) + 1)
    return wide, 1 if whole <= wide else math.ceil(whole / wide + 0.4)


def _longest_word(name: str) -> int:
    return max((len(word) for word in name.split()), default=0)


def _tag(pair: Pair) -> str:
    parts = ", ".join(part.lower() for part, _one, _other in pair.told.differ)
    return f"{pair.number}  {parts or _('one build, two names')}"


def _tag_box(tag: str) -> Box:
    return Box(1.45 * len(tag) + 3.2, 4.2)


def _picture(menu: Menu, item: MenuDrink, millimetres: float) -> SafeString:
    spec, pantry = item.drink.spec, menu.pantry
    title = describe(spec, pantry, menu.names, menu.glass_names)
    height = round(millimetres * PX_A_MM)
    return SafeString(draw(spec, pantry, title=title, height=height))  # safe: it escapes


def _placed(spot: Spot, zoom: float, text: str, picture: SafeString | None = None) -> Placed:
    return Placed(
        _mm(spot.left * zoom), _mm(spot.top * zoom), _mm(spot.width * zoom), text, picture
    )


def _line(layout: Layout, near: _Near, zoom: float) -> Line:
    one, other = layout.spots[near.one], layout.spots[near.other]
    return Line(*(_mm(v * zoom) for v in (one.x, one.y, other.x, other.y)))


def _leader(line: Line, label: Spot, zoom: float) -> Line:
    middle = (line.x1 + line.x2) / 2, (line.y1 + line.y2) / 2
    return Line(*(_mm(v) for v in (*middle, label.x * zoom, label.y * zoom)))


def _mm(value: float) -> float:
    return round(value, 2)


def _places(drawn: Drawn) -> str:
    """Where everything stands, as style: the template has none of its own."""
    rules = [
        f".map {{ width: {drawn.width}mm; height: {drawn.height}mm; font-size: {drawn.letter}mm }}"
    ]
    for kind, things in (("drink", drawn.drinks), ("tag", drawn.labels)):
        rules += [
            f"#{kind}-{number} {{ left: {t.left}mm; top: {t.top}mm; width: {t.width}mm }}"
            for number, t in enumerate(things, start=1)
        ]
    return "\n".join(rules)


def map_pdf(facts: MapFacts) -> bytes:
    title = _("%(module)s: look-alikes of %(house)s") % {
        "module": facts.module,
        "house": facts.house,
    }
    return to_pdf(
        Paper(
            template="papers/paper/lookalike_map.html",
            styles=("paged.css", "lookalike_map.css"),
            size=facts.size,
            title=title,
            dated=facts.as_of.isoformat(timespec="seconds"),
            context={"facts": facts, "house": facts.house},
            places=_places(facts.map),
        )
    )
