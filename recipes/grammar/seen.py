"""What a drawing shows, as reason values, for those who listen to it."""

from collections.abc import Iterator

from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import Kind, Pantry
from recipes.grammar.liquids import Layer, layers
from recipes.grammar.reasons import Reason
from recipes.grammar.spec import Ice, Method, When
from recipes.grammar.steps import CHOICE

CODES = frozenset(
    {
        "seen_glass",
        "seen_ice_light",
        "seen_ice_full",
        "seen_ice_crushed",
        "seen_liquid",
        "seen_bottom",
        "seen_above",
        "seen_head",
        "seen_rim",
        "seen_half_rim",
        "seen_garnish",
        "seen_choice",
        "seen_straw",
        "seen_back",
    }
)


def seen(spec: HouseSpec, pantry: Pantry) -> tuple[Reason, ...]:
    """Glass, ice, liquids from the bottom up, then what is on top; last what stands beside it.
    Ingredients by slug."""
    return (
        Reason.of("seen_glass", glass=spec.glass),
        *_ice(spec),
        *_liquids(layers(spec, pantry)),
        *_foam(spec, pantry),
        *_finish(spec),
        *_beside(spec),
    )


def _ice(spec: HouseSpec) -> Iterator[Reason]:
    if spec.ice is not Ice.NONE and spec.method is not Method.BLEND:
        yield Reason.of(f"seen_ice_{spec.ice.value}")


def _liquids(found: tuple[Layer, ...]) -> Iterator[Reason]:
    for number, layer in enumerate(found):
        code = "seen_liquid" if len(found) == 1 else "seen_above" if number else "seen_bottom"
        yield Reason.of(code, items=CHOICE.join(layer.items))


def has_head(spec: HouseSpec, pantry: Pantry) -> bool:
    """A drawn beer has a head; cider and what is poured from a bottle have none to speak of."""
    drawn = spec.method in (Method.DRAUGHT, Method.TWO_PART)
    return drawn and any(pantry[p.ingredient].kind in _FOAMING for p in spec.mixers)


_FOAMING = frozenset({Kind.BEER, Kind.LOW_NO})


def _foam(spec: HouseSpec, pantry: Pantry) -> Iterator[Reason]:
    if has_head(spec, pantry):
        yield Reason.of("seen_head")


def _finish(spec: HouseSpec) -> Iterator[Reason]:
    if spec.rim:
        yield Reason.of("seen_half_rim" if spec.rim.half else "seen_rim", rim=spec.rim.item)
    for garnish in spec.garnish:
        if garnish.when is When.ALWAYS:
            yield Reason.of("seen_garnish", ingredient=garnish.item)
    asked = [g.item for g in spec.garnish if g.when is When.ASK]
    if asked:
        yield Reason.of("seen_choice", choices=CHOICE.join(asked))
    if spec.straw:
        yield Reason.of("seen_straw")


def _beside(spec: HouseSpec) -> Iterator[Reason]:
    for back in spec.beside:
        items = CHOICE.join(p.ingredient for p in back.parts)
        yield Reason.of("seen_back", glass=back.glass, items=items)
