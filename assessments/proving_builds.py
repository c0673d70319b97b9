"""Which builds to watch next, so that few of them prove what the must-knows ask for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from assessments.measures.proving import Proposal, exercises, propose, work_of
from assessments.wording_practical import WORK
from recipes.grammar.rules import Family
from recipes.grammar.spec import Method
from recipes.menu import Menu, MenuDrink
from recipes.wording import label

Covers = tuple[tuple[str, frozenset[str], float], ...]
"""Of each must-know: its slug, what it exercises, its share."""


@dataclass(frozen=True)
class ToProve:
    """A drink to watch, and what it shows that nothing before did: kinds of work in words, and how
    many house rules."""

    item: MenuDrink
    work: tuple[str, ...]
    rules: int


@dataclass(frozen=True)
class Proving:
    """What to watch, most first. `least`: no fewer builds would do."""

    builds: tuple[ToProve, ...]
    least: int

    @property
    def is_fewest(self) -> bool:
        return len(self.builds) == self.least


def proving_builds(
    proven: Mapping[int, Iterable[int]], menu: Menu, passed: Mapping[int, Iterable[str]]
) -> dict[int, Proving]:
    """By hire: what builds of must-knows exercise and no standing, unprompted sign-off on any of
    today's drinks has shown (`sign_offs.proven_now`). What is `passed`, drinks by hire, and waits
    for its sign-off is watched already."""
    shown = {i.recipe.pk: exercises(i.drink) for i in menu.items}
    must = menu.must_knows()
    covers = tuple((i.drink.slug, shown[i.recipe.pk], i.drink.share) for i in must)
    done = {
        hire: {*recipes, *(menu.by_slug[slug].recipe.pk for slug in passed.get(hire, ()))}
        for hire, recipes in proven.items()
    }
    return {hire: _proving(menu, covers, [shown[pk] for pk in pks]) for hire, pks in done.items()}


def _proving(menu: Menu, covers: Covers, shown: Iterable[frozenset[str]]) -> Proving:
    proven = frozenset[str]().union(*shown)
    found = _proposed(covers, proven)
    builds = tuple(_to_prove(menu.by_slug[p.slug], p.shows) for p in found.picks)
    return Proving(builds, found.least)


def _to_prove(item: MenuDrink, shows: frozenset[str]) -> ToProve:
    work = [code for code in work_of(item.drink.spec) if code in shows]
    return ToProve(item, tuple(map(work_words, work)), len(shows) - len(work))


def work_words(code: str) -> str:
    """What `proving.work_of` calls a kind of work; raises KeyError for one without words."""
    kind, _colon, name = code.partition(":")
    if kind == "family":
        return label(Family(name))
    return label(Method(name)) if kind == "method" else str(WORK[code])


@lru_cache(maxsize=2048)
def _proposed(covers: Covers, proven: frozenset[str]) -> Proposal:
    """Kept as long as neither the menu nor what is proven changes."""
    return propose(
        {slug: shows for slug, shows, _ in covers},
        proven,
        {slug: share for slug, _, share in covers},
    )
