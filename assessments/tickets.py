"""Tickets for a pace check: drawn from what a station sells, read back from a row."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from assessments.measures.pace_check import Order, draw_ticket
from barcourse.people.models import Station
from recipes.grammar.aspects import fingerprint
from recipes.menu import Menu


@dataclass(frozen=True)
class Drawn:
    """A ticket, where it is for, and the seed that draws it again."""

    station: Station
    seed: int
    orders: tuple[Order, ...]
    rung_up: bool

    @property
    def count(self) -> int:
        return sum(order.count for order in self.orders)

    @property
    def print_(self) -> str:
        return fingerprint([self.station.slug, self.seed, self.to_json()])

    def to_json(self) -> list[Any]:
        return [[[slug, n] for slug, n in order.drinks] for order in self.orders]


def draw(menu: Menu, station: Station, *, orders: int, seed: int, rung_up: bool) -> Drawn | None:
    """None where nothing is poured at the station."""
    shares = {i.drink.slug: i.drink.share for i in menu.at_station(station)}
    if not shares:
        return None
    return Drawn(station, seed, draw_ticket(shares, orders, seed), rung_up)


def count_of(ticket: list[Any]) -> int:
    """How many drinks a stored ticket has."""
    return sum(n for order in ticket for _slug, n in order)
