"""How many items of which kind a quiz has. The seed has no say in it, so that two quizzes of one
module weigh the same; it only chooses which drinks fill the places."""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
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
    # What fills the places left after the must-knows, in turn: what says most, first.
    (ItemKind.BUILD, None),
    (ItemKind.ASPECT, Aspect.FINISH),
    (ItemKind.ASK_BACK, None),
    (ItemKind.NAME_IT, None),
    (ItemKind.SEVERAL, None),
    (ItemKind.ASPECT, Aspect.POURS),
    (ItemKind.ORDER, None),
    (ItemKind.AMOUNT, None),
    (ItemKind.ASPECT, Aspect.MIXERS),
    (ItemKind.WHOLE, None),
    (ItemKind.ASPECT, Aspect.METHOD),
    (ItemKind.ASPECT, Aspect.GLASS),
)

DRINK_ITEMS = 12
SCENARIO_ITEMS = 30
SCENARIOS_A_CARD, MOST_CARDS = 5, 3
PASS_MARK = 80
"""Twelve drink items, thirty scenarios with an identity card to every five, three at most, and
80 percent are our own choice, no source."""


@dataclass(frozen=True)
class QuizPlan:
    """`length` counts drink items, scenarios and identity cards together; `pass_mark` is a
    percentage; `critical` are slugs of drinks that must be right, beside alcohol-free ones.
    `whole_first`: must-knows take places as whole builds before the mix is dealt; else the mix
    alone says what is asked, of must-knows first. `pool` names the pool that its questions are
    drawn from (`drawing.pooled`); empty where all there are may be asked.

    Every critical drink is asked about; where they are more than the places for drinks, the quiz
    is longer than `length`. Of more critical scenarios than `scenarios` chance takes so many.
    """

    length: int
    pass_mark: int = PASS_MARK
    scenarios: int = 0
    mix: tuple[Line, ...] = DEFAULT_MIX
    cards: int = 0
    critical: tuple[str, ...] = ()
    whole_first: bool = True
    pool: str = ""

    def __post_init__(self) -> None:
        if min(self.scenarios, self.cards) < 0 or self.scenarios + self.cards > self.length:
            raise ValueError("a quiz has at least as many items as scenarios and cards")
        if not 0 < self.pass_mark <= 100:
            raise ValueError("a pass mark is a percentage above 0")

    @property
    def drink_items(self) -> int:
        return self.length - self.scenarios - self.cards


def default_plan(n_drinks: int, n_scenarios: int, n_critical: int = 0) -> QuizPlan:
    """Twelve items on a module's drinks, all of its scenarios up to thirty: safety in full, with
    identity cards where there are situations enough to speak of them. `n_critical` of the
    scenarios are critical: those are all asked."""
    scenarios = max(min(n_scenarios, SCENARIO_ITEMS), n_critical)
    cards = min(MOST_CARDS, n_scenarios // SCENARIOS_A_CARD)
    length = (DRINK_ITEMS if n_drinks else 0) + scenarios + cards
    return QuizPlan(length, scenarios=scenarios, cards=cards)


def is_critical(drink: Drink, also: Collection[str] = ()) -> bool:
    """Alcohol in a drink that must have none harms somebody; `also` are slugs that a plan names."""
    return drink.spec.alcohol_free or drink.slug in also


Askable = Mapping[Line, Sequence[Drink]]
"""The drinks of the module about which each line of the mix can be asked."""


def blueprint(
    length: int,
    mix: Sequence[Line],
    askable: Askable,
    also: Collection[str] = (),
    *,
    whole_first: bool = True,
) -> Counter[Slot]:
    """How many drink items of each slot: one for each critical drink, must-knows as whole builds
    first, then the mix in turn. At least `length`, and as many as there are critical drinks.

    Where there are more must-knows than places, a third of the places stays for the mix: else a
    quiz on a long list of must-knows would never ask about an aspect.
    """
    slots = critical_slots(mix, askable, also, whole_first=whole_first)
    sure = slots.total()
    if whole_first:
        slots += _must_know_slots(length, askable, also, length - sure)
    left = length - slots.total()
    critical = min(left, max(0, _critical_places(length, askable, also) - sure))
    rooms = {
        c: _rooms(mix, askable, also, critical=c, whole_first=whole_first) for c in (False, True)
    }
    slots += _in_turn(left - critical, rooms[False], slots)
    slots += _in_turn(length - slots.total(), rooms[True], slots)
    slots += _in_turn(length - slots.total(), rooms[False], slots)
    return slots


def critical_slots(
    mix: Sequence[Line], askable: Askable, also: Collection[str], *, whole_first: bool
) -> Counter[Slot]:
    """A place for every critical drink: its whole build where must-knows come first, else on the
    line of the mix that has fewest so far, else its whole build after all."""
    slots: Counter[Slot] = Counter()
    found = {d.slug: d for line in askable.values() for d in line if is_critical(d, also)}
    whole = {d.slug for d in askable.get((ItemKind.WHOLE, None), ())}
    for slug, drink in sorted(found.items()):
        must = whole_first and drink.must_know
        own = Slot(ItemKind.WHOLE, None, critical=True, must_know=must)
        lines = [
            Slot(kind, aspect, critical=True)
            for kind, aspect in mix
            if slug in {d.slug for d in askable.get((kind, aspect), ())}
            and not (must and kind is ItemKind.WHOLE)
        ]
        if slug in whole and (must or not lines):
            lines = [own]
        slots[min(lines, key=lambda slot: slots[slot])] += 1
    return slots


def _must_know_slots(
    length: int, askable: Askable, also: Collection[str], left: int
) -> Counter[Slot]:
    """Those that aren't critical: critical ones have their places already."""
    musts = [d for d in askable.get((ItemKind.WHOLE, None), ()) if d.must_know]
    room = length if len(musts) <= length else -(-2 * length // 3)
    critical = sum(is_critical(d, also) for d in musts)
    plain = min(left, room - critical, len(musts) - critical)
    return Counter({Slot(ItemKind.WHOLE, None, critical=False, must_know=True): max(0, plain)})


def _critical_places(length: int, askable: Askable, also: Collection[str]) -> int:
    """Drinks that must be right get their share of the places."""
    drinks = {d.slug: is_critical(d, also) for line in askable.values() for d in line}
    return round(length * sum(drinks.values()) / len(drinks)) if drinks else 0


def _in_turn(places: int, rooms: Mapping[Slot, int], taken: Counter[Slot]) -> Counter[Slot]:
    """Places dealt out line by line, no line beyond the drinks that it can be asked about."""
    room = {slot: most - taken[slot] for slot, most in rooms.items()}
    dealt: Counter[Slot] = Counter()
    for slot in cycle(rooms):
        if dealt.total() >= min(places, sum(room.values())):
            break
        if dealt[slot] < room[slot]:
            dealt[slot] += 1
    return dealt


def _rooms(
    mix: Sequence[Line],
    askable: Askable,
    also: Collection[str],
    *,
    critical: bool,
    whole_first: bool,
) -> dict[Slot, int]:
    """Drinks for each slot; must-knows' whole builds have places of their own where they are
    first."""
    return {
        Slot(kind, aspect, critical): sum(
            is_critical(d, also) is critical
            and not (whole_first and kind is ItemKind.WHOLE and d.must_know)
            for d in askable.get((kind, aspect), ())
        )
        for kind, aspect in mix
    }
