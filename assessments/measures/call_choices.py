"""What may be chosen for a call: what is right, and what look-alikes have instead.

Few enough for a thumb. Every call of a house goes through the same steps with as many choices in
each, whatever was called, and what is offered beside the right ones is of their kind: neither the
page nor the odd one out says anything. The order never depends on which one is right.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from assessments.measures.call_build import PIECES, Build, liquid_of, poured_of, same
from assessments.measures.call_parts import IDENTITY, SEVERAL, Alike, CallPart, Picked, Piece
from recipes.grammar.aspects import Aspect, Content, Topic, fingerprint
from recipes.grammar.drink import Drink
from recipes.grammar.ingredients import Kind, Pantry
from recipes.grammar.lookalikes import apart
from recipes.grammar.spec import Ice, Method
from recipes.grammar.traits import traits

FEW = 4
"""Options of which one is taken (our own number: two rows on a phone)."""
MANY = {Piece.POURS: 6, Piece.MIXERS: 5, Piece.FINISH: 5}
"""Options of which any number is taken, however many are right (our own numbers: as much as a phone
shows at once)."""
MORE = 3
"""Where more than half of those would be right, there are so many more of them."""
WRONG = 2
"""At least so many of them are wrong."""
LOOK_ALIKES = 12
"""So many are drawn from first, after them what the house sells most."""
ALIKE = 6
"""Other drinks that a build is held against."""
_ICES = [*(ice.value for ice in (Ice.FULL, Ice.LIGHT, Ice.NONE, Ice.CRUSHED)), Method.BLEND.value]
PLAIN: Content = {"method": Method.BUILD.value, "muddled": [], "places": []}
SIZES = (1, 2)
"""Pours that may be called: single and double."""


@dataclass(frozen=True)
class Shelf:
    """Everything that choices are drawn from: the drinks of the menu, and what is in stock."""

    drinks: tuple[Drink, ...]
    pantry: Pantry

    @cached_property
    def builds(self) -> dict[str, Build]:
        return {d.slug: Build(d.spec, self.pantry, d.slug) for d in self.drinks}

    def near(self, build: Build) -> list[Build]:
        """The other drinks: look-alikes, the nearest first, then what sells most."""
        seen = traits(build.spec)
        others = [d for d in self.drinks if d.slug != build.recipe]
        others.sort(key=lambda d: (round(apart(seen, d.traits), 9), d.slug))
        far = sorted(others[LOOK_ALIKES:], key=lambda d: (-round(d.share, 9), d.slug))
        return [self.builds[d.slug] for d in (*others[:LOOK_ALIKES], *far)]

    @cached_property
    def ices(self) -> list[Content]:
        """Full, light and none, as may be called of any drink, and what else the menu has."""
        usual = [{"ice": ice.value} for ice in (Ice.FULL, Ice.LIGHT, Ice.NONE)]
        others = [o for b in self.builds.values() for o in b.of(Piece.ICE) if o not in usual]
        return [*usual, *others]


def parts_of(
    build: Build, own: Sequence[Topic], said: str, shelf: Shelf
) -> tuple[tuple[CallPart, ...], tuple[Alike, ...]]:
    """The choices for this build, and the drinks that could be built with them instead. `own` are
    the topics that the build uses; `said` makes the order another one in each call."""
    near = shelf.near(build)
    parts = []
    for piece in PIECES:
        right = build.of(piece)
        wrong = _distinct(piece, right, _candidates(piece, build, near, shelf))
        options = sorted([*right, *wrong], key=lambda o: _rank(piece, o, said))
        if wrong or piece in SEVERAL:
            at = _find(piece, right, options) or frozenset()
            own_of = _topics(piece, own, build)
            parts.append(CallPart(piece, tuple(options), at, own_of))
    return tuple(parts), tuple(_alike(parts, near[:LOOK_ALIKES]))


def _candidates(
    piece: Piece, build: Build, near: Sequence[Build], shelf: Shelf
) -> Iterator[Content]:
    """Each amount of ice that the house has; both sizes of each liquid, of the right one and of
    others: that is what a change in a call is about."""
    if piece is Piece.ICE:
        yield from shelf.ices
    elif piece is Piece.POURS:
        elsewhere = {liquid_of(o) for o in build.of(Piece.MIXERS)}
        yield from (o for o in _other_pours(build, near) if liquid_of(o) not in elsewhere)
    else:
        if piece is Piece.HOW:
            yield PLAIN
        if piece is Piece.FINISH:
            yield {"straw": True}
        for other in near:
            yield from (o for o in other.of(piece) if not _is_poured(piece, o, build))


def _is_poured(piece: Piece, option: Content, build: Build) -> bool:
    """What is right to pour isn't offered to fill up with too: a liquid stands in one place."""
    return piece is Piece.MIXERS and any(
        option["ingredient"] == liquid_of(o) for o in build.of(Piece.POURS)
    )


