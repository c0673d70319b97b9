"""Prints of builds: by them evidence on today's build is told from evidence on an earlier one."""

from __future__ import annotations

from collections.abc import Mapping

from recipes.grammar.aspects import Aspect, fingerprint
from recipes.grammar.drink import Drink


def by_aspect(drink: Drink) -> dict[str, str]:
    """The fingerprint of each aspect, as rows store them."""
    return {aspect.value: print_ for aspect, print_ in drink.fingerprints.items()}


def whole(prints: Mapping[str, str]) -> str:
    """One print for all five aspects together: the same where and only where each is."""
    return fingerprint([prints[aspect.value] for aspect in Aspect])


def of_build(drink: Drink) -> str:
    return whole(by_aspect(drink))


def changed_since(then: Mapping[str, str], drink: Drink) -> tuple[Aspect, ...]:
    """Aspects whose stored fingerprint differs from today's; a missing one counts as changed."""
    return tuple(a for a in Aspect if then.get(a.value) != drink.fingerprints[a])
