"""Pace: a ticket of orders as they come over the bar, the clock, and what went wrong.

The ticket is drawn by what the house sells. How many drinks an order holds is our own guess, no
source: half of them one, three in ten two, the rest three or four. Sustained 60 to 100 drinks an
hour with payment, about 120 on simple builds alone, is common practice, no source.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import accumulate
from math import ceil, floor
from random import Random

from assessments.measures.intervals import rate_interval
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "pace_too_short": ("n", "least"),
    "pace_slow": ("usual",),
    "pace_usual": ("low", "high"),
    "pace_quick": ("usual",),
    "pace_unsure": ("low", "high"),
    "pace_clean": (),
    "pace_errors": ("count", "of"),
    "pace_must_not": ("count",),
}

ROUND_SIZES = ((1, 0.5), (2, 0.3), (3, 0.12), (4, 0.08))
ORDERS = 12
"""On a ticket, where nobody asks for more or fewer: some twenty drinks (our own number)."""
LEAST_DRINKS = 10
"""On fewer drinks the interval is wider than anything worth saying (our own number)."""
MOST_ORDERS = 60
USUAL = {True: (60, 100), False: (60, 120)}
"""Drinks an hour that are usual, by whether orders are rung up."""
SEEDS = 1_000_000


class Error(StrEnum):
    """What can go wrong with a drink or an order."""

    WRONG_DRINK = "wrong_drink"
    POUR = "pour"
    FINISH = "finish"
    LEFT_OUT = "left_out"
    RUNG_UP = "rung_up"
    AGE = "age"
    ICE = "ice"


MUST_NOT = frozenset({Error.WRONG_DRINK, Error.POUR, Error.AGE, Error.ICE})
"""These fail a build as well; the others are faults."""


@dataclass(frozen=True)
class Order:
    """One guest's order: slugs and how many of each, in the order in which they are called."""

    drinks: tuple[tuple[str, int], ...]

    @property
    def count(self) -> int:
        return sum(n for _, n in self.drinks)


def draw_ticket(shares: Mapping[str, float], orders: int, seed: int) -> tuple[Order, ...]:
    """So many orders from what sells; the same seed and mix give the same ticket.

    Shares need not sum to 1; all alike where nothing is known of what sells. Raises ValueError for
    no drinks, or a number of orders that no check has.
    """
    if not shares or not 0 < orders <= MOST_ORDERS:
        raise ValueError(f"a ticket has 1 to {MOST_ORDERS} orders of some drinks")
    slugs = sorted(shares)
    weights = [max(0.0, shares[s]) for s in slugs]
    if not sum(weights):
        weights = [1.0] * len(slugs)
    draw = Random(seed)  # noqa: S311  (a ticket, not a secret)
    bounds = list(accumulate(weights))
    return tuple(_order(slugs, bounds, draw) for _ in range(orders))


def drinks_at_most(orders: int, share: float = 0.9) -> int:
    """So many drinks, or fewer, have a `share` of all tickets of so many orders; exact, by folding
    the sizes of orders into each other. Raises ValueError for a share of 1 and more."""
    if not 0 <= share < 1:
        raise ValueError("no ticket is the longest of all")
    chances = {0: 1.0}
    for _ in range(orders):
        sums: dict[int, float] = {}
        for drinks, chance in chances.items():
            for size, often in ROUND_SIZES:
                sums[drinks + size] = sums.get(drinks + size, 0.0) + chance * often
        chances = sums
    so_far = accumulate(chances[n] for n in sorted(chances))
    return next(n for n, sum_ in zip(sorted(chances), so_far, strict=True) if sum_ >= share)


def _order(slugs: Sequence[str], bounds: Sequence[float], draw: Random) -> Order:
    sizes = [size for size, _ in ROUND_SIZES]
    (size,) = draw.choices(sizes, [w for _, w in ROUND_SIZES])
    counts: dict[str, int] = {}
    for slug in draw.choices(slugs, cum_weights=bounds, k=size):
        counts[slug] = counts.get(slug, 0) + 1
    return Order(tuple(counts.items()))


def whole_pace(an_hour: float) -> int:
    """As every page and command tells it: no drink is counted before it is made. Where a house asks
    for so many, in whole ones, this reads as enough just where the pace itself is."""
    return floor(an_hour)


@dataclass(frozen=True)
class Pace:
    """Drinks an hour with the 95 % interval, and what is to be said of it."""

    drinks: int
    seconds: int
    an_hour: float
    low: float
    high: float
    errors: int
    reasons: tuple[Reason, ...]

    @property
    def whole(self) -> tuple[int, int, int]:
        """Whole drinks an hour and the ends of the interval, rounded outwards."""
        return whole_pace(self.an_hour), whole_pace(self.low), ceil(self.high)


def judge_pace(drinks: int, seconds: int, errors: Mapping[Error, int], *, rung_up: bool) -> Pace:
    """The pace of a whole ticket. Raises ValueError for no drinks, no time or errors below 0."""
    if any(n < 0 for n in errors.values()):
        raise ValueError("errors are counted from 0")
    low, high = (3600 * end for end in rate_interval(drinks, seconds))
    made = sum(errors.values())
    said = (_speed(drinks, low, high, rung_up), *_errors(errors, made, drinks))
    return Pace(drinks, seconds, 3600 * drinks / seconds, low, high, made, said)


def _speed(drinks: int, low: float, high: float, rung_up: bool) -> Reason:
    least, most = USUAL[rung_up]
    if drinks < LEAST_DRINKS:
        return Reason.of("pace_too_short", n=drinks, least=LEAST_DRINKS)
    if high < least:
        return Reason.of("pace_slow", usual=least)
    if low > most:
        return Reason.of("pace_quick", usual=most)
    if least <= low and high <= most:
        return Reason.of("pace_usual", low=least, high=most)
    return Reason.of("pace_unsure", low=least, high=most)


def _errors(errors: Mapping[Error, int], made: int, drinks: int) -> tuple[Reason, ...]:
    if not made:
        return (Reason.of("pace_clean"),)
    grave = sum(n for kind, n in errors.items() if kind in MUST_NOT)
    said = (Reason.of("pace_errors", count=made, of=drinks),)
    return (*said, Reason.of("pace_must_not", count=grave)) if grave else said
