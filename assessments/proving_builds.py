"""Which builds to watch next, so that few of them prove what the must-knows ask for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from assessments.measures.proving import Proposal, exercises, propose
from assessments.sign_offs import Signed, best_sign_offs
from barcourse.people.models import Membership
from recipes.menu import Menu, MenuDrink


@dataclass(frozen=True)
class ToProve:
    """A drink to watch, and how many rules and kinds of work it shows that nothing before did."""

    item: MenuDrink
    shows: int


@dataclass(frozen=True)
class Proving:
    """What to watch, most first. `least`: no fewer builds would do."""

    builds: tuple[ToProve, ...]
    least: int

    @property
    def is_fewest(self) -> bool:
        return len(self.builds) == self.least


def proving_builds(hires: Sequence[Membership], menu: Menu) -> dict[int, Proving]:
    """By hire, in one query: what builds of must-knows exercise and no standing, unprompted
    sign-off on any of today's drinks has shown."""
    shown = {i.recipe.pk: exercises(i.drink) for i in menu.items}
    best = best_sign_offs(hires, menu.items, menu.at)
    return {h.pk: _proving(menu, shown, best[h.pk]) for h in hires}


def _proving(menu: Menu, shown: dict[int, frozenset[str]], best: dict[int, Signed]) -> Proving:
    proven = frozenset[str]().union(*(shown[pk] for pk, s in best.items() if s.proves))
    must = menu.must_knows()
    covers = tuple((i.drink.slug, shown[i.recipe.pk], i.drink.share) for i in must)
    found = _proposed(covers, proven)
    builds = tuple(ToProve(menu.by_slug[p.slug], len(p.shows)) for p in found.picks)
    return Proving(builds, found.least)


@lru_cache(maxsize=256)
def _proposed(
    covers: tuple[tuple[str, frozenset[str], float], ...], proven: frozenset[str]
) -> Proposal:
    """Kept as long as neither the menu nor what is proven changes."""
    return propose(
        {slug: shows for slug, shows, _ in covers},
        proven,
        {slug: share for slug, _, share in covers},
    )
