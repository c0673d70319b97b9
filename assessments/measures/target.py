"""How well a topic must be known so that a drink is.

A drink is right when all of it is, so its target is shared out over its topics: topic i of a drink
with target T gets T^(w_i), where the weights of the drink's topics sum to one. With equal weights
a drink of k topics wants T^(1/k) of each.

The weights are not equal. Forgetting small, a topic kept at 1 - e costs looks at a rate of about
1/e, while each drink may lose its share in all: the sum of its topics' e. Fewest looks under that
budget (a Lagrange multiplier for each drink, all alike) gives e in proportion to one over the root
of the number of drinks that use the topic. So a rule that sixty drinks stand on is kept better
than one drink's own part. A topic of several drinks takes the strictest of their targets.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from functools import lru_cache
from math import sqrt

from recipes.grammar.drink import Drink

DRINK_TARGET = 0.9
"""The chance of knowing all of a drink that is aimed at (our own choice, no source)."""


def topic_targets(drinks: Iterable[Drink], target: float = DRINK_TARGET) -> dict[str, float]:
    """The recall that each topic of these drinks should have, by its fingerprint.

    Raises ValueError for a target that is no chance.
    """
    if not 0 < target < 1:
        raise ValueError("a target lies between 0 and 1")
    return _targets(tuple(tuple(t.fingerprint for t in d.topics) for d in drinks), target)


@lru_cache(maxsize=64)
def _targets(made: tuple[tuple[str, ...], ...], target: float) -> dict[str, float]:
    """Kept by content: a menu is planned for many people."""
    used = Counter(topic for topics in made for topic in set(topics))
    wanted: dict[str, float] = {}
    for topics in made:
        for topic, weight in weights(set(topics), used).items():
            wanted[topic] = max(wanted.get(topic, 0.0), target**weight)
    return wanted


def weights(topics: Iterable[str], used: Mapping[str, int]) -> dict[str, float]:
    """How a drink's budget of forgetting is shared out over its topics; they sum to one. `used`
    says how many drinks stand on each."""
    parts = {topic: 1 / sqrt(used[topic]) for topic in topics}
    whole = sum(parts.values())
    return {topic: part / whole for topic, part in parts.items()}
