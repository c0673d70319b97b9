"""A build as the choices of a call see it: what it has in each part, and when two are the same."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from assessments.measures.call_parts import Piece
from assessments.measures.quiz.alike import same_answer
from recipes.grammar.aspects import Aspect, Content, contents
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import Kind, LiquorClass, Pantry
from recipes.grammar.spec import Ice, Method, When
from recipes.grammar.units import Unit

_BY_HOUSE_POUR = frozenset({LiquorClass.SPIRIT, LiquorClass.LIQUEUR, LiquorClass.FORTIFIED})
_TAPS = frozenset({Method.DRAUGHT, Method.TWO_PART})
IN_THE_BLENDER: Content = {"ice": Method.BLEND.value}


@dataclass(frozen=True)
class Build:
    """A build as its choices see it; `recipe` is the drink it is, if it has a name."""

    spec: HouseSpec
    pantry: Pantry
    recipe: str | None = None

    @cached_property
    def held(self) -> dict[Aspect, Content]:
        return contents(self.spec)

    @cached_property
    def poured(self) -> list[Sequence[str]]:
        return list(self.held[Aspect.POURS]["poured"])

    @property
    def is_single(self) -> bool:
        """At most one liquid, by the house's pour: then it is that liquid and how many pours."""
        by_pour = all(p[2] == Unit.POUR.value and float(p[1]) in (1, 2, 3) for p in self.poured)
        return len(self.poured) < 2 and by_pour

    @cached_property
    def alone(self) -> str:
        """The one liquid of a drink that has no other, measured or filled up; else nothing. It is
        chosen as what is poured either way: nobody should have to guess how we write it down."""
        liquids = [*(p[0] for p in self.poured), *(t[0] for t in self.held[Aspect.MIXERS]["top"])]
        return liquids[0] if len(liquids) == 1 else ""

    @property
    def is_filled(self) -> bool:
        """Nothing but one liquid, up to the top: a draught beer, a soda."""
        return bool(self.alone) and not self.poured

    @cached_property
    def drawn(self) -> tuple[str, ...]:
        """What is filled up and yet chosen as what is poured or drawn: a drink's only liquid, and
        the beer of one that comes out of a tap, whatever goes into it."""
        if self.is_filled:
            return (self.alone,)
        if self.spec.method not in _TAPS:
            return ()
        tops = [slug for slug, _share in self.held[Aspect.MIXERS]["top"]]
        return tuple(t for t in tops if self.pantry[t].liquor_class is LiquorClass.BEER)

    @property
    def has_size(self) -> bool:
        """One pour or two of it; a bottle of beer and a glass of wine are what they are."""
        if not (self.is_single and self.poured):
            return False
        item = self.pantry[self.poured[0][0]]
        return item.liquor_class in _BY_HOUSE_POUR or item.kind is Kind.LOW_NO

    @cached_property
    def _options(self) -> dict[Piece, tuple[Content, ...]]:
        return {piece: tuple(made(self)) for piece, made in PIECES.items()}

    def of(self, piece: Piece) -> tuple[Content, ...]:
        """What this build has there, as options."""
        return self._options[piece]


def _glass(build: Build) -> Iterator[Content]:
    yield build.held[Aspect.GLASS]


def _ice(build: Build) -> Iterator[Content]:
    if build.spec.method is Method.BLEND:
        yield IN_THE_BLENDER
    else:
        yield {"ice": build.held[Aspect.METHOD]["ice"]}


def _how(build: Build) -> Iterator[Content]:
    held = build.held[Aspect.METHOD]
    yield {k: held[k] for k in ("method", "muddled", "places")}


def _pours(build: Build) -> Iterator[Content]:
    for slug in build.drawn:
        yield {"ingredient": slug}
    for line in build.poured:
        yield poured_of(line)


def poured_of(line: Sequence[str]) -> Content:
    return {"poured": [list(line)], "alcohol_free": False}


def _mixers(build: Build) -> Iterator[Content]:
    for slug, _share in build.held[Aspect.MIXERS]["top"]:
        if slug not in build.drawn:
            yield {"ingredient": slug}


def _finish(build: Build) -> Iterator[Content]:
    """What goes on it unasked: what is to be asked about is open, what waits for a guest's wish
    is not there yet."""
    held = build.held[Aspect.FINISH]
    if held["rim"]:
        yield {"rim": list(held["rim"])}
    for item, when in held["garnish"]:
        if when == When.ALWAYS.value:
            yield {"garnish": item}
    if held["straw"]:
        yield {"straw": True}


PIECES = {
    Piece.GLASS: _glass, Piece.ICE: _ice, Piece.HOW: _how, Piece.POURS: _pours,
    Piece.MIXERS: _mixers, Piece.FINISH: _finish,
}  # fmt: skip


def same(piece: Piece, one: Content, other: Content) -> bool:
    """Whether two options are the same thing to do."""
    if piece is Piece.POURS and ("ingredient" in one or "ingredient" in other):
        return liquid_of(one) == liquid_of(other)
    if piece is Piece.POURS:
        return same_answer(Aspect.POURS, one, other)
    if piece is Piece.HOW:
        ice = {"ice": Ice.NONE.value}
        return same_answer(Aspect.METHOD, {**one, **ice}, {**other, **ice})
    if piece is Piece.FINISH:
        return _on_it(one) == _on_it(other)
    return one == other


def liquid_of(option: Content) -> str:
    """What is poured or filled up: a beer is that beer, drawn or out of a bottle."""
    return str(option["ingredient"] if "ingredient" in option else option["poured"][0][0])


def _on_it(option: Content) -> object:
    """Salt is salt, on half the rim, all of it or beside the glass: the choices leave that out."""
    return option["rim"][0] if "rim" in option else option.get("garnish", "straw")
