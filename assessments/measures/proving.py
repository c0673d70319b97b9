"""Proving builds: the fewest drinks to watch that between them exercise what is not proven yet.

Set cover. Greedy takes the drink that exercises most of what is left; then branch and bound looks
for fewer. It branches over the drinks that exercise the scarcest thing, and gives up a branch
where things no two of which share a drink already need as many builds as the best so far. Within
`EFFORT` branches the answer is the fewest there is, and says so; beyond, it is the best found
beside a bound that no answer can beat. Greedy alone is never more than 1 + 1/2 + ... + 1/m times
the fewest, m being the most that one drink exercises (Chvatal 1979).
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from recipes.grammar.drink import Drink
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.spec import How, Method

EFFORT = 5_000
"""Branches looked at. A full menu of must-knows takes some hundred of them."""


def exercises(drink: Drink) -> frozenset[str]:
    """What building this drink shows: the house rules in it, by fingerprint, and kinds of work."""
    rules = {t.fingerprint for t in drink.topics if t.rule}
    return frozenset(rules | set(work_of(drink.spec)))


def work_of(spec: HouseSpec) -> tuple[str, ...]:
    """The family, and what is done beside pouring: a rim, a shake, a layer, two mixers ..."""
    shown = {
        f"family:{spec.family.value}": True,
        f"method:{spec.method.value}": spec.method is not Method.BUILD,
        "rim": spec.rim is not None,
        "first_in": bool(spec.how(How.FIRST_IN)),
        "muddle": bool(spec.how(How.MUDDLED)),
        "float": bool(spec.how(How.FLOAT)),
        "dash": bool(spec.how(How.DASH)),
        "two_mixers": len(spec.mixers) > 1,
        "no_alcohol": spec.alcohol_free,
    }
    return tuple(name for name, does in shown.items() if does)


@dataclass(frozen=True)
class Pick:
    """A drink to watch, and what it exercises that nothing before it does."""

    slug: str
    shows: frozenset[str]


@dataclass(frozen=True)
class Proposal:
    """`least` is a bound: no answer has fewer builds. `is_fewest`: these are as few as can be."""

    picks: tuple[Pick, ...]
    least: int

    @property
    def is_fewest(self) -> bool:
        return len(self.picks) == self.least


Covers = Mapping[str, frozenset[str]]
"""What each drink exercises, by slug."""


def propose(
    covers: Covers,
    proven: Iterable[str],
    share: Mapping[str, float] | None = None,
    effort: int = EFFORT,
) -> Proposal:
    """The fewest of these drinks that exercise everything in `covers` that is not `proven`.

    Of drinks that do as much, the one sold more often, then the first by slug. Deterministic.
    """
    done = frozenset(proven)
    open_ = {slug: what - done for slug, what in covers.items() if what - done}
    order = sorted(open_, key=lambda s: (-(share or {}).get(s, 0.0), s))
    masks, everything = _as_bits(order, open_)
    found, least = _cover(masks, everything, effort)
    return Proposal(_picks(found, order, open_), least)


def _as_bits(order: Sequence[str], open_: Covers) -> tuple[list[int], int]:
    things = sorted(frozenset().union(*open_.values()))
    bit = {thing: 1 << n for n, thing in enumerate(things)}
    return [sum(bit[t] for t in open_[s]) for s in order], (1 << len(things)) - 1


def _picks(found: Sequence[int], order: Sequence[str], open_: Covers) -> tuple[Pick, ...]:
    """Most first, so that an hour that is too short is well spent."""
    left, seen, picks = [order[n] for n in sorted(found)], frozenset[str](), []
    while left:
        slug = max(left, key=lambda s: len(open_[s] - seen))
        picks.append(Pick(slug, open_[slug] - seen))
        seen |= open_[slug]
        left.remove(slug)
    return tuple(picks)


def greedy(masks: Sequence[int], wanted: int) -> list[int]:
    """Always the one that exercises most of what is left; the first of equals."""
    found: list[int] = []
    while wanted:
        best = max(range(len(masks)), key=lambda n: (masks[n] & wanted).bit_count())
        found.append(best)
        wanted &= ~masks[best]
    return found


def _cover(masks: list[int], everything: int, effort: int) -> tuple[list[int], int]:
    """The best cover found, and the bound; equal where the search came to its end."""
    search = _Search(masks, greedy(masks, everything), effort)
    search.look(everything, [])
    bound = len(search.best) if search.effort > 0 else _bound(masks, everything)
    return search.best, bound


@dataclass
class _Search:
    masks: list[int]
    best: list[int]
    effort: int

    def look(self, wanted: int, taken: list[int]) -> None:
        if not wanted:
            if len(taken) < len(self.best):
                self.best = list(taken)
            return
        self.effort -= 1
        if self.effort <= 0 or len(taken) + _bound(self.masks, wanted) >= len(self.best):
            return
        for n in self._that_show(_scarcest(self.masks, wanted), wanted):
            self.look(wanted & ~self.masks[n], [*taken, n])

    def _that_show(self, thing: int, wanted: int) -> list[int]:
        """Most first, without a drink that shows nothing more than another one does."""
        able = [n for n, mask in enumerate(self.masks) if mask & thing]
        able.sort(key=lambda n: -(self.masks[n] & wanted).bit_count())
        kept: list[int] = []
        for n in able:
            rest = self.masks[n] & wanted
            if not any(rest & ~self.masks[k] == 0 for k in kept):
                kept.append(n)
        return kept


def _things(wanted: int) -> list[int]:
    return [1 << n for n in range(wanted.bit_length()) if wanted >> n & 1]


def _beside(masks: Sequence[int], thing: int) -> int:
    """Everything that some drink exercises together with this."""
    found = 0
    for mask in masks:
        if mask & thing:
            found |= mask
    return found


def _scarcest(masks: Sequence[int], wanted: int) -> int:
    return min(_things(wanted), key=lambda thing: sum(bool(m & thing) for m in masks))


def _bound(masks: Sequence[int], wanted: int) -> int:
    """Things of which no two share a drink need a build each: as many as are found, scarce ones
    first."""
    reach = {thing: _beside(masks, thing) for thing in _things(wanted)}
    count = 0
    for thing in sorted(reach, key=lambda t: reach[t].bit_count()):
        if wanted & thing:
            count += 1
            wanted &= ~reach[thing]
    return count
