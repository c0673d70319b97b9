"""What to ask before building: what the guest left open and no house rule answers."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from random import Random

from assessments.measures.quiz.items import Choice
from recipes.grammar.aspects import Content, fingerprint
from recipes.grammar.drink import Drink
from recipes.grammar.rules import Doubles, Family
from recipes.grammar.spec import How, When
from recipes.grammar.units import Unit

OPEN = ((), ("garnish",), ("size",), ("garnish", "size"))
"""The four things to ask: nothing, and one or both of what calls leave open."""


class Call(StrEnum):
    """What the guest said before the drink's name."""

    PLAIN = "plain"
    DOUBLE = "double"
    DOUBLE_SHORT = "double_short"
    DOUBLE_TALL = "double_tall"


@dataclass(frozen=True)
class Heard:
    """A call, and what it leaves open."""

    call: Call
    open: tuple[str, ...]


def to_choose(drink: Drink) -> tuple[str, ...]:
    """Garnishes that the house asks the guest about."""
    return tuple(sorted(g.item for g in drink.spec.garnish if g.when is When.ASK))


def heard(drink: Drink, call: Call, doubles: Doubles) -> Heard:
    """A double has two pours; whether short or tall the guest seldom says, so the house asks,
    unless its rule is not to."""
    asks_size = call is Call.DOUBLE and doubles.ask_short_or_tall
    garnish = ("garnish",) if to_choose(drink) else ()
    return Heard(call, (*garnish, *(("size",) if asks_size else ())))


def calls_for(drink: Drink) -> tuple[Call, ...]:
    """Doubled are tall drinks of one house pour; of others nobody can say how a double is built."""
    pours = [p for p in drink.spec.how(How.MEASURED) if p.unit is Unit.POUR]
    doubled = drink.spec.family is Family.HIGHBALL and len(pours) == 1
    return tuple(Call) if doubled else (Call.PLAIN,)


def garnishes_offered(drink: Drink, others: Sequence[Drink]) -> tuple[str, ...]:
    """What the question about the garnish names: the drink's own, else the nearest drink's."""
    return next((found for d in (drink, *others) if (found := to_choose(d))), ())


def can_ask_back(drink: Drink, others: Sequence[Drink], doubles: Doubles | None) -> bool:
    """Where some call leaves something open: else "nothing" would be right of all that is asked."""
    if doubles is None or not garnishes_offered(drink, others):
        return False
    return any(heard(drink, call, doubles).open for call in calls_for(drink))


def ask_back(
    drink: Drink, others: Sequence[Drink], doubles: Doubles, random: Random
) -> tuple[Call, tuple[Choice, ...], int, tuple[str, ...]]:
    """The call, what one could ask, which of it is right, and the topics that it shows."""
    said = _called(drink, doubles, random)
    offered = list(garnishes_offered(drink, others))
    asks = list(OPEN)
    random.shuffle(asks)
    choices = tuple(Choice(_question(ask, offered), "") for ask in asks)
    finish = [t.fingerprint for t in drink.topics if t.aspect.value == "finish"]
    size = [] if said.call is Call.PLAIN else [doubles_topic(doubles)]
    return said.call, choices, asks.index(said.open), (*finish, *size)


def _called(drink: Drink, doubles: Doubles, random: Random) -> Heard:
    """As often a call that leaves something open as one that leaves nothing, where there are both:
    whoever always asks, or never does, is right about half of the time at most."""
    calls = [heard(drink, call, doubles) for call in calls_for(drink)]
    sides = [[c for c in calls if bool(c.open) is is_open] for is_open in (True, False)]
    return random.choice(random.choice([side for side in sides if side]))


def _question(ask: tuple[str, ...], offered: list[str]) -> Content:
    return {"about": list(ask), "of": offered if "garnish" in ask else []}


def doubles_topic(doubles: Doubles) -> str:
    """What there is to know about a double, as a topic of its own."""
    return fingerprint(["rule", "doubles", doubles.model_dump(mode="json")])
