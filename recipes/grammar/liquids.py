"""What lies where in a finished drink: layers from the bottom up, their volumes and colours."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from recipes.grammar.house_spec import LIGHT_ICE, HousePart, HouseSpec
from recipes.grammar.ingredients import Ingredient, Kind, Pantry
from recipes.grammar.spec import How, Ice, Method
from recipes.grammar.strength import melted_ml

WATER = "#f4f8f8"
CLEAR = "#dfeae9"
"""Clear liquids are drawn in this, or nobody would see them on paper."""

_CLOUDY = frozenset({Kind.DAIRY, Kind.CREAM_LIQUEUR, Kind.EGG})
_PURE, _TURBID = 0.6, 0.4
"""How much of a sunk syrup lies pure at the bottom, and how much hangs above it (our choice)."""


HOLDS = 0.04
"""How much heavier (g/ml) a float may be and still stay on top when it is poured over a spoon
(common practice, no source)."""


@dataclass(frozen=True)
class Layer:
    """One liquid to be seen. `items` are the ingredients mixed in it."""

    items: tuple[str, ...]
    ml: float
    colour: str


@dataclass(frozen=True)
class _Stuff:
    """Some millilitres of one thing; no ingredient means melted ice."""

    ml: float
    item: Ingredient | None


def layers(house: HouseSpec, pantry: Pantry) -> tuple[Layer, ...]:
    """From the bottom up. Everything is mixed unless the sequence is the drink."""
    floats = [_stuff(p, pantry) for p in house.how(How.FLOAT) if p.ml]
    if house.method is Method.LAYER:
        return tuple(_layer([_stuff(p, pantry)]) for p in house.parts if p.ml)
    body = _body(house, pantry)
    weight = _density([s for group in body for s in group])
    sunk = [s for s in floats if body and s.item and (s.item.density or 0) > weight + HOLDS]
    first = [_layer([_stuff(p, pantry)]) for p in house.how(How.FIRST_IN) if p.ml]
    above = [_layer([s]) for s in floats if s not in sunk]
    fallen: list[Layer] = []
    for stuff in sunk:
        through, body[0] = _falls(stuff, body[0])
        fallen += through
    return (*first, *fallen, *(_layer(group) for group in body), *above)


def level_ml(house: HouseSpec, liquid_ml: float) -> float:
    """The volume under the surface: the liquid and the ice that stands in it.

    Full ice is spread evenly to the top of the glass; light ice is the same, half as high, and
    afloat where there is more liquid than that.
    """
    if house.ice is not Ice.LIGHT:
        return liquid_ml / (1 - house.ice_share)
    packed = house.ice_share / LIGHT_ICE
    pile = house.glass_ml * LIGHT_ICE
    room_in_pile = pile * (1 - packed)
    if liquid_ml <= room_in_pile:
        return liquid_ml / (1 - packed)
    return liquid_ml + pile * packed


def _stuff(part: HousePart, pantry: Pantry) -> _Stuff:
    return _Stuff(part.ml or 0.0, pantry[part.ingredient])


def _body(house: HouseSpec, pantry: Pantry) -> list[list[_Stuff]]:
    """What ends up mixed, as one group; a group a mixer where the sequence is the drink."""
    mixed = (How.MEASURED, How.DASH, How.MUDDLED)
    poured = [_stuff(p, pantry) for p in house.how(*mixed) if p.ml]
    melted = melted_ml(house, pantry)
    if melted:
        poured.append(_Stuff(melted, None))
    room = max(0.0, house.room_ml - house.poured_ml - melted)
    tops = [_Stuff(room * p.share, pantry[p.ingredient]) for p in house.mixers]
    if house.sequence_is_the_drink and len(tops) > 1:
        return [[*poured, tops[0]], *([t] for t in tops[1:])]
    return [[*poured, *tops]] if poured or tops else []


def _falls(stuff: _Stuff, drink: list[_Stuff]) -> tuple[tuple[Layer, Layer], list[_Stuff]]:
    """A heavy float falls through: some lies at the bottom, some hangs as a cloud above it.

    Gives these two, and what is left of the drink once the cloud has taken its share of it.
    """
    whole = sum(s.ml for s in drink)
    taken = min(stuff.ml, whole / 2) / whole
    cloud = [_Stuff(s.ml * taken, s.item) for s in drink]
    left = [_Stuff(s.ml * (1 - taken), s.item) for s in drink]
    pure = _layer([_Stuff(stuff.ml * _PURE, stuff.item)])
    return (pure, _layer([_Stuff(stuff.ml * _TURBID, stuff.item), *cloud])), left


def _density(stuff: Sequence[_Stuff]) -> float:
    """Of the mixture; what nobody has weighed counts as water."""
    total = sum(s.ml for s in stuff)
    weighed = sum(s.ml * ((s.item and s.item.density) or 1.0) for s in stuff)
    return weighed / total if total else 1.0


def _layer(stuff: Sequence[_Stuff]) -> Layer:
    items = tuple(s.item.slug for s in stuff if s.item)
    return Layer(items, sum(s.ml for s in stuff), _mixed_colour(stuff))


def _mixed_colour(stuff: Sequence[_Stuff]) -> str:
    """Clear liquids filter light, so their colours mix by the geometric mean; milky ones
    scatter it, so they mix as paint does."""
    total = sum(s.ml for s in stuff) or 1.0
    parts = [(s.ml / total, _rgb(s.item.colour if s.item else WATER)) for s in stuff]
    milky = sum(s.ml for s in stuff if s.item and s.item.kind in _CLOUDY) / total
    paint = min(1.0, 2 * milky)
    mixed = []
    for channel in range(3):
        filtered = math.exp(sum(w * math.log(max(c[channel], 1)) for w, c in parts))
        painted = sum(w * c[channel] for w, c in parts)
        mixed.append(filtered * (1 - paint) + painted * paint)
    return hex_colour(mixed) if milky else _seen(mixed)


def _seen(mixed: Sequence[float]) -> str:
    """Pale liquids a little deeper than they are: a glass is thicker than a drawing."""
    if min(mixed) > 214 and max(mixed) - min(mixed) < 12:
        return CLEAR
    depth = 1 + 1.3 * min(1.0, max(0.0, (min(mixed) - 130) / 100))
    return hex_colour(255 * (c / 255) ** depth for c in mixed)


def _rgb(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def hex_colour(channels: Iterable[float]) -> str:
    return "#" + "".join(f"{round(min(255.0, max(0.0, c))):02x}" for c in channels)


def darker(colour: str, by: float = 0.14) -> str:
    return hex_colour(c * (1 - by) for c in _rgb(colour))


def lighter(colour: str, by: float) -> str:
    return hex_colour(c + (255 - c) * by for c in _rgb(colour))


def is_dark(colour: str) -> bool:
    """Whether white shows on it better than ink (relative luminance, ITU-R BT.709 weights)."""
    red, green, blue = _rgb(colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue < 120
