"""Which glass a drink goes into where its recipe names none.

Wine, sparkling wine, beer and cider by themselves stand in their own glass, without ice; all else
in the glass of its family. Whoever takes recipes in from elsewhere may look for a bigger one.
"""

from collections.abc import Iterator

from recipes.grammar.ingredients import Kind, LiquorClass, Pantry
from recipes.grammar.rules import Family, HouseRules, family
from recipes.grammar.spec import BuildSpec, How, Method
from recipes.grammar.units import ML

LONG_ML = 150.0
"""From here on what is measured into a glass and built in it is a long drink (our own choice, no
source)."""

_OWN_GLASS = {
    Kind.SPARKLING: "flute",
    Kind.WINE: "wine",
    Kind.BEER: "pint",
    Kind.CIDER: "pint",
}
"""Glasses by key, where the house has them (common practice, no source)."""
_LONG = ("highball", "collins", "copper-mug", "pint")
_OWN = ("flute", "wine", "half-pint", "pint")
_OF_USE: dict[Family, tuple[tuple[str, ...], ...]] = {
    Family.HIGHBALL: (_LONG,),
    Family.ROCKS: (("rocks", "double-rocks"), _LONG),
    Family.UP: (("cocktail", "martini"), ("wine",)),
    Family.BLENDED: (("hurricane",), ("pint",)),
    Family.DRAUGHT: (("half-pint", "pint"),),
}
"""Glasses of one use by key, then those that do where all of these are too small (common practice,
no source)."""


def own_kind(spec: BuildSpec, pantry: Pantry) -> Kind | None:
    """The wine or beer that is all the alcohol in it; None for everything mixed otherwise."""
    if spec.method is not Method.BUILD:
        return None
    for part in spec.parts:
        if part.how is How.TOP:
            return None
    strong = [p.ingredient for p in spec.parts if p.ingredient in pantry]
    items = [pantry[slug] for slug in strong if pantry[slug].abv]
    if any(i.liquor_class not in (LiquorClass.WINE, LiquorClass.BEER) for i in items):
        return None
    kinds = [kind for kind in _OWN_GLASS if any(i.kind is kind for i in items)]
    return kinds[0] if kinds else None


def default_glass(
    spec: BuildSpec, rules: HouseRules, pantry: Pantry, of: Family | None = None
) -> str:
    """The key of the glass; "" where the rules have none for such a drink. `of`: the family of the
    build, where somebody has worked it out already."""
    kind = own_kind(spec, pantry)
    own = _OWN_GLASS.get(kind) if kind else None
    return own if own in rules.glasses else rules.default_glass.get(of or family(spec), "")


def glasses_of_use(spec: BuildSpec, rules: HouseRules, pantry: Pantry) -> Iterator[str]:
    """Glasses of the house for such a drink, the smallest first."""
    groups = (_LONG,) if _is_long(spec) else _OF_USE.get(family(spec), ())
    for keys in (_OWN,) if own_kind(spec, pantry) else groups:
        had = [key for key in keys if key in rules.glasses]
        yield from sorted(had, key=lambda key: rules.glasses[key].ml)


def is_built_long(spec: BuildSpec) -> bool:
    """Nothing tops it, yet so much is measured into the glass that it is a long drink."""
    return _is_long(spec) and not spec.mixers


def _is_long(spec: BuildSpec) -> bool:
    if family(spec) is not Family.ROCKS or spec.method is not Method.BUILD:
        return False
    poured = (p.amount * ML.get(p.unit, 0) for p in spec.parts if p.amount and p.how is not How.TOP)
    return sum(poured) > LONG_ML