def _other_pours(build: Build, near: Sequence[Build]) -> Iterator[Content]:
    """Liquids of the kind that is called first, the nearest before the rest: among spirits a beer
    would say of itself that it isn't meant. Whatever has a double is there as one and as two."""
    pairs = [(other, option) for other in near for option in _liquids(other, build)]
    pairs.sort(key=lambda p: _unlike(build, *p))
    if build.poured:
        yield from _sizes(build, max(build.poured, key=lambda p: float(p[3] or 0)))
    for other, option in pairs:
        if build.has_size <= other.has_size:
            yield option
            if other.has_size or not (build.is_single or build.alone):
                yield from (o for line in option.get("poured", ()) for o in _sizes(other, line))
    yield from (option for _other, option in pairs)


def _liquids(other: Build, build: Build) -> tuple[Content, ...]:
    """What may be poured instead. Beside a soda that is served alone stand those that others are
    filled up with."""
    tops = other.of(Piece.MIXERS) if build.is_filled else ()
    return (*other.of(Piece.POURS), *tops)


def _unlike(build: Build, other: Build, option: Content) -> tuple[object, ...]:
    """How far this liquid is from those of the build, for an order."""
    pantry, right = build.pantry, build.of(Piece.POURS)
    kind = _kind(option, pantry)
    kinds = {_kind(o, pantry) for o in right}
    filled = {"ingredient" in o for o in right}
    return (
        kind not in kinds,
        bool(build.alone) and ("ingredient" in option) not in filled,
        bool(build.alone) and not build.has_size and not (other.alone and not other.has_size),
        bool(build.alone) and other.spec.method is not build.spec.method,
        other.is_single != build.is_single,
    )


def _sizes(build: Build, line: Sequence[str]) -> list[Content]:
    """This liquid as it may be called or be remembered: single and double, or twice of it; a bottle
    of beer is what it is."""
    if build.has_size:
        return [_of_size(line, pours) for pours in SIZES]
    return [] if build.is_single else [_twice(line)]


def _kind(option: Content, pantry: Pantry) -> tuple[bool, str]:
    """How it is poured and whether it is for who drinks none."""
    item = pantry[liquid_of(option)]
    return item.kind is Kind.LOW_NO, item.liquor_class.value


def _of_size(line: Sequence[str], pours: int) -> Content:
    slug, amount, unit, ml, by = line
    one = float(ml or 0) / float(amount)
    return poured_of([slug, f"{pours:.3f}", unit, f"{pours * one:.3f}" if ml else "", by])


def _twice(line: Sequence[str]) -> Content:
    slug, amount, unit, ml, by = line
    return poured_of([slug, f"{2 * float(amount or 0):.3f}", unit, f"{2 * float(ml or 0):.3f}", by])


def _distinct(
    piece: Piece, right: Sequence[Content], candidates: Iterable[Content]
) -> list[Content]:
    """As many as make it the same number of options for every call."""
    most = len(Ice) if piece is Piece.ICE else FEW - 1
    if many := MANY.get(piece):
        many += MORE if 2 * len(right) > many else 0
        most = max(many - len(right), WRONG)
    kept: list[Content] = []
    for option in candidates:
        if len(kept) == most:
            break
        if not any(same(piece, option, k) for k in (*right, *kept)):
            kept.append(option)
    return kept


def _rank(piece: Piece, option: Content, said: str) -> tuple[int, str]:
    """Ice from full to none, the same every time. The rest lies as it falls, in each call another
    way: most wanted or by name, the right one would stand at one end too often."""
    if piece is Piece.ICE:
        return _ICES.index(option["ice"]), ""
    return 0, fingerprint([said, option])


def _find(piece: Piece, wanted: Sequence[Content], options: Sequence[Content]) -> Picked | None:
    """Where these stand among the options; None where one of them doesn't."""
    found = set()
    for content in wanted:
        at = next((n for n, o in enumerate(options) if same(piece, content, o)), None)
        if at is None:
            return None
        found.add(at)
    return frozenset(found)


def _alike(parts: Sequence[CallPart], near: Sequence[Build]) -> Iterator[Alike]:
    """Drinks whose liquids are all among the options and are others than the right ones."""
    decides = [n for n, part in enumerate(parts) if part.piece in IDENTITY]
    kept = 0
    for other in near:
        picks = tuple(_picks(part, other) for part in parts)
        whole = all(picks[n] is not None for n in decides)
        if whole and any(picks[n] != parts[n].right for n in decides) and kept < ALIKE:
            kept += 1
            yield Alike(other.recipe or "", picks)


def _picks(part: CallPart, other: Build) -> Picked | None:
    wanted = other.of(part.piece)
    if not wanted and not part.takes_several:
        return None
    return _find(part.piece, wanted, part.options)


def _topics(piece: Piece, own: Sequence[Topic], build: Build) -> tuple[str, ...]:
    return tuple(t.fingerprint for t in own if piece in _shown_by(t, build))


def _shown_by(topic: Topic, build: Build) -> frozenset[Piece]:
    """The choices that together show whether somebody knows it. How much a pour is no choice shows:
    they say "1 pour" whatever the house pours."""
    rule = (topic.rule or "").partition(":")[0]
    if topic.aspect is Aspect.METHOD:
        return frozenset({Piece.ICE if rule == "ice" else Piece.HOW})
    if topic.is_pour_size:
        return frozenset()
    if topic.aspect is Aspect.MIXERS and build.drawn:
        return frozenset({Piece.POURS, Piece.MIXERS})
    return frozenset({Piece(topic.aspect.value)})
