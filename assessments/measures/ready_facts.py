"""What is known about somebody before it is judged whether they are ready."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from math import inf
from typing import NamedTuple

from assessments.measures.drink_facts import DrinkFact, Drinks, ListedDrinks
from recipes.grammar.aspects import Aspect


class Safety(StrEnum):
    PASSED = "passed"
    FAILED = "failed"
    NOT_TAKEN = "not_taken"


class RuleFact(NamedTuple):
    """A house rule and what is won by knowing it surely: `gain` is the share of all orders, 0 to
    1. `drink` names the one that sells most of the `drinks` drinks that go by it, and `says` what
    the rule says, in words."""

    aspect: Aspect
    drink: str
    says: str
    drinks: int
    gain: float


class MissedPour(NamedTuple):
    """How much a pour is, in words, which was asked by itself, had wrong and not surely shown
    since, and how many drinks go by it."""

    says: str
    drinks: int


class Proof(StrEnum):
    """What sign-offs have to show: each must-know, or as many builds as between them show every
    rule and kind of work that the must-knows ask for."""

    MUST_KNOWS = "must_knows"
    FAMILIES = "families"


@dataclass(frozen=True)
class ReadyPolicy:
    """What ready takes at a station on a kind of shift. The first three are shares of orders from
    0 to 1; what is None or empty is not asked for.

    `permits` are kinds that must be held; a pour check must have been passed in the last
    `pour_days` days and `least_pace` drinks an hour been made in a check of the last `pace_days`.
    `task_days` is how far back signed side work and conduct count where no orders are taken.
    """

    least_right: float
    most_wrong: float
    second_right: float
    proof: Proof = Proof.MUST_KNOWS
    permits: tuple[str, ...] = ()
    pour_days: int | None = None
    least_pace: int | None = None
    pace_days: int | None = None
    task_days: int = 30

    def __post_init__(self) -> None:
        bars = (self.least_right, self.most_wrong, self.second_right)
        if not all(0 <= b <= 1 for b in bars):
            raise ValueError("the house's bar is made of shares from 0 to 1")
        if (self.least_pace is None) != (self.pace_days is None):
            raise ValueError("a pace is asked for with the days in which it was made")

    @property
    def asks_beside(self) -> bool:
        """Whether it asks for anything beside drinks and the safety module."""
        return bool(self.permits or self.pour_days or self.least_pace)


@dataclass(frozen=True)
class Gates:
    """What is known about somebody beside drinks, at a station on a day.

    `permits_over` are kinds that aren't held then, each with the last day of the newest (ISO 8601).
    `pours_days` is how many days ago pours were last checked and judged, `pours_passed` how that
    went; `pace` drinks an hour in the newest check at this station, `pace_days` ago. `to_prove`
    names the fewest builds that would show what no sign-off has shown.
    """

    permits_held: frozenset[str] = frozenset()
    permits_over: tuple[tuple[str, str], ...] = ()
    pours_days: int | None = None
    pours_passed: bool = False
    pace: float | None = None
    pace_days: int | None = None
    to_prove: tuple[str, ...] = ()


NOTHING_BESIDE = Gates()


@dataclass(frozen=True)
class Expected:
    """An expected share of orders, 0 to 1, with its 90 % interval."""

    mean: float
    low: float
    high: float


@dataclass(frozen=True)
class Orders:
    """Of what is ordered on a shift, which part is expected right, asked about and wrong."""

    right: Expected
    ask: Expected
    wrong: Expected


ANYTHING = Expected(0.5, 0.0, 1.0)
NOTHING_ORDERED = Orders(ANYTHING, Expected(0.25, 0.0, 1.0), Expected(0.25, 0.0, 1.0))
"""Of a menu without drinks anything may be true."""


def short_of(policy: ReadyPolicy, right_low: float, wrong: float, less_wrong: float) -> float:
    """The share of all orders that has to be won for the figures to be over the bar: 0 or less
    where none is, infinite where no order won leaves less wrong. The low end is taken to rise by
    as much as is won, and wrong to fall by `less_wrong` of it, see `Facts`."""
    too_low, too_much = policy.least_right - right_low, wrong - policy.most_wrong
    if too_much <= 0:
        return too_low
    return max(too_low, too_much / less_wrong) if less_wrong else inf


@dataclass(frozen=True)
class Facts:
    """Everything that a verdict on one person rests on. `person` is their code, no name.
    `less_wrong` is how much less goes out wrong, 0 to 1, for each share of orders that is won: the
    rest of what is won would have been asked about."""

    person: str
    drinks: Sequence[DrinkFact]
    orders: Orders
    safety: Safety
    safety_module: str
    policy: ReadyPolicy
    gates: Gates = NOTHING_BESIDE
    rules: Sequence[RuleFact] = ()
    pours_missed: tuple[MissedPour, ...] = ()
    less_wrong: float = 1.0

    @property
    def short(self) -> float:
        """See `short_of`."""
        orders = self.orders
        return short_of(self.policy, orders.right.low, orders.wrong.mean, self.less_wrong)

    @cached_property
    def known(self) -> Drinks:
        """The drinks, and what is asked about all of them together."""
        return self.drinks if isinstance(self.drinks, Drinks) else ListedDrinks(self.drinks)
