"""Which build is given for which drink."""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

from assessments.measures.intervals import exact_share


@dataclass(frozen=True)
class MixUp:
    """How often the build or name of `given` was picked for `asked` (slugs)."""

    asked: str
    given: str
    times: int


def mix_ups(pairs: Iterable[tuple[str | None, str | None]]) -> tuple[MixUp, ...]:
    """Pairs of asked and given drinks, most frequent first, ties by slug.

    Pairs without a drink on either side (scenarios) and a drink with itself are no mix-up.
    """
    counts: Counter[tuple[str, str]] = Counter()
    for asked, given in pairs:
        if asked and given and asked != given:
            counts[asked, given] += 1
    found = [MixUp(asked, given, n) for (asked, given), n in counts.items()]
    return tuple(sorted(found, key=lambda m: (-m.times, m.asked, m.given)))


@dataclass(frozen=True)
class Seen:
    """Once that a drink was asked of somebody: in a quiz, as a call or in a watched build. `given`
    is the other drink that came instead, None where it was right, asked about, or wrong in a way
    that is no other drink."""

    who: int
    asked: str
    given: str | None
    source: str


@dataclass(frozen=True)
class Pair:
    """`given` came for `asked` so many `times` of the `of` times that `asked` was wanted; `who`
    mixed them up, most often first; `sources` are where, most often first."""

    asked: str
    given: str
    times: int
    of: int
    who: tuple[int, ...]
    sources: tuple[str, ...]

    @cached_property
    def at_least(self) -> float:
        """The share that it surely is: the lower end of its exact 95 % interval. Once of one is
        little to go by, seven of nineteen is much."""
        return exact_share(self.times, self.of)[0]


def pairs(seen: Iterable[Seen]) -> tuple[Pair, ...]:
    """Every pair that was mixed up; first what is surely mixed up most often."""
    of: Counter[str] = Counter()
    people: dict[tuple[str, str], Counter[int]] = defaultdict(Counter)
    sources: dict[tuple[str, str], Counter[str]] = defaultdict(Counter)
    for s in seen:
        of[s.asked] += 1
        if s.given and s.given != s.asked:
            people[s.asked, s.given][s.who] += 1
            sources[s.asked, s.given][s.source] += 1
    found = [
        Pair(a, g, who.total(), of[a], _by_count(who), _by_count(sources[a, g]))
        for (a, g), who in people.items()
    ]
    return tuple(sorted(found, key=lambda p: (-round(p.at_least, 9), -p.times, p.asked, p.given)))


T = TypeVar("T", int, str)


def _by_count(counts: Counter[T]) -> tuple[T, ...]:
    return tuple(sorted(counts, key=lambda x: (-counts[x], x)))


OFTEN = (0.0, 0.05, 0.15, 0.25)
"""How often a pair is surely mixed up from each shade on: once of nine or of one is the lightest,
seven of nineteen the third, nine of eighteen the darkest (our own numbers, no source)."""
SHADES = len(OFTEN)
MOST_ROWS = 12
"""So many drinks a side can still be taken in at a glance (our own number, no source)."""


@dataclass(frozen=True)
class HeatMap:
    """Drinks in rows as asked, in columns as given. `cells` are (times, shade 0 to `SHADES`). So
    many pairs are `shown`, the others found no row or column."""

    asked: tuple[str, ...]
    given: tuple[str, ...]
    cells: tuple[tuple[tuple[int, int], ...], ...]
    shown: int


def heat_map(found: Sequence[Pair]) -> HeatMap:
    """The pairs that come first, as far as their rows and columns fit: each row and column has a
    pair, and a cell is the darker the more often it is surely mixed up: a single slip stays light
    where nothing else was mixed up."""
    on_it = _fitting(found)
    asked, given = _by_times(on_it, lambda p: p.asked), _by_times(on_it, lambda p: p.given)
    by_place = {(p.asked, p.given): p for p in on_it}
    cells = tuple(tuple(_cell(by_place.get((a, g))) for g in given) for a in asked)
    return HeatMap(asked, given, cells, len(on_it))


def _fitting(found: Sequence[Pair]) -> list[Pair]:
    rows: set[str] = set()
    columns: set[str] = set()
    for p in found:
        if len(rows | {p.asked}) <= MOST_ROWS and len(columns | {p.given}) <= MOST_ROWS:
            rows.add(p.asked)
            columns.add(p.given)
    return [p for p in found if p.asked in rows and p.given in columns]


def _cell(pair: Pair | None) -> tuple[int, int]:
    if pair is None:
        return 0, 0
    return pair.times, sum(round(pair.at_least, 9) >= least for least in OFTEN)


def _by_times(found: Iterable[Pair], side: Callable[[Pair], str]) -> tuple[str, ...]:
    counts: Counter[str] = Counter()
    for p in found:
        counts[side(p)] += p.times
    return tuple(sorted(counts, key=lambda s: (-counts[s], s)))
