"""The best order for a whole round, and how what was done differs from it.

Common practice, no source: a stout that settles starts first; all glasses are lined up and iced;
each bottle is picked up once and poured across the glasses; then what is shaken or stirred, then
mixers, still ones before fizzy ones, floats, straws, garnish, what is asked; what dies fast comes
last, and the settled stout is topped before it is served. Fewest pick-ups: the bottles of layered
drinks have a fixed order each, and their shortest common supersequence is searched exactly; every
other bottle fits in anywhere, so it is picked up once.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from heapq import heappop, heappush

from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import Kind, Pantry
from recipes.grammar.reasons import Reason
from recipes.grammar.spec import How, Ice, Method, When
from recipes.grammar.steps import CHOICE

CODES: dict[str, tuple[str, ...]] = {
    "round_as_best": (),
    "round_moved": ("count", "of"),
    "round_settle_late": (),
    "round_died": ("count",),
    "round_picked_up_again": ("count",),
}

MOST_DRINKS = 8
"""More than two hands carry."""


class Act(StrEnum):
    """What is done across the glasses, in the order of the trade."""

    SETTLE = "settle"
    GLASS = "glass"
    RIM = "rim"
    UNDER = "under"
    ICE = "ice"
    BOTTLE = "bottle"
    MIX = "mix"
    MIXER = "mixer"
    FLOAT = "float"
    STRAW = "straw"
    GARNISH = "garnish"
    ASK = "ask"
    OPEN = "open"
    DRAUGHT = "draught"
    TOP_UP = "top_up"
    SERVE = "serve"


ORDER = tuple(Act)
_DRAWN = (Method.DRAUGHT, Method.TWO_PART)
FIZZY = frozenset({Kind.SODA_MIXER, Kind.SPARKLING, Kind.BEER, Kind.CIDER})


@dataclass(frozen=True)
class RoundStep:
    """One thing to do for some of the drinks, which are counted from 0. `item` is the slug of what
    is picked up, empty where nothing is; of a question, the slugs of what the guest may choose,
    with `CHOICE` between them."""

    act: Act
    item: str
    drinks: tuple[int, ...]

    @property
    def key(self) -> str:
        return f"{self.act.value}:{self.item}:{'-'.join(str(d) for d in self.drinks)}"


def best_order(drinks: Sequence[HouseSpec], pantry: Pantry) -> tuple[RoundStep, ...]:
    """Everything to do for the round, best first. Raises ValueError for no drinks or too many."""
    if not 0 < len(drinks) <= MOST_DRINKS:
        raise ValueError(f"a round has 1 to {MOST_DRINKS} drinks")
    wanted = [_needs(spec) for spec in drinks]
    return tuple(step for act in ORDER for step in _steps(act, drinks, wanted, pantry))


Needs = dict[Act, tuple[str, ...]]


def _needs(spec: HouseSpec) -> Needs:
    """What one drink needs at each act: the items, in the order of its recipe."""
    drawn = spec.mixers if spec.method in _DRAWN else ()
    two_part = spec.method is Method.TWO_PART
    asked = tuple(g.item for g in spec.garnish if g.when is When.ASK)
    mixes = spec.method in (Method.SHAKE, Method.STIR, Method.BLEND)
    return {
        Act.SETTLE: tuple(p.ingredient for p in drawn) if two_part else (),
        Act.GLASS: () if spec.method is Method.OPEN else ("",),
        Act.RIM: (spec.rim.item,) if spec.rim else (),
        Act.UNDER: _items(spec, How.FIRST_IN, How.MUDDLED),
        Act.ICE: () if spec.ice is Ice.NONE else ("",),
        Act.BOTTLE: () if spec.method is Method.OPEN else _items(spec, How.MEASURED, How.DASH),
        Act.MIX: (spec.method.value,) if mixes else (),
        Act.MIXER: () if drawn else _items(spec, How.TOP),
        Act.FLOAT: _items(spec, How.FLOAT),
        Act.STRAW: ("",) if spec.straw else (),
        Act.GARNISH: tuple(g.item for g in spec.garnish if g.when is When.ALWAYS),
        Act.ASK: (CHOICE.join(asked),) if asked else (),
        Act.OPEN: _items(spec, How.MEASURED, How.DASH) if spec.method is Method.OPEN else (),
        Act.DRAUGHT: tuple(p.ingredient for p in drawn) if not two_part else (),
        Act.TOP_UP: tuple(p.ingredient for p in drawn) if two_part else (),
        Act.SERVE: ("",),
    }


def _items(spec: HouseSpec, *hows: How) -> tuple[str, ...]:
    return tuple(p.ingredient for p in spec.how(*hows))


def _steps(
    act: Act, drinks: Sequence[HouseSpec], wanted: Sequence[Needs], pantry: Pantry
) -> Iterator[RoundStep]:
    if act is Act.BOTTLE:
        yield from _bottles(drinks, wanted)
        return
    items = dict.fromkeys(item for needs in wanted for item in needs[act])
    if act is Act.MIXER:
        items = dict.fromkeys(sorted(items, key=lambda i: pantry[i].kind in FIZZY))
    for item in items:
        yield RoundStep(act, item, _that_need(item, act, wanted))


def _that_need(item: str, act: Act, wanted: Sequence[Needs]) -> tuple[int, ...]:
    return tuple(n for n, needs in enumerate(wanted) if item in needs[act])


def _bottles(drinks: Sequence[HouseSpec], wanted: Sequence[Needs]) -> Iterator[RoundStep]:
    """Each bottle once wherever that can be; base spirits first, as the recipes list them."""
    layered = [n for n, spec in enumerate(drinks) if spec.method is Method.LAYER]
    free = [n for n in range(len(drinks)) if n not in layered]
    fixed = shortest_supersequence([wanted[n][Act.BOTTLE] for n in layered])
    place = dict.fromkeys(layered, 0)
    loose = {item: rank for item, rank in _by_rank(free, wanted) if item not in fixed}
    for item in loose:
        yield RoundStep(Act.BOTTLE, item, _that_need(item, Act.BOTTLE, wanted))
    poured: set[str] = set()
    for item in fixed:
        now = [n for n in layered if wanted[n][Act.BOTTLE][place[n] : place[n] + 1] == (item,)]
        for n in now:
            place[n] += 1
        if item not in poured:
            now += [n for n in free if item in wanted[n][Act.BOTTLE]]
        poured.add(item)
        yield RoundStep(Act.BOTTLE, item, tuple(sorted(now)))


def _by_rank(free: Sequence[int], wanted: Sequence[Needs]) -> list[tuple[str, int]]:
    """Bottles of the drinks in any order, by the earliest place that one has in a recipe."""
    rank: dict[str, int] = {}
    for n in free:
        for place, item in enumerate(wanted[n][Act.BOTTLE]):
            rank[item] = min(rank.get(item, place), place)
    return sorted(rank.items(), key=lambda pair: pair[1])


def shortest_supersequence(sequences: Sequence[Sequence[str]]) -> tuple[str, ...]:
    """The shortest order in which every sequence can be read off from left to right.

    Exact: the shortest way through the places reached, best bound first. The bound is the most
    that any one item is still needed in one sequence, summed over the items.
    """
    goal = tuple(len(s) for s in sequences)
    start = (0,) * len(sequences)
    queue: list[tuple[int, int, tuple[str, ...], tuple[int, ...]]] = []
    heappush(queue, (_still(start, sequences), 0, (), start))
    seen: set[tuple[int, ...]] = set()
    while queue:
        _, steps, path, place = heappop(queue)
        if place == goal:
            return path
        if place in seen:
            continue
        seen.add(place)
        for item in _next(place, sequences):
            then = _after(item, place, sequences)
            bound = steps + 1 + _still(then, sequences)
            heappush(queue, (bound, steps + 1, (*path, item), then))
    raise AssertionError("every sequence has an end")


def _next(place: Sequence[int], sequences: Sequence[Sequence[str]]) -> list[str]:
    return list(dict.fromkeys(s[p] for s, p in zip(sequences, place, strict=True) if p < len(s)))


def _after(item: str, place: Sequence[int], sequences: Sequence[Sequence[str]]) -> tuple[int, ...]:
    pairs = zip(sequences, place, strict=True)
    return tuple(p + (p < len(s) and s[p] == item) for s, p in pairs)


def _still(place: Sequence[int], sequences: Sequence[Sequence[str]]) -> int:
    most: dict[str, int] = {}
    for sequence, start in zip(sequences, place, strict=True):
        left = list(sequence[start:])
        for item in left:
            most[item] = max(most.get(item, 0), left.count(item))
    return sum(most.values())


@dataclass(frozen=True)
class OutOfTurn:
    """A step that belongs elsewhere: `late`, before `beside`; else early, after `beside`."""

    step: RoundStep
    late: bool
    beside: RoundStep


@dataclass(frozen=True)
class Compared:
    """What was done beside the best order. `turns` are the fewest steps that would have to be
    taken out of it and put elsewhere, as they were done."""

    turns: tuple[OutOfTurn, ...]
    reasons: tuple[Reason, ...]

    @property
    def moved(self) -> tuple[RoundStep, ...]:
        return tuple(turn.step for turn in self.turns)


def in_order(best: Sequence[RoundStep], tapped: Sequence[str]) -> tuple[str, ...]:
    """Keys of all steps: first those tapped, as they were tapped; the rest follows as is best.
    Raises ValueError for a key of another round, or one tapped twice."""
    keys = [step.key for step in best]
    if len(set(tapped)) < len(tapped) or not set(tapped) <= set(keys):
        raise ValueError("not the steps of this round")
    return (*tapped, *(key for key in keys if key not in tapped))


def compare(
    best: Sequence[RoundStep], done: Sequence[RoundStep], picked_up_again: int = 0
) -> Compared:
    """`done` holds the steps of `best` in the order in which they were done; raises ValueError
    where it holds others. `picked_up_again`: bottles taken a second time."""
    if sorted(s.key for s in best) != sorted(s.key for s in done) or picked_up_again < 0:
        raise ValueError("not the steps of this round")
    rank = {step: n for n, step in enumerate(best)}
    kept = _longest_rising([rank[s] for s in done])
    turns = tuple(
        _out_of_turn(n, done, rank, kept) for n, s in enumerate(done) if rank[s] not in kept
    )
    said = tuple(_said(done, turns, picked_up_again, len(best)))
    return Compared(turns, said or (Reason.of("round_as_best"),))


def _out_of_turn(
    n: int, done: Sequence[RoundStep], rank: dict[RoundStep, int], kept: set[int]
) -> OutOfTurn:
    """The nearest kept step on whose wrong side it was done. There is one, or it would be kept;
    and never one on either side, since the kept ones rise."""
    own = rank[done[n]]
    before = [s for s in done[:n] if rank[s] in kept and rank[s] > own]
    if before:
        return OutOfTurn(done[n], True, min(before, key=lambda s: rank[s]))
    after = [s for s in done[n + 1 :] if rank[s] in kept and rank[s] < own]
    return OutOfTurn(done[n], False, max(after, key=lambda s: rank[s]))


def _said(
    done: Sequence[RoundStep], turns: Sequence[OutOfTurn], again: int, of: int
) -> Iterator[Reason]:
    if turns:
        yield Reason.of("round_moved", count=len(turns), of=of)
    first = [s.act for s in done if s.act is not Act.GLASS][:1]
    if any(s.act is Act.SETTLE for s in done) and first != [Act.SETTLE]:
        yield Reason.of("round_settle_late")
    if waited := _waited(done):
        yield Reason.of("round_died", count=waited)
    if again:
        yield Reason.of("round_picked_up_again", count=again)


def _waited(done: Sequence[RoundStep]) -> int:
    """Steps done while a drawn beer was losing its head."""
    drawn = next((n for n, s in enumerate(done) if s.act is Act.DRAUGHT), None)
    if drawn is None:
        return 0
    quick = (Act.DRAUGHT, Act.TOP_UP, Act.SERVE)
    return sum(s.act not in quick for s in done[drawn:])


def _longest_rising(ranks: Sequence[int]) -> set[int]:
    """A longest part of it that rises; rounds are short, so the plain way does."""
    best: list[list[int]] = []
    for rank in ranks:
        before = max((run for run in best if run[-1] < rank), key=len, default=[])
        best.append([*before, rank])
    longest: list[int] = max(best, key=len, default=[])
    return set(longest)
