"""The board of one station as arrays: figures and standing of everybody at once, all else of
whoever is looked at."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property, partial
from typing import Any

import numpy as np
from numpy.typing import NDArray

from assessments.asked import Bar
from assessments.board_rules import SaidRule, shared_rules
from assessments.history import Numbered, day_of
from assessments.measures import orders
from assessments.measures.as_asked import AsAsked
from assessments.measures.drink_facts import Drinks, ListedDrinks
from assessments.measures.house_miss import Miss, as_kept
from assessments.measures.orders import Forecast, Share
from assessments.measures.readiness import Standing, standing
from assessments.measures.ready_facts import (
    NOTHING_ORDERED,
    Expected,
    Facts,
    MissedPour,
    Orders,
    ReadyPolicy,
    RuleFact,
    short_of,
)
from assessments.ready_rows import AT_ONCE, SAFETIES, Known
from assessments.sheet_drinks import DrinksInColumns, Poured
from assessments.sheet_gates import SheetGates
from assessments.waiting import Waiting
from barcourse.people.models import Membership, Station
from recipes.menu import MenuDrink

Chances = tuple[NDArray[np.float64], NDArray[np.float64]]
"""Of each drink: that it is built right as it is, and once it has been shown."""


@dataclass(frozen=True, eq=False)
class Sheet:
    """`items` are what is ordered at the station; `known` is what is known of its people, whom
    `place` names by their number on the board. `miss`: how far the house's own record lets the
    figures stand."""

    station: Station
    items: Sequence[MenuDrink]
    known: Known
    numbered: Numbered
    bar: Bar
    safety_module: str
    miss: Miss
    waiting: Waiting
    _looked_at: dict[int, Chances] = field(default_factory=dict)
    _recalled: dict[int, NDArray[np.floating[Any]]] = field(default_factory=dict)
    _tallied: dict[int, NDArray[np.floating[Any]]] = field(default_factory=dict)

    @cached_property
    def standings(self) -> list[Standing]:
        gates = zip(self.gates.law.tolist(), self.gates.gaps.tolist(), strict=True)
        figures = zip(self.right_lows, self.wrongs, strict=True)
        return [
            standing(self.policy, *shut, *each) for shut, each in zip(gates, figures, strict=True)
        ]

    @property
    def policy(self) -> ReadyPolicy:
        return self.bar.policy

    @cached_property
    def missing(self) -> list[int]:
        """How much is between each and ready: gates, figures beside the bar, and pours that keep
        them there."""
        low = self._figures.right.low < self.policy.least_right
        wrong = self._figures.wrong.mean > self.policy.most_wrong
        pours = self._missed.sum(axis=1) * (low | wrong)
        found: list[int] = (self.gates.gaps + low + wrong + pours).tolist()
        return found

    @cached_property
    def rights(self) -> list[float]:
        """Everybody's expected share of orders right; `right_lows` are the low ends."""
        return _listed(self._figures.right.mean)

    @cached_property
    def right_lows(self) -> list[float]:
        return _listed(self._figures.right.low)

    @cached_property
    def wrongs(self) -> list[float]:
        return _listed(self._figures.wrong.mean)

    @cached_property
    def seen(self) -> list[bool]:
        """Of whom there are any trials on what is ordered here."""
        any_of: NDArray[np.bool_] = np.any(self.known.trials[:, self._places], axis=(1, 2))
        found: list[bool] = any_of.tolist()
        return found

    @property
    def shorts(self) -> list[float]:
        """How many orders each has to win, see `short_of`."""
        figures = zip(self.right_lows, self.wrongs, self._less_wrong, strict=True)
        return [short_of(self.policy, *each) for each in figures]

    def orders(self, place: int) -> Orders:
        return Orders(*(Expected(*(end[place] for end in ends)) for ends in self._ends))

    @cached_property
    def _ends(self) -> list[list[list[float]]]:
        """Of right, ask and wrong the mean and both ends, everybody's."""
        return [[_listed(getattr(getattr(self._figures, f), e)) for e in ENDS] for f in FIGURES]

    def trials(self, place: int) -> float:
        return float(self._trials(place).sum())

    def _trials(self, place: int) -> NDArray[np.floating[Any]]:
        """Right, ask and wrong of each drink (n by 3)."""
        if place not in self._tallied:
            self._tallied[place] = self.known.trials[place, self._places]
        return self._tallied[place]

    def look_at(self, places: Iterable[int]) -> None:
        """Work out in one pass what the facts of these people need."""
        wanted = [p for p in places if p not in self._looked_at]
        self.waiting.look_at(wanted)
        if wanted and self.items:
            known = self.known.outlook(wanted)
            now, shown = orders.chances(known, self.numbered.for_orders, self._day)
            topics = orders.recalls(known, self._day)
            at = self._places
            pairs = zip(now[:, at].astype(float), shown[:, at].astype(float), strict=True)
            self._looked_at.update(zip(wanted, pairs, strict=True))
            self._recalled.update(zip(wanted, topics, strict=True))

    def words_wanted(self) -> NDArray[np.intp]:
        """By place, how many builds that have yet to be signed off are passed and wait for it."""
        everybody = range(len(self.known))
        self.waiting.look_at(everybody)
        waits = ((place, self.waiting.of(place)) for place in everybody)
        found = [len(self.gates.to_show(p) & of.keys()) if of else 0 for p, of in waits]
        return np.array(found, dtype=np.intp)

    def facts(self, place: int, hire: Membership) -> Facts:
        return Facts(
            person=hire.code,
            drinks=self._drinks(place),
            orders=self.orders(place),
            safety=SAFETIES[self.known.safety[place]],
            safety_module=self.safety_module,
            policy=self.policy,
            gates=self.gates.of(place),
            rules=AsAsked(self._rules(place)),
            pours_missed=self._pours_missed(place),
            less_wrong=self._less_wrong[place],
        )

    @cached_property
    def _less_wrong(self) -> list[float]:
        """For each, how much less goes out wrong for an order won (see `orders.less_wrong`)."""
        rows = self.known.rows
        return _listed(orders.less_wrong(rows["asks"], rows["executes"]))

    def _drinks(self, place: int) -> Drinks:
        if not self.items:
            return NO_DRINKS
        self.look_at([place])
        at = self._places
        now, shown = self._looked_at[place]
        return DrinksInColumns(
            self._poured, self._trials(place), self.known.signed[place, at], now, shown,
            self.waiting.of(place),
        )  # fmt: skip

    @cached_property
    def _poured(self) -> Poured:
        return Poured(self.items)

    def _rules(self, place: int) -> Iterator[RuleFact]:
        """What is won by knowing each house rule surely, and no more than by showing the drinks."""
        said, uses = self._by_rule
        if not said:
            return
        now, shown = self._looked_at[place]
        known = self._recalled[place][[rule.topic for rule in said]]
        surely = 1 / known.clip(1e-3) - 1
        won = np.minimum(surely[:, None] * now, (shown - now).clip(0)) * uses
        gains = (won @ self.sales[self._places]).tolist()
        yield from map(
            _rule_fact, ((*rule[1:], gain) for rule, gain in zip(said, gains, strict=True))
        )

    def _pours_missed(self, place: int) -> tuple[MissedPour, ...]:
        said = self._by_rule[0]
        return tuple(
            MissedPour(said[n].says, said[n].drinks) for n in np.flatnonzero(self._missed[place])
        )

    @cached_property
    def _missed(self) -> NDArray[np.bool_]:
        """By person and rule, whether it was missed and not surely known since."""
        return self.known.missed([rule.topic for rule in self._by_rule[0]])

    @cached_property
    def _by_rule(self) -> tuple[list[SaidRule], NDArray[np.bool_]]:
        return shared_rules(self.items, self.numbered)

    @cached_property
    def _places(self) -> list[int]:
        """Of the station's drinks on the menu."""
        return [self.numbered.places[i.drink.slug] for i in self.items]

    @cached_property
    def gates(self) -> SheetGates:
        """Those of the station, for everybody."""
        return SheetGates(self.items, self.known, self.bar, self._places)

    @cached_property
    def _figures(self) -> Forecast:
        if not self.items or not len(self.known):
            return _nothing_ordered(len(self.known))
        parts = [
            orders.shares(
                self.known.outlook(slice(first, first + AT_ONCE)), self.numbered.for_orders,
                self.sales, self._day, orders.LEVEL,
            )
            for first in range(0, len(self.known), AT_ONCE)
        ]  # fmt: skip
        said = Forecast(*(_joined([getattr(p, f) for p in parts]) for f in FIGURES))
        return as_kept(said, self.miss, orders.LEVEL)

    @cached_property
    def sales(self) -> NDArray[np.float64]:
        """What part of the orders each drink is, by its place on the menu; all alike where the
        house has no sales."""
        sales = np.zeros(len(self.numbered.drinks))
        sales[self._places] = [i.drink.share for i in self.items]
        if not sales.any():
            sales[self._places] = 1.0
        found: NDArray[np.float64] = sales / sales.sum()
        return found

    @property
    def _day(self) -> float:
        return day_of(self.numbered.menu.at)


_rule_fact = partial(tuple.__new__, RuleFact)
"""As `_make`, in a third of the time: see `sheet_drinks`."""

NO_DRINKS = ListedDrinks(())

FIGURES = ("right", "ask", "wrong")
ENDS = ("mean", "low", "high")


def _listed(values: NDArray[np.float64]) -> list[float]:
    found: list[float] = values.tolist()
    return found


def _joined(parts: Sequence[Share]) -> Share:
    return Share(*(np.concatenate([getattr(p, end) for p in parts]) for end in ENDS))


def _nothing_ordered(people: int) -> Forecast:
    said = [getattr(NOTHING_ORDERED, f) for f in FIGURES]
    return Forecast(*(Share(*(np.full(people, getattr(s, e)) for e in ENDS)) for s in said))
