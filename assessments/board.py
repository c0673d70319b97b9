"""Who is ready: the facts from the tables, the verdict from `measures.readiness`."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np
from django.utils import timezone

from assessments.history import Numbered, aspects_of, day_of
from assessments.measures.orders import by_drink, forecast
from assessments.measures.readiness import Verdict, judge
from assessments.measures.ready_facts import (
    NOTHING_ORDERED,
    DrinkFact,
    Expected,
    Facts,
    Orders,
    ReadyPolicy,
)
from assessments.models import SignOff
from assessments.ready_rows import Known, known_of, together
from assessments.sales import as_sold
from assessments.sign_offs import best_sign_offs
from barcourse.people.models import Membership, Station, Venue
from recipes.menu import Menu, MenuDrink, menu_at
from recipes.models import Module, ModuleAtStation


@dataclass(frozen=True)
class Row:
    """One hire on the board of one station. `trials` is how much the figures rest on: answers
    about whole drinks and watched builds, on today's builds of what is poured there. `facts` is
    what the verdict rests on."""

    hire: Membership
    station: Station
    verdict: Verdict
    trials: float
    facts: Facts


def board(
    station: Station, menu: Menu, hires: Sequence[Membership], module: Module | None = None
) -> list[Row]:
    """Verdicts on several people for one station, in the order given."""
    return boards([station], menu, hires, module)[station.pk]


def boards(
    stations: Sequence[Station],
    menu: Menu,
    hires: Sequence[Membership],
    module: Module | None = None,
) -> dict[int, list[Row]]:
    """The board of each station, by its key, in as many queries as one board takes. With a module
    as if the station poured that alone."""
    gates = list(Module.objects.in_house(menu.venue).gates())
    numbered = Numbered(menu)
    found = known_of(hires, numbered, gates)
    known = [found[h.pk] for h in hires]
    poured = _poured_at(stations, menu, module)
    return {s.pk: _rows(s, poured[s.pk], hires, known, numbered, gates) for s in stations}


def rows_of(hire: Membership, stations: Sequence[Station], menu: Menu) -> list[Row]:
    """One person at each station, in the order given."""
    found = boards(stations, menu, [hire])
    return [row for station in stations for row in found[station.pk]]


def verdict_for(hire: Membership, station: Station, at: dt.datetime) -> Verdict:
    """One person's verdict at a station, as of `at`."""
    return board(station, as_sold(menu_at(hire.venue, at)), [hire])[0].verdict


def policy_of(venue: Venue) -> ReadyPolicy:
    return ReadyPolicy(
        least_right=venue.least_right / 100,
        most_wrong=venue.most_wrong / 100,
        second_right=venue.second_right / 100,
    )


def order_stations(venue: Venue) -> list[Station]:
    """Stations that take orders; bar back is judged on tasks, never on orders."""
    return [s for s in venue.stations.all() if s.takes_orders]


def hires_here(venue: Venue, at: dt.datetime) -> list[Membership]:
    here = Membership.objects.in_house(venue).hires().here(venue.business_day(at))
    return list(here.by_name())


def proving_sign_offs(
    hire: Membership, items: Iterable[MenuDrink], at: dt.datetime | None = None
) -> list[SignOff]:
    """The sign-offs that prove these drinks as they are built, in the order given."""
    items = list(items)
    best = best_sign_offs([hire], items, at or timezone.now())[hire.pk]
    return [found.sign_off for i in items if (found := best.get(i.recipe.pk)) and found.proves]


def _poured_at(
    stations: Sequence[Station], menu: Menu, module: Module | None
) -> dict[int, tuple[MenuDrink, ...]]:
    """What is ordered at each station, by its key."""
    modules: dict[int, set[int]] = defaultdict(set)
    for pair in ModuleAtStation.objects.filter(station__in=stations):
        modules[pair.station_id].add(pair.module_id)
    only = {module.pk} if module else set(chain.from_iterable(modules.values()))
    return {
        s.pk: tuple(i for i in menu.items if i.recipe.module_id in modules[s.pk] & only)
        for s in stations
    }


def _rows(
    station: Station,
    items: Sequence[MenuDrink],
    hires: Sequence[Membership],
    known: Sequence[Known],
    numbered: Numbered,
    gates: Sequence[Module],
) -> list[Row]:
    orders = _orders(items, known, numbered)
    chances = _chances(known, numbered)
    safety_module, policy = ", ".join(g.name for g in gates), policy_of(numbered.menu.venue)
    return [
        _row(
            station,
            hire,
            Facts(
                person=hire.code,
                drinks=_drinks(items, one, numbered, *each),
                orders=expected,
                safety=one.safety,
                safety_module=safety_module,
                policy=policy,
            ),
        )
        for hire, one, expected, each in zip(hires, known, orders, chances, strict=True)
    ]


def _row(station: Station, hire: Membership, facts: Facts) -> Row:
    trials = sum(d.right + d.ask + d.wrong for d in facts.drinks)
    return Row(hire, station, judge(facts), trials, facts)


def _orders(items: Sequence[MenuDrink], known: Sequence[Known], numbered: Numbered) -> list[Orders]:
    """Everybody's shares of what is ordered at a station, at the menu's moment."""
    if not items or not known:
        return [NOTHING_ORDERED] * len(known)
    sales = np.zeros(len(numbered.drinks))
    for item in items:
        sales[numbered.places[item.drink.slug]] = item.drink.share
    if not sales.any():
        sales[[numbered.places[i.drink.slug] for i in items]] = 1.0
    found = forecast(
        together(known), numbered.for_orders, sales / sales.sum(), day_of(numbered.menu.at)
    )
    shares = [
        [
            Expected(*ends)
            for ends in zip(*(s.tolist() for s in (f.mean, f.low, f.high)), strict=True)
        ]
        for f in (found.right, found.ask, found.wrong)
    ]
    return [Orders(*each) for each in zip(*shares, strict=True)]


def _chances(known: Sequence[Known], numbered: Numbered) -> list[tuple[list[float], list[float]]]:
    """Each one's chances to build each drink right: as it is, and once it has been shown."""
    if not known:
        return []
    now, shown = by_drink(together(known), numbered.for_orders, day_of(numbered.menu.at))
    return list(zip(now.tolist(), shown.tolist(), strict=True))


def _drinks(
    items: Sequence[MenuDrink],
    known: Known,
    numbered: Numbered,
    now: Sequence[float],
    shown: Sequence[float],
) -> tuple[DrinkFact, ...]:
    trials, signed = known.trials.tolist(), known.signed.tolist()
    found = []
    for item in items:
        drink, place = item.drink, numbered.places[item.drink.slug]
        right, ask, wrong = trials[place]
        found.append(
            DrinkFact(
                slug=drink.slug, name=drink.name, share=drink.share,
                must_know=item.recipe.must_know, right=right, ask=ask, wrong=wrong,
                signed_off=bool(signed[place]), sign_off_out_of_date=aspects_of(signed[place]),
                module=item.recipe.module.name, now=now[place], shown=shown[place],
            )
        )  # fmt: skip
    return tuple(found)
