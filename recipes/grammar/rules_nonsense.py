"""House rules that can be written down and not be meant."""

from __future__ import annotations

from collections.abc import Iterator

from recipes.grammar.course import fold
from recipes.grammar.reasons import Reason
from recipes.grammar.rules import HouseRules

CODES = frozenset({"tolerance_too_large", "garnish_twice_in_rule", "glass_named_twice"})
MOST_OFF = 0.5
"""Of the smallest pour: off by more, a pour is nearer to none or to two (our choice, no source)."""


def nonsense(rules: HouseRules, before: HouseRules | None = None) -> tuple[Reason, ...]:
    """Without what stood like this `before`: a change elsewhere isn't held up by it."""
    known = set(_found(before)) if before else set()
    return tuple(reason for reason in _found(rules) if reason not in known)


def _found(rules: HouseRules) -> Iterator[Reason]:
    smallest = min((pour.ml for pour in rules.pours.values()), default=None)
    if smallest is not None and rules.tolerance_ml > MOST_OFF * smallest + 1e-9:
        yield Reason.of("tolerance_too_large")
    for rule in rules.garnish:
        items = [g.item for g in rule.garnish]
        for item in sorted({i for i in items if items.count(i) > 1}):
            yield Reason.of("garnish_twice_in_rule", ingredient=item, key=rule.key)
    met: set[str] = set()
    for key, glass in rules.glasses.items():
        if fold(glass.name) in met:
            yield Reason.of("glass_named_twice", named=glass.name, glass=key)
        met.add(fold(glass.name))
