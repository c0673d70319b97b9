"""The best order for a whole round, and how what was done differs from it.

Common practice, no source: all glasses are lined up; a stout that settles is the first of the
pours and settles while the others are iced; each bottle is picked up once and poured across the
glasses; then what is shaken or stirred, then mixers, still ones before fizzy ones, floats, straws,
garnish, what is asked; what dies fast comes last with what goes onto it, and the settled stout is
topped before it is served. No drink's steps leave the order of its own checklist, but for serving
ice, which goes into all glasses at once. Fewest pick-ups: where the order is the drink (layers,
what lies under the ice, mixers, floats) the shortest common supersequence is searched exactly;
every other bottle is picked up once, in each recipe's order wherever recipes don't contradict.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from assessments.measures.own_order import across, each_once, shortest_supersequence
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

    GLASS = "glass"
    SETTLE = "settle"
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
_LATE = (Method.DRAUGHT, Method.TWO_PART, Method.OPEN)
_ONTO_IT = (Act.MIXER, Act.FLOAT, Act.STRAW, Act.GARNISH, Act.ASK)
"""What goes onto a drink comes after it is poured, also where it is poured last."""
_OWN_ORDER = (Act.UNDER, Act.MIXER, Act.FLOAT, Act.DRAUGHT)
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
    early = [_needs(spec) if spec.method not in _LATE else _without_onto(spec) for spec in drinks]
    late = [_onto(spec) if spec.method in _LATE else {} for spec in drinks]
    *before, serve = ORDER
    order = [(act, early) for act in before] + [(act, late) for act in _ONTO_IT] + [(serve, early)]
    return tuple(step for act, wanted in order for step in _steps(act, drinks, wanted, pantry))


Needs = dict[Act, tuple[str, ...]]


def _onto(spec: HouseSpec) -> Needs:
    return {act: items for act, items in _needs(spec).items() if act in _ONTO_IT}


def _without_onto(spec: HouseSpec) -> Needs:
    return {act: items for act, items in _needs(spec).items() if act not in _ONTO_IT}


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
    """In the order of the checklist: one way of pouring after the other."""
    return tuple(p.ingredient for how in hows for p in spec.how(how))


def _steps(
    act: Act, drinks: Sequence[HouseSpec], wanted: Sequence[Needs], pantry: Pantry
) -> Iterator[RoundStep]:
    own = {n: needs.get(act, ()) for n, needs in enumerate(wanted)}
    if act is Act.BOTTLE:
        yield from _bottles(drinks, own)
    elif act in _OWN_ORDER:
        order = shortest_supersequence(own.values(), lambda item: pantry[item].kind in FIZZY)
        yield from (RoundStep(act, item, now) for item, now in across(order, own))
    else:
        for item in dict.fromkeys(item for items in own.values() for item in items):
            yield RoundStep(act, item, _that_need(item, own))


Own = dict[int, tuple[str, ...]]


def _that_need(item: str, own: Own) -> tuple[int, ...]:
    return tuple(n for n, items in own.items() if item in items)


def _bottles(drinks: Sequence[HouseSpec], own: Own) -> Iterator[RoundStep]:
    """Each bottle once wherever that can be; base spirits first, as the recipes list them."""
    layered = {n: items for n, items in own.items() if drinks[n].method is Method.LAYER}
    free = {n: items for n, items in own.items() if n not in layered}
    fixed = shortest_supersequence(layered.values())
    for item in each_once([[i for i in items if i not in fixed] for items in free.values()]):
        yield RoundStep(Act.BOTTLE, item, _that_need(item, free))
    poured: set[str] = set()
    for item, now in across(fixed, layered):
        also = _that_need(item, free) if item not in poured else ()
        poured.add(item)
        yield RoundStep(Act.BOTTLE, item, tuple(sorted((*now, *also))))


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
    """Steps done while a drawn beer was losing its head; what goes onto a beer is none of them."""
    drawn = next((n for n, s in enumerate(done) if s.act is Act.DRAUGHT), None)
    if drawn is None:
        return 0
    quick = (Act.DRAUGHT, Act.TOP_UP, Act.SERVE)
    beers = {n for s in done if s.act is Act.DRAUGHT for n in s.drinks}
    return sum(s.act not in quick and not set(s.drinks) <= beers for s in done[drawn:])


def _longest_rising(ranks: Sequence[int]) -> set[int]:
    """A longest part of it that rises; rounds are short, so the plain way does."""
    best: list[list[int]] = []
    for rank in ranks:
        before = max((run for run in best if run[-1] < rank), key=len, default=[])
        best.append([*before, rank])
    longest: list[int] = max(best, key=len, default=[])
    return set(longest)
