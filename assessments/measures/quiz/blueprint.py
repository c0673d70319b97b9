"""How many items of which kind a quiz has. The seed has no say in it, so that two quizzes of one
module weigh the same; it only chooses which drinks fill the places."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import cycle

from assessments.measures.quiz.items import ItemKind
from recipes.grammar.aspects import Aspect
from recipes.grammar.drink import Drink


@dataclass(frozen=True)
class Slot:
    """A kind of place in a quiz; items of one slot are exchangeable."""

    kind: ItemKind
    aspect: Aspect | None
    critical: bool
    must_know: bool = False  # a place kept for must-knows


Line = tuple[ItemKind, Aspect | None]

DEFAULT_MIX: tuple[Line, ...] = (
    # What fills the places left after the must-knows, in turn: what a guest tastes first, first.
    (ItemKind.ASPECT, Aspect.POURS),
    (ItemKind.ASPECT, Aspect.MIXERS),
    (ItemKind.NAME_IT, None),
    (ItemKind.ASPECT, Aspect.FINISH),
    (ItemKind.WHOLE, None),
    (ItemKind.ASPECT, Aspect.METHOD),
    (ItemKind.ASPECT, Aspect.GLASS),
)

DRINK_ITEMS = 12
SCENARIO_ITEMS = 30
PASS_MARK = 80
"""Twelve drink items, thirty scenarios and 80 percent are our own choice, no source."""


@dataclass(frozen=True)
class QuizPlan:
    """`length` counts drink items and scenarios together; `pass_mark` is a percentage.

    All critical scenarios are asked even where they are more than `scenarios`, and the quiz is
    then longer than `length`.
    """

    length: int
    pass_mark: int = PASS_MARK
    scenarios: int = 0
    mix: tuple[Line, ...] = DEFAULT_MIX

    def __post_init__(self) -> None:
        if not 0 <= self.scenarios <= self.length:
            raise ValueError("a quiz has at least as many items as scenarios")
        if not 0 < self.pass_mark <= 100:
            raise ValueError("a pass mark is a percentage above 0")


def default_plan(n_drinks: int, n_scenarios: int) -> QuizPlan:
    """Twelve items on a module's drinks, all of its scenarios up to thirty: safety in full."""
    scenarios = min(n_scenarios, SCENARIO_ITEMS)
    return QuizPlan((DRINK_ITEMS if n_drinks else 0) + scenarios, scenarios=scenarios)


def is_critical(drink: Drink) -> bool:
    """Alcohol in a drink that must have none harms somebody."""
    return drink.spec.alcohol_free


Askable = Mapping[Line, Sequence[Drink]]
"""The drinks of the module about which each line of the mix can be asked."""


def blueprint(length: int, mix: Sequence[Line], askable: Askable) -> Counter[Slot]:
    """How many drink items of each slot: must-knows as whole builds first, then the mix in turn.

    Where there are more must-knows than places, a third of the places stays for the mix: else a
    quiz on a long list of must-knows would never ask about an aspect.
    """
    slots = _must_know_slots(length, askable)
    left = length - slots.total()
    critical = _critical_places(left, askable)
    slots += _in_turn(left - critical, mix, askable, slots, critical=False)
    slots += _in_turn(length - slots.total(), mix, askable, slots, critical=True)
    slots += _in_turn(length - slots.total(), mix, askable, slots, critical=False)
    return slots


def _must_know_slots(length: int, askable: Askable) -> Counter[Slot]:
    musts = [d for d in askable.get((ItemKind.WHOLE, None), ()) if d.must_know]
    room = length if len(musts) <= length else -(-2 * length // 3)
    critical = min(room, sum(is_critical(d) for d in musts))
    plain = min(room - critical, len(musts) - sum(is_critical(d) for d in musts))
    kept = {True: critical, False: plain}
    return Counter({Slot(ItemKind.WHOLE, None, c, True): n for c, n in kept.items() if n})


def _critical_places(left: int, askable: Askable) -> int:
    """Alcohol-free drinks get their share of the places."""
    drinks = {d.slug: is_critical(d) for line in askable.values() for d in line}
    return round(left * sum(drinks.values()) / len(drinks)) if drinks else 0


def _in_turn(
    places: int, mix: Sequence[Line], askable: Askable, taken: Counter[Slot], *, critical: bool
) -> Counter[Slot]:
    """Places dealt out line by line, no line beyond the drinks that it can be asked about."""
    turns = [Slot(kind, aspect, critical) for kind, aspect in mix]
    room = {slot: _room(slot, askable) - taken[slot] for slot in turns}
    dealt: Counter[Slot] = Counter()
    for slot in cycle(turns):
        if dealt.total() >= min(places, sum(room.values())):
            break
        if dealt[slot] < room[slot]:
            dealt[slot] += 1
    return dealt


def _room(slot: Slot, askable: Askable) -> int:
    """Drinks for the slot; must-knows' whole builds have places of their own."""
    whole = slot.kind is ItemKind.WHOLE
    drinks = askable.get((slot.kind, slot.aspect), ())
    return sum(is_critical(d) is slot.critical and not (whole and d.must_know) for d in drinks)
