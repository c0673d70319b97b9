"""What somebody knows otherwise than the house builds it today.

Whoever was taught lemon doesn't forget it because the house is back at lime: what was met last
sits on top. So a part of a drink that was met otherwise since it was last met as it is today is to
be asked first, until they have shown today's: to the program or a trainer once, or on cards of
their own twice, some minutes apart. One look at a card that one marks oneself settles nothing.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from datetime import datetime

from assessments.measures.memory import SOON
from recipes.grammar.aspects import Aspect
from recipes.grammar.drink import Drink

Marks = frozenset[str]
"""Fingerprints of topics. Where an aspect has none left to know, such as a garnish that is no more,
that of the aspect stands for it."""


@dataclass(frozen=True)
class Met:
    """Once that somebody met a build. `sure` are the marks that a program or a trainer saw them
    have right, `clean` those that they say themselves they had; `ahead`: before it took effect."""

    built: Drink
    at: datetime
    sure: Marks = frozenset()
    clean: Marks = frozenset()
    ahead: bool = False


@dataclass(frozen=True)
class Part:
    """An aspect of a drink that somebody last met as it `was`, at `until`. `back`: they knew it
    before that as it is today. `seen` is when they met today's since, None where they have not."""

    aspect: Aspect
    marks: Marks
    was: Drink
    until: datetime
    back: bool
    seen: datetime | None

    def rests(self, at: datetime) -> bool:
        """Looked at so lately that asking again would show nothing."""
        return self.seen is not None and at - self.seen < SOON


Otherwise = Mapping[str, tuple[Part, ...]]
"""By drink, its parts in the order of a build; drinks of which nothing is known otherwise are
left out."""


def marks_of(drink: Drink, aspects: Iterable[Aspect] = tuple(Aspect)) -> Marks:
    """Everything that these aspects of a build show."""
    wanted = set(aspects)
    topics = {t.fingerprint for t in drink.topics if t.aspect in wanted}
    return frozenset(topics | {drink.fingerprints[a] for a in wanted})


def known_otherwise(drinks: Sequence[Drink], met: Sequence[Met]) -> Otherwise:
    """`drinks` are today's, `met` all that is known of one person, in any order."""
    of_drink: dict[str, list[Met]] = defaultdict(list)
    for one in met:
        of_drink[one.built.slug].append(one)
    found = {
        drink.slug: [
            (aspect, last)
            for aspect in Aspect
            if (last := _last_otherwise(drink, aspect, of_drink[drink.slug]))
        ]
        for drink in drinks
        if drink.slug in of_drink
    }
    alike = _alike(drinks, found)
    parts = {
        drink.slug: tuple(
            part
            for aspect, last in found.get(drink.slug, ())
            if (part := _open(drink, aspect, last, met, alike))
        )
        for drink in drinks
    }
    return {slug: told for slug, told in parts.items() if told}


_Bare = Mapping[str, AbstractSet[str]]
"""By the mark of an aspect in which nothing is left to know: the drinks that changed to it. Other
drinks have no garnish either, and say nothing of these."""


def _alike(drinks: Sequence[Drink], found: Mapping[str, list[tuple[Aspect, Met]]]) -> _Bare:
    bare: dict[str, set[str]] = defaultdict(set)
    for drink in drinks:
        for aspect, last in found.get(drink.slug, ()):
            if not _new_topics(drink, aspect, last.built):
                bare[drink.fingerprints[aspect]].add(drink.slug)
    return bare


def _last_otherwise(drink: Drink, aspect: Aspect, met: Iterable[Met]) -> Met | None:
    """When this aspect of the drink was last met in another way."""
    others = [m for m in met if not _same(drink, m.built, aspect)]
    return max(others, key=lambda m: m.at, default=None)


def _same(one: Drink, other: Drink, aspect: Aspect) -> bool:
    if one.fingerprints[aspect] == other.fingerprints[aspect]:
        return True
    return _topics(one, aspect) == _topics(other, aspect)


def _topics(drink: Drink, aspect: Aspect) -> Marks:
    return frozenset(t.fingerprint for t in drink.topics_of(aspect))


def _new_topics(drink: Drink, aspect: Aspect, was: Drink) -> Marks:
    return _topics(drink, aspect) - _topics(was, aspect)


def _open(drink: Drink, aspect: Aspect, last: Met, met: Sequence[Met], alike: _Bare) -> Part | None:
    """The part as long as it isn't settled: rules are shown on any drink that goes by them."""
    marks = _new_topics(drink, aspect, last.built)
    if marks:
        looks = met
    else:
        marks = frozenset({drink.fingerprints[aspect]})
        looks = [m for m in met if m.built.slug in alike[drink.fingerprints[aspect]]]
    since = [m for m in looks if m.at >= last.at or m.ahead]
    if all(_is_settled(mark, since) for mark in marks):
        return None
    before = [m for m in looks if m.at < last.at and not m.ahead]
    shown: set[str] = set().union(*(marks_of(m.built, (aspect,)) for m in before))
    seen = [m.at for m in since if marks & marks_of(m.built, (aspect,))]
    return Part(aspect, marks, last.built, last.at, marks <= shown, max(seen, default=None))


def _is_settled(mark: str, since: Iterable[Met]) -> bool:
    clean = []
    for m in since:
        if mark in m.sure:
            return True
        if mark in m.clean:
            clean.append(m.at)
    return bool(clean) and max(clean) - min(clean) >= SOON
