"""What the board of a big house costs, against reading and computing one packed row a person.

Warm is what a process keeps while the house's log stands still, and the packed rows; a page after
an entry in the log, and one after somebody has shown something, are measured beside it.
"""

import datetime as dt
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from statistics import median
from typing import TYPE_CHECKING

from bench_house import a_year_of_answers, big_house, copy_rows, show_a_fortnight
from bench_papers import measure_papers

if TYPE_CHECKING:
    import numpy as np
    from django.test import Client

    from assessments.history import Numbered
    from barcourse.people.models import Membership, Station
    from recipes.menu import Menu

SOME, MANY = 200, 5000
A_YEAR = 1_000_000
TURNS = 15
NO_MORE = 1.2
"""So many times what it was a board may cost after that year."""
Timed = Callable[[], None]


def measure_board() -> None:
    from recipes.menu import menu_at

    now = dt.datetime.now(dt.UTC)
    owner, everybody = big_house("big", MANY, now)
    some, others = everybody[:SOME], everybody[SOME:]
    show_a_fortnight(owner, menu_at(owner.venue, now), some, now)
    bench = Bench(owner)
    with gone(others):
        begin = time.perf_counter()
        bench.page()
        print(f"\nWho is ready, {SOME} people and {len(bench.menu.items)} drinks")
        print(f"{'all rows worked out from the evidence':<44} {ms(begin)}")
        bench.against_the_floor(50)
        bench.not_warm(owner, some[0])
        measure_papers(owner)
    copy_rows(some, others)
    print(f"\n{MANY} people, with the rows of those {SOME} over and over")
    bench.against_the_floor(500)
    many = bench.costs()
    with gone(others):
        few = bench.costs()
    answers = a_year_of_answers(owner.venue, A_YEAR)
    print(f"\nWith {answers} answers of a year: before, and then, at most {NO_MORE} times as much")
    bench.against_before(many)
    with gone(others):
        bench.against_before(few)
        bench.not_warm(owner, some[1])


def ms(begin: float) -> str:
    return f"{'':>8} {(time.perf_counter() - begin) * 1e3:12.2f} ms"


def said(what: str, floor: float, ours: float, most: str = "") -> None:
    print(f"{what:<44} {floor * 1e3:8.2f} ms {ours * 1e3:8.2f} ms {ours / floor:9.2f}  {most}")


@contextmanager
def gone(people: "Sequence[Membership]") -> "Iterator[None]":
    """As if they worked here no more."""
    from barcourse.people.models import Membership

    rows = Membership.objects.filter(pk__gte=people[0].pk, pk__lte=people[-1].pk)
    rows.update(left_day=people[0].start_day)
    yield
    rows.update(left_day=None)


@dataclass(frozen=True)
class Costs:
    """`floor` is everybody's row at once, in the same minutes: the machine's speed drifts."""

    people: int
    floor: float
    board: float
    page: float


@dataclass(frozen=True)
class Bench:
    """The board of one house at its first station."""

    owner: "Membership"

    @cached_property
    def station(self) -> "Station":
        from assessments.board import order_stations

        return order_stations(self.owner.venue)[0]

    @cached_property
    def browser(self) -> "Client":
        from django.test import Client

        found = Client()
        found.force_login(self.owner.person)
        return found

    @property
    def menu(self) -> "Menu":
        from assessments.sales import as_sold_now
        from recipes.menu import menu_at

        return as_sold_now(menu_at(self.owner.venue, dt.datetime.now(dt.UTC)))

    def page(self, name: str = "who_is_ready") -> None:
        from django.urls import reverse

        address = reverse(name, args=[self.owner.venue.slug])
        answer = self.browser.get(address)
        if answer.status_code != 200:
            raise SystemExit(f"{address} answered {answer.status_code}")

    def board(self) -> int:
        """Everybody's figures and standing, in order; how many there are."""
        from assessments.board import hires_here
        from assessments.board_look import Look, look_at

        menu = self.menu
        hires = hires_here(self.owner.venue, menu.at)
        return len(look_at(menu, hires, Look(self.station)).rows)

    def floor(self, numbered: "Numbered", sales: "np.ndarray", at_once: int) -> None:
        """One packed row a person, read in one query and computed, so many people at once: of the
        orders of this moment how many right, asked about and wrong, and how sure that is."""
        from assessments.history import day_of
        from assessments.measures import orders
        from assessments.models import ReadyRow
        from assessments.ready_rows import unpack

        here = ReadyRow.objects.filter(venue=self.owner.venue, hire__left_day=None)
        known = unpack([bytes(p) for p in here.values_list("packed", flat=True)], numbered)
        for first in range(0, len(known), at_once):
            some = known.outlook(slice(first, first + at_once))
            day = day_of(numbered.menu.at)
            orders.shares(some, numbered.for_orders, sales, day, orders.LEVEL)

    def row_by_row(self) -> None:
        self.floor(*self._weighed, 1)

    def at_once(self) -> None:
        from assessments.ready_rows import AT_ONCE

        self.floor(*self._weighed, AT_ONCE)

    @cached_property
    def _weighed(self) -> "tuple[Numbered, np.ndarray]":
        import numpy as np

        from assessments.history import Numbered

        numbered = Numbered(self.menu)
        return numbered, np.full(len(numbered.drinks), 1 / len(numbered.drinks))

    def against_the_floor(self, most_ms: float) -> None:
        alone, floor, board, page, hour = in_turns(
            self.row_by_row,
            self.at_once,
            self.board,
            self.page,
            lambda: self.page("trainers_hour"),
        )
        said("board, against everybody's row at once", floor, board)
        said("board, against row by row", alone, board, "at most 1.5")
        said("its page, against row by row", alone, page, f"at most 1.5, {most_ms:.0f} ms")
        said("a trainer's hour, against row by row", alone, hour)

    def costs(self) -> Costs:
        return Costs(self.board(), *in_turns(self.at_once, self.board, self.page))

    def against_before(self, before: Costs) -> None:
        """At the speed that the machine has now, as the floor tells it."""
        now = self.costs()
        slower, most = now.floor / before.floor, f"at most {NO_MORE}"
        said(f"board of {now.people}", slower * before.board, now.board, most)
        said(f"page of {now.people}", slower * before.page, now.page, most)

    def not_warm(self, owner: "Membership", hire: "Membership") -> None:
        """The same page where something has to be read again."""
        from django.db import transaction

        from assessments.ready_rows import stale
        from barcourse.people import log

        @transaction.atomic
        def entered() -> None:
            log.append(venue=owner.venue, by=owner, kind="house_changed", facts={"name": ""})

        def shown() -> None:
            stale(hire.pk, hire.venue_id)

        for what, before in (("an entry in the log", entered), ("an answer of one person", shown)):
            times = []
            for _ in range(TURNS):
                before()
                times.append(seconds(self.page))
            print(f"{f'page after {what}':<44} {'':>11} {median(times) * 1e3:8.2f} ms")


def in_turns(*calls: Callable[[], object]) -> list[float]:
    """Median seconds of each, so that a busy moment hits all; the first turns aren't counted."""
    times: list[list[float]] = [[] for _ in calls]
    for turn in range(TURNS + 2):
        for taken, call in zip(times, calls, strict=True):
            spent = seconds(call)
            if turn >= 2:
                taken.append(spent)
    return [median(taken) for taken in times]


def seconds(call: Callable[[], object]) -> float:
    begin = time.perf_counter()
    call()
    return time.perf_counter() - begin
