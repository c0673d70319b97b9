"""Whose sign-offs and memory a change of the menu touches. Counting only: nothing is written."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from assessments.models import Memory
from assessments.sign_offs import best_sign_offs
from barcourse.people.models import Membership
from recipes.grammar.aspects import Aspect
from recipes.grammar.drink import Drink
from recipes.menu import Menu


@dataclass(frozen=True)
class OutOfDate:
    """A drink whose sign-off would no longer prove these parts of it."""

    drink: str
    aspects: tuple[Aspect, ...]


@dataclass(frozen=True)
class Touched:
    """What a change does to one person: sign-offs out of date, and topics of drinks that they
    know today of which the new ones are not in their memory."""

    hire: Membership
    out_of_date: tuple[OutOfDate, ...]
    new_topics: int

    @property
    def is_nothing(self) -> bool:
        return not (self.out_of_date or self.new_topics)


def touched(before: Menu, after: Menu, hires: Sequence[Membership]) -> list[Touched]:
    """Everybody whom the change from one menu to the other touches, in the order given; in two
    queries, however many people and drinks there are."""
    proven, known = _proven(before, hires), _known(hires)
    found = [
        Touched(
            hire,
            out_of_date(proven[hire.pk], before.drinks, after.drinks),
            len(new_topics(known[hire.pk], before.drinks, after.drinks)),
        )
        for hire in hires
    ]
    return [t for t in found if not t.is_nothing]


def out_of_date(
    proven: AbstractSet[str], before: Iterable[Drink], after: Iterable[Drink]
) -> tuple[OutOfDate, ...]:
    """Drinks, by slug, that are proven before and built otherwise after. One that leaves the menu
    is no matter of a changed build."""
    was = {d.slug: d for d in before}
    return tuple(
        OutOfDate(d.name, changed)
        for d in after
        if d.slug in proven and (changed := changed_aspects(was.get(d.slug), d))
    )


def changed_aspects(was: Drink | None, drink: Drink) -> tuple[Aspect, ...]:
    """In what a drink is built otherwise; nothing for one that was not on the menu."""
    if was is None:
        return ()
    return tuple(a for a in Aspect if was.fingerprints[a] != drink.fingerprints[a])


def new_topics(
    known: AbstractSet[str], before: Iterable[Drink], after: Iterable[Drink]
) -> frozenset[str]:
    """Topics that somebody would have to learn anew: those of drinks of which they know something
    today, that are neither in their head nor part of the menu as it is.

    What they don't know of today's menu is new to them with or without the change.
    """
    was = {d.slug: topics_of(d) for d in before}
    today = frozenset[str]().union(*was.values())
    met = (d for d in after if was.get(d.slug, frozenset()) & known)
    return frozenset[str]().union(*(topics_of(d) for d in met)) - today - known


def topics_of(drink: Drink) -> frozenset[str]:
    return frozenset(t.fingerprint for t in drink.topics)


def _proven(menu: Menu, hires: Sequence[Membership]) -> Mapping[int, frozenset[str]]:
    slugs = {i.recipe.pk: i.drink.slug for i in menu.items}
    best = best_sign_offs(hires, menu.items, menu.at)
    return {h.pk: frozenset(slugs[r] for r, s in best[h.pk].items() if s.proves) for h in hires}


def _known(hires: Sequence[Membership]) -> Mapping[int, set[str]]:
    found: dict[int, set[str]] = defaultdict(set)
    for hire, topic in Memory.objects.filter(hire__in=hires).values_list("hire_id", "topic"):
        found[hire].add(topic)
    return found
