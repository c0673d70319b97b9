"""What each aspect of a drink holds, as short words that can be compared."""

from recipes.grammar.aspects import Aspect
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.spec import How, Method

Traits = dict[Aspect, frozenset[str]]


def traits(spec: HouseSpec) -> Traits:
    """What each aspect holds, as a set of short words that can be compared."""
    poured = [p for p in spec.parts if p.how not in (How.TOP, How.MUDDLED)]
    places = {f"{p.ingredient}:{p.how.value}" for p in spec.parts if p.how in _PLACED}
    if spec.method is Method.LAYER:
        places |= {f"{p.ingredient}:layer {number}" for number, p in enumerate(poured, start=1)}
    rim = {f"rim:{spec.rim.item}"} if spec.rim else set()
    garnish = {f"{g.item}:{g.when.value}" for g in spec.garnish}
    return {
        Aspect.GLASS: frozenset({spec.glass}),
        Aspect.POURS: frozenset(
            w for p in poured for w in (p.ingredient, f"{p.ingredient}={p.ml or 0:.0f}")
        ),
        Aspect.MIXERS: _mixers(spec),
        Aspect.FINISH: frozenset(rim | garnish | ({"straw"} if spec.straw else set())),
        Aspect.METHOD: frozenset({f"ice:{spec.ice.value}", spec.method.value} | places),
    }


def _mixers(spec: HouseSpec) -> frozenset[str]:
    """With how many there are: one juice swapped for another is nearer than one juice fewer."""
    mixers = {p.ingredient for p in spec.mixers}
    return frozenset(mixers | {f"{len(mixers)} mixers"}) if mixers else frozenset()


_PLACED = (How.FLOAT, How.FIRST_IN, How.MUDDLED)
