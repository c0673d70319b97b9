"""The best order for a whole round; `rounds_done` says how what was done differs from it.

Common practice, no source: all glasses are lined up; a stout that settles is the first of the
pours and settles while the others are iced; each bottle is picked up once and poured across the
glasses; then what is shaken or stirred, then mixers, still ones before fizzy ones, floats, straws,
garnish, what is asked; what dies fast comes last with what goes onto it, and the settled stout is
topped before it is served. No drink's steps leave the order of its own checklist, but for serving
ice, which goes into all glasses at once, and for what goes into a tin or over one's ice together,
where each bottle comes when it is picked up. Fewest pick-ups: where the order is the drink (layers,
what lies under the ice, mixers, floats) the shortest common supersequence is searched exactly;
every other bottle is picked up once, in each recipe's order wherever recipes don't contradict; and
what several drinks need for different things (under the ice, in the tin, to the top) is picked up
once where no drink's own order is in the way (`joined`).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from assessments.measures.joined import joined
from assessments.measures.own_order import across, each_once, shortest_supersequence
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import Kind, Pantry
from recipes.grammar.spec import How, Ice, Method, When
from recipes.grammar.steps import CHOICE

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
_POURED = frozenset({Act.UNDER, Act.BOTTLE, Act.MIXER, Act.FLOAT})
"""What is poured from something that is picked up for it."""
DIE = (Act.OPEN, Act.DRAUGHT, Act.TOP_UP, Act.SERVE)
"""What dies fast, and the service that nothing may hold up: it all comes last."""
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
    steps = [step for act, wanted in order for step in _steps(act, drinks, wanted, pantry)]
    groups = joined(_after(steps, drinks), _of_one_bottle(steps))
    return tuple(_at_once([steps[n] for n in group]) for group in groups)


def _after(steps: Sequence[RoundStep], drinks: Sequence[HouseSpec]) -> dict[int, frozenset[int]]:
    """Which steps each comes after because a drink's own order, or what dies fast, wants it."""
    late = next(n for n, step in enumerate(steps) if step.act in DIE)
    return {
        n: frozenset(
            m for m in range(n)
            if n >= late or steps[m].act is Act.SETTLE or _is_before(steps[m], steps[n], drinks)
        )
        for n in range(len(steps))
    }  # fmt: skip


def _is_before(first: RoundStep, then: RoundStep, drinks: Sequence[HouseSpec]) -> bool:
    both = (drinks[n] for n in first.drinks if n in then.drinks)
    return any(not _is_free(first.act, then.act, spec.method) for spec in both)


def _is_free(first: Act, then: Act, method: Method) -> bool:
    """Whether a drink lets these two be turned round: bottles that run together, and what goes
    into a tin, which the ice of the glass doesn't wait for."""
    if then is not Act.BOTTLE or method is Method.LAYER:
        return False
    return first is Act.BOTTLE or (first is Act.ICE and method in (Method.SHAKE, Method.STIR))


def _of_one_bottle(steps: Sequence[RoundStep]) -> Iterator[tuple[int, int]]:
    for n, then in enumerate(steps):
        for m, first in enumerate(steps[:n]):
            if first.item == then.item and {first.act, then.act} <= _POURED:
                yield m, n


def _at_once(steps: Sequence[RoundStep]) -> RoundStep:
    acts = {step.act for step in steps}
    act = acts.pop() if len(acts) == 1 else Act.BOTTLE
    numbers = sorted(n for step in steps for n in step.drinks)
    return RoundStep(act, steps[0].item, tuple(numbers))


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
