"""How alike two drinks are: a weighted distance over the aspects, 0 the same, 1 nothing in common.

The weights are our own choice, no source: what a guest tastes first counts most.
"""

from collections.abc import Iterable

from recipes.grammar.aspects import Aspect
from recipes.grammar.drink import Drink
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.spec import How, Method

WEIGHTS: dict[Aspect, float] = {
    Aspect.POURS: 0.35,
    Aspect.MIXERS: 0.30,
    Aspect.METHOD: 0.15,
    Aspect.GLASS: 0.10,
    Aspect.FINISH: 0.10,
}

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


def distance(one: HouseSpec, other: HouseSpec) -> float:
    """Between 0 and 1, symmetric, 0 for the same build."""
    mine, theirs = traits(one), traits(other)
    return sum(w * _apart(mine[a], theirs[a]) for a, w in WEIGHTS.items())


def _apart(one: frozenset[str], other: frozenset[str]) -> float:
    """Jaccard's distance; two empty sets are the same."""
    both = one | other
    return 1 - len(one & other) / len(both) if both else 0.0


def same_build(one: Drink, other: Drink) -> bool:
    """Two names for one build: every aspect's fingerprint agrees."""
    return one.fingerprints == other.fingerprints


def nearest(drink: Drink, others: Iterable[Drink], count: int = 3) -> tuple[Drink, ...]:
    """The drinks most like this one, nearest first, ties by slug; two names for it left out."""
    found = [o for o in others if o.slug != drink.slug and not same_build(o, drink)]
    # Rounded, or the noise of arithmetic would break ties instead of the slug.
    found.sort(key=lambda o: (round(distance(drink.spec, o.spec), 9), o.slug))
    return tuple(found[:count])
