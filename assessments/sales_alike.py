"""Names that wait and differ only in how it is served: which drink they are is one question.

"Mystery punch" and "double mystery punch" are told together. A name with a word for what has no
alcohol, for several glasses or for a bottle is a question of its own.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from assessments.sales_sizes import without_sizes
from assessments.sales_told import Meanings, only_served, parts, plain, spellings
from recipes.grammar.till_names import is_alcohol_free, vessel
from recipes.grammar.till_packs import several
from recipes.grammar.till_sizes import ONE_GLASS
from recipes.menu import Menu


@dataclass(frozen=True)
class One:
    """What is asked about once: the name that is told, how often all of it was sold, and each way
    it is written with how often, what sold most first."""

    said: str
    quantity: Decimal
    written: tuple[tuple[str, Decimal], ...]

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(name for name, _n in self.written)


def as_asked(sold: Iterable[tuple[str, Decimal]], menu: Menu, told: Meanings) -> list[One]:
    """Names that wait, with how often each was sold, as they are asked about; most first."""
    quantities = dict(sold)
    ways: dict[str, dict[str, Decimal]] = {}
    for said, head in alike(quantities, menu, told).items():
        ways.setdefault(head, {})[said] = quantities[said]
    found = [
        One(head, sum(names.values(), Decimal(0)), _most(names)) for head, names in ways.items()
    ]
    return sorted(found, key=lambda one: (-one.quantity, one.said))


def _most(names: Mapping[str, Decimal]) -> tuple[tuple[str, Decimal], ...]:
    return tuple(sorted(names.items(), key=lambda pair: (-pair[1], pair[0])))


def alike(names: Iterable[str], menu: Menu, told: Meanings) -> dict[str, str]:
    """Each of these names by the one that is told for it, itself where it stands alone."""
    heads = _by_size(list(names), told)
    by_letters = {plain(head): head for head in sorted({*heads.values()}, reverse=True)}
    finals: dict[str, str] = {}
    served = cache(lambda before, after: only_served(before, after, menu, None))
    for head in sorted({*heads.values()}, key=lambda h: (len(h.split()), plain(h), h)):
        within = "" if _is_apart(head) else _within(head, by_letters, served)
        finals[head] = finals.get(within, within) if within else head
    return {name: finals[head] for name, head in heads.items()}


def bare(said: str) -> str:
    """A name without the words of size at its ends."""
    if _is_apart(said):
        return said
    return [said, *(rest for rest, _sizes in without_sizes(said, ONE_GLASS))][-1]


def _is_apart(said: str) -> bool:
    return bool(is_alcohol_free(said) or vessel(said) or several(said))


def _by_size(names: Collection[str], told: Meanings) -> dict[str, str]:
    """By the name without sizes where that isn't told yet and two have it."""
    bares = {name: bare(name) for name in names}
    have = Counter(bares.values())
    return {
        name: found if have[found] > 1 and found not in told else name
        for name, found in bares.items()
    }


def _within(head: str, by_letters: Mapping[str, str], served: Callable[[str, str], bool]) -> str:
    """The longest other name in it beside which the rest only says how it is served; else ""."""
    for part, before, after in parts(head.split()):
        ways = (by_letters.get(way, "") for way in spellings(part))
        name = next((way for way in ways if way not in ("", head)), "")
        if name and (not (before or after) or served(before, after)):
            return name
    return ""
