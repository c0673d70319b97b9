"""The board as somebody wants to look at it: for which kind of shift, which module, whose standing,
in what order."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from assessments import board, sales
from assessments.board import Row
from assessments.measures.house_miss import NO_MISS, Miss
from assessments.measures.readiness import Standing
from assessments.measures.ready_facts import ReadyPolicy
from assessments.measures.sales_mix import ShiftKind
from assessments.policy import book_at
from assessments.shifts import asked_at
from barcourse.people.models import Membership, Station
from recipes.menu import Menu
from recipes.models import Module


class Order(StrEnum):
    """Whoever comes first on the board."""

    STANDING = "standing"
    NAME = "name"
    RIGHT = "right"
    WRONG = "wrong"
    MISSING = "missing"


@dataclass(frozen=True)
class Look:
    """`shift` None: all shifts together. `day`: the first such shift from then on is meant, or that
    day where all are; None for the next one. `module` None: all that the station pours."""

    station: Station
    shift: ShiftKind | None = None
    day: dt.date | None = None
    module: Module | None = None
    standing: Standing | None = None
    order: Order = Order.STANDING


@dataclass(frozen=True)
class Seen:
    """`policy` is what ready takes there; `everybody` as they stand at the station; `rows` are
    those that were asked for, in order.

    With a module the figures of `rows`, and what is missing, are of that module alone; standing is
    always for the whole station.
    """

    look: Look
    policy: ReadyPolicy
    everybody: tuple[Row, ...]
    rows: tuple[Row, ...]

    @property
    def ready(self) -> int:
        return sum(row.standing is Standing.READY for row in self.everybody)

    @property
    def miss(self) -> Miss:
        """How far the house's own record lets the figures stand."""
        return self.everybody[0].sheet.miss if self.everybody else NO_MISS


def weighed(menu: Menu, shift: ShiftKind | None) -> Menu:
    """The menu with its shares as such a shift orders."""
    return sales.as_sold(menu, shift) if shift else menu


def look_at(menu: Menu, hires: Sequence[Membership], look: Look) -> Seen:
    """The menu is weighed by the look's kind of shift here."""
    of_shift = weighed(menu, look.shift)
    book = book_at(menu.venue, menu.at)
    asked = replace(asked_at(menu.venue, menu.at, look.shift), book=book)
    everybody = board.board(look.station, of_shift, hires, asked=asked)
    rows = everybody
    if look.module:
        of_module = board.board(look.station, of_shift, hires, look.module, asked)
        rows = [
            replace(row, standing=whole.standing)
            for row, whole in zip(of_module, everybody, strict=True)
        ]
    if look.standing:
        rows = [row for row in rows if row.standing is look.standing]
    policy = book.of(look.station, look.shift)
    by_standing = in_order(everybody)
    as_they_stand = rows is everybody and look.order is Order.STANDING
    return Seen(
        look, policy, by_standing, by_standing if as_they_stand else in_order(rows, look.order)
    )


def in_order(rows: Sequence[Row], order: Order = Order.STANDING) -> tuple[Row, ...]:
    """Two that are alike stand by name."""
    named = sorted(rows, key=lambda r: (r.hire.name.casefold(), r.hire.code))
    return tuple(sorted(named, key=_KEYS[order]))


_STANDINGS = list(Standing)
_KEYS: dict[Order, Callable[[Row], Any]] = {
    Order.STANDING: lambda r: (_STANDINGS.index(r.standing), not r.is_seen, -r.right),
    Order.NAME: lambda r: 0,
    Order.RIGHT: lambda r: (not r.is_seen, -r.right_low),
    Order.WRONG: lambda r: (not r.is_seen, -r.wrong),
    Order.MISSING: lambda r: r.missing,
}
"""Whoever has no figures comes after all who have: theirs are what is assumed of anybody."""
