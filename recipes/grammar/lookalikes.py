"""How alike two drinks are: a weighted distance over the aspects, 0 the same, 1 nothing in common.

The weights are our own choice, no source: what a guest tastes first counts most.
"""

from collections.abc import Iterable

from recipes.grammar.aspects import Aspect
from recipes.grammar.drink import Drink
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.traits import Traits, traits

WEIGHTS: dict[Aspect, float] = {
    Aspect.POURS: 0.35,
    Aspect.MIXERS: 0.30,
    Aspect.METHOD: 0.15,
    Aspect.GLASS: 0.10,
    Aspect.FINISH: 0.10,
}


def distance(one: HouseSpec, other: HouseSpec) -> float:
    """Between 0 and 1, symmetric, 0 for the same build."""
    return apart(traits(one), traits(other))


def apart(mine: Traits, theirs: Traits) -> float:
    """The distance from traits already at hand: a quiz compares each drink with all others."""
    return sum(w * _apart(mine[a], theirs[a]) for a, w in WEIGHTS.items())


def _apart(one: frozenset[str], other: frozenset[str]) -> float:
    """Jaccard's distance; two empty sets are the same."""
    both = one | other
    return 1 - len(one & other) / len(both) if both else 0.0


def same_build(one: Drink, other: Drink) -> bool:
    """Two names for one build: every aspect's fingerprint agrees."""
    return one.fingerprints == other.fingerprints


def one_build(one: Drink, other: Drink) -> bool:
    """The same in the glass, however it is written: amounts in other units or by another measure
    don't matter, nor does the order of parts that have no place of their own."""
    mine, theirs = one.fingerprints, other.fingerprints
    apart_in = {a for a in Aspect if mine[a] != theirs[a]}
    pours = (d.traits[Aspect.POURS] for d in (one, other))
    return not apart_in or (apart_in == {Aspect.POURS} and len(set(pours)) == 1)


def twins(drink: Drink, others: Iterable[Drink]) -> tuple[Drink, ...]:
    """Drinks of another name and the same build; ties by slug."""
    found = (o for o in others if o.slug != drink.slug and one_build(o, drink))
    return tuple(sorted(found, key=lambda o: o.slug))


def nearest(drink: Drink, others: Iterable[Drink], count: int = 3) -> tuple[Drink, ...]:
    """The drinks most like this one, nearest first, ties by slug; two names for it left out."""
    found = [o for o in others if o.slug != drink.slug and not same_build(o, drink)]
    # Rounded, or the noise of arithmetic would break ties instead of the slug.
    found.sort(key=lambda o: (round(apart(drink.traits, o.traits), 9), o.slug))
    return tuple(found[:count])
