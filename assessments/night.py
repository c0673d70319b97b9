"""The night: orders an hour against the people who are ready for a station."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from assessments import board, sales
from assessments.board_look import weighed
from assessments.measures.pace_check import ROUND_SIZES
from assessments.measures.readiness import Standing
from assessments.measures.sales_mix import ShiftKind
from assessments.measures.staffing import Aim, Demand, Wait, judge_hour, staff_for, whole
from assessments.overrides import standing_once
from assessments.sales_in_force import InForce
from assessments.sales_orders import orders_of
from assessments.shifts import asked_at
from barcourse.people.models import Station
from recipes.grammar.reasons import Reason
from recipes.menu import Menu

ROUND = round(sum(size * weight for size, weight in ROUND_SIZES), 1)
"""Drinks an order where no till has told (our own guess, see `measures.pace_check`)."""


@dataclass(frozen=True)
class People:
    """Who holds the station: hires who are ready, those who are let stand for this shift, those
    who work beside one of them, others."""

    ready: tuple[str, ...]
    second: tuple[str, ...]
    others: int = 0
    once: tuple[str, ...] = ()

    @property
    def holding(self) -> int:
        return len(self.ready) + len(self.once) + self.others


@dataclass(frozen=True)
class Needed:
    """What an hour needs, and what becomes of it with the people there are. `needed` None: more
    than any bar has."""

    orders: float
    needed: Wait | None
    with_these: Reason
    hour: int | None = None

    @property
    def whole(self) -> int:
        return whole(self.orders)


def people_at(station: Station, menu: Menu, others: int, shift: ShiftKind) -> People:
    """As they stand for such a shift: the one that is on at the menu's moment, or the next."""
    hires = board.hires_here(menu.venue, menu.at)
    rows = board.board(
        station, weighed(menu, shift), hires, asked=asked_at(menu.venue, menu.at, shift)
    )

    let = standing_once(menu.venue, menu.at, shift)
    once = {
        row.hire
        for row in rows
        if row.standing is not Standing.READY
        and any(not (one.is_other or one.barred) for one in let.get((row.hire.pk, station.pk), ()))
    }

    def named(standing: Standing) -> tuple[str, ...]:
        return tuple(
            row.hire.name for row in rows if row.standing is standing and row.hire not in once
        )

    names = tuple(row.hire.name for row in rows if row.hire in once)
    return People(named(Standing.READY), named(Standing.SECOND), others, names)


def needed(orders: float, takes: float, aim: Aim, people: int, hour: int | None = None) -> Needed:
    demand = Demand(orders, takes)
    try:
        found = staff_for(demand, aim)
    except ValueError:
        found = None
    return Needed(orders, found, judge_hour(demand, people, aim), hour)


@dataclass(frozen=True)
class Round:
    """Drinks an order, and on how many orders of the till that stands: 0 where it is our guess."""

    drinks: float = ROUND
    orders: int = 0


def drinks_a_round(force: InForce) -> Round:
    """As the tills told, else our own guess."""
    found = orders_of(force)
    told = found.drinks_an_order if found else None
    return Round(round(told, 1), found.told) if found and told and told >= 1 else Round()


def hours_of(
    hours: Sequence[sales.Hour], a_round: float, takes: float, aim: Aim, people: int
) -> Sequence[Needed]:
    """Each hour that the tills know of a shift; where orders are not told apart they follow
    from the drinks, and what waits to be told is counted among these: it was rung up."""
    return [needed(_orders(hour, a_round), takes, aim, people, hour.hour) for hour in hours]


def _orders(hour: sales.Hour, a_round: float) -> float:
    return max(0.0, (hour.drinks + hour.waiting) / a_round if hour.orders is None else hour.orders)


def busiest(hours: Sequence[sales.Hour], a_round: float) -> int:
    """Orders in the hour of a shift that brings most of them; 0 where no till has told."""
    return max((whole(_orders(hour, a_round)) for hour in hours), default=0)


def waiting_in(hours: Sequence[sales.Hour]) -> tuple[int, int]:
    """What such a shift sells, on average, under names that nobody told yet, where orders follow
    from that; and orders of nothing else, where they are told apart. Never rounded to none."""
    sold = max(0.0, sum(h.waiting for h in hours if h.orders is None))
    return whole(sold), whole(sum(h.orders_waiting for h in hours if h.orders is not None))
