"""How many people an hour of orders needs, and how long guests wait with so many.

An order is one guest's round: its drinks are handled in one go by one person, together with what
is the same for any order (greeting, till, the way to the glasses). So orders arrive one by one, at
random and independent of one another; the time of one is that of its drinks and that handling, by
its mean; a guest waits until any of the people is free, first come, first served, and nobody gives
up. That is the queue of Erlang C (A. K. Erlang, 1917), whose times vary as the exponential law
does. Rounds of drinks vary less than that: the chance of having to wait is then nearly the same,
but the mean wait is a fifth to not quite a half shorter than said, as simulated bars show. So the
figure errs towards one person more.

It is about a steady hour. Where more comes in than the people can make, no such hour exists: the
queue grows until the orders stop. Then the wait is None and said to be without end, never averaged
into a number.

An hour may be asked about by itself (`Demand`, `wait_with`), so that a night is a list of them.
"""

import math
from dataclasses import dataclass, replace

from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "hour_brim": ("count",),
    "hour_empty": (),
    "hour_held": ("count", "wait"),
    "hour_nobody": ("count",),
    "hour_overrun": ("count", "orders", "made"),
    "hour_slow": ("count", "in_time", "wait"),
}

MOST_PEOPLE = 500
"""No bar has more behind it; whoever gets here typed a figure wrongly."""


@dataclass(frozen=True)
class Demand:
    """What comes over the bar in an hour: orders, and the seconds that one takes a person."""

    orders_an_hour: float
    seconds_an_order: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.orders_an_hour) and self.orders_an_hour >= 0):
            raise ValueError("orders an hour are counted from 0")
        if not (math.isfinite(self.seconds_an_order) and self.seconds_an_order > 0):
            raise ValueError("an order takes some time")

    @property
    def busy(self) -> float:
        """People who are at work all the time (erlangs): fewer than that can't do it."""
        return self.orders_an_hour * self.seconds_an_order / 3600


@dataclass(frozen=True)
class Aim:
    """The share of guests who wait no longer than so many seconds. All of them is no aim that any
    number of people keeps."""

    wait_seconds: float
    share: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.wait_seconds) and self.wait_seconds >= 0):
            raise ValueError("a wait is counted from 0 seconds")
        if not 0 < self.share < 1:
            raise ValueError("the share lies between 0 and 1, without either")


@dataclass(frozen=True)
class Wait:
    """A steady hour with so many people. Overloaded: everybody waits, without end."""

    people: int
    chance_of_waiting: float
    mean_wait_seconds: float | None
    share_within: float

    @property
    def overloaded(self) -> bool:
        return self.mean_wait_seconds is None

    def holds(self, aim: Aim) -> bool:
        return self.share_within >= aim.share


NOBODY_WAITS = Wait(0, 0.0, 0.0, 1.0)
"""An hour without orders, however many people there are."""


def seconds_an_order(
    drinks_an_hour: float, drinks_a_round: float = 1.0, handling_seconds: float = 0.0
) -> float:
    """The mean time of one order: its drinks at this person's pace and what any order takes.

    A pace that was timed with payment has the handling in it already. Raises ValueError where it
    would be no time."""
    if not (math.isfinite(drinks_an_hour) and drinks_an_hour > 0):
        raise ValueError("drinks an hour are above 0")
    if not (math.isfinite(drinks_a_round) and drinks_a_round > 0):
        raise ValueError("a round holds something")
    if not (math.isfinite(handling_seconds) and handling_seconds >= 0):
        raise ValueError("handling is counted from 0 seconds")
    return drinks_a_round * 3600 / drinks_an_hour + handling_seconds


def chance_of_waiting(busy: float, people: int) -> float:
    """Erlang C by way of Erlang B, whose recursion neither overflows nor cancels; 1 where more
    comes in than goes out."""
    if people <= busy:
        return 1.0
    lost = 1.0
    for n in range(1, people + 1):
        lost = busy * lost / (n + busy * lost)
    return people * lost / (people - busy * (1 - lost))


def wait_with(demand: Demand, people: int, wait_seconds: float) -> Wait:
    """How guests wait in a steady hour with so many people."""
    busy = demand.busy
    if not demand.orders_an_hour:
        return replace(NOBODY_WAITS, people=people)
    if people < 1 or people <= busy:
        return Wait(people, 1.0, None, 0.0)
    waiting = chance_of_waiting(busy, people)
    spare = (people - busy) / demand.seconds_an_order  # orders a second that could be made more
    within = 1 - waiting * math.exp(-spare * wait_seconds)
    return Wait(people, waiting, waiting / spare, within)


def staff_for(demand: Demand, aim: Aim) -> Wait:
    """The fewest people with whom the aim holds; nobody where no orders come in.

    Raises ValueError where it would take more than any bar has."""
    if not demand.orders_an_hour:
        return NOBODY_WAITS
    for people in range(max(1, math.floor(demand.busy) + 1), MOST_PEOPLE + 1):
        found = wait_with(demand, people, aim.wait_seconds)
        if found.holds(aim):
            return found
    raise ValueError(f"that takes more than {MOST_PEOPLE} people")


def judge_hour(demand: Demand, people: int, aim: Aim) -> Reason:
    """What becomes of the hour with these people."""
    if not demand.orders_an_hour:
        return Reason.of("hour_empty")
    found = wait_with(demand, people, aim.wait_seconds)
    if found.overloaded:
        return _overloaded(demand, people)
    if not found.holds(aim):
        in_time = math.floor(100 * found.share_within)
        return Reason.of("hour_slow", count=people, in_time=in_time, wait=round(aim.wait_seconds))
    return Reason.of("hour_held", count=people, wait=round(found.mean_wait_seconds or 0))


def whole(orders_an_hour: float) -> int:
    """Orders as a page counts them: never none where some come in."""
    return max(1, math.floor(orders_an_hour + 0.5)) if orders_an_hour else 0


def _overloaded(demand: Demand, people: int) -> Reason:
    """In whole orders, those that come in as they are shown."""
    orders = whole(demand.orders_an_hour)
    if people < 1:
        return Reason.of("hour_nobody", count=orders)
    made = math.floor(people * 3600 / demand.seconds_an_order + 1e-9)
    if made >= orders:
        return Reason.of("hour_brim", count=people)
    return Reason.of("hour_overrun", count=people, orders=orders, made=made)
