"""Who is ready: the facts from the tables, the verdict from `measures.readiness`."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from django.utils import timezone

from assessments.facts import Shown, gather
from assessments.measures.readiness import Verdict, judge
from assessments.measures.ready_facts import Facts, ReadyPolicy
from assessments.models import SignOff
from assessments.sign_offs import best_sign_offs
from barcourse.people.models import Membership, Station, Venue
from recipes.grammar.aspects import fingerprint
from recipes.menu import Menu, MenuDrink, menu_at
from recipes.models import ModuleAtStation


@dataclass(frozen=True)
class Row:
    """One hire on the board of one station. `trials` is how much the figures rest on: answers
    about whole drinks and watched builds, on today's builds of what is poured there."""

    hire: Membership
    station: Station
    verdict: Verdict
    trials: float


def board(station: Station, menu: Menu, hires: Sequence[Membership]) -> list[Row]:
    """Verdicts on several people for one station, in the order given."""
    return boards([station], menu, hires)[station.pk]


def boards(
    stations: Sequence[Station], menu: Menu, hires: Sequence[Membership]
) -> dict[int, list[Row]]:
    """The board of each station, by its key, in as many queries as one board takes."""
    shown, poured = gather(menu, hires), _poured_at(stations, menu)
    return {s.pk: [_row(h, s, poured[s.pk], shown, menu) for h in hires] for s in stations}


def rows_of(hire: Membership, stations: Sequence[Station], menu: Menu) -> list[Row]:
    """One person at each station, in the order given."""
    found = boards(stations, menu, [hire])
    return [row for station in stations for row in found[station.pk]]


def verdict_for(hire: Membership, station: Station, at: dt.datetime) -> Verdict:
    """One person's verdict at a station, as of `at`."""
    return board(station, menu_at(hire.venue, at), [hire])[0].verdict


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


def _poured_at(stations: Sequence[Station], menu: Menu) -> dict[int, tuple[MenuDrink, ...]]:
    """What is ordered at each station, by its key."""
    modules: dict[int, set[int]] = defaultdict(set)
    for pair in ModuleAtStation.objects.filter(station__in=stations):
        modules[pair.station_id].add(pair.module_id)
    return {
        s.pk: tuple(i for i in menu.items if i.recipe.module_id in modules[s.pk]) for s in stations
    }


def _row(
    hire: Membership, station: Station, items: Sequence[MenuDrink], shown: Shown, menu: Menu
) -> Row:
    facts = Facts(
        person=hire.code,
        drinks=tuple(shown.on(hire, item) for item in items),
        safety=shown.safety[hire.pk],
        safety_module=shown.safety_module,
        policy=policy_of(menu.venue),
        seed=_seed(menu.venue),
    )
    trials = sum(d.right + d.ask + d.wrong for d in facts.drinks)
    return Row(hire, station, _judge(facts), trials)


@lru_cache(maxsize=256)
def _judge(facts: Facts) -> Verdict:
    """Thousands of draws: as long as nothing new is known of somebody, nothing is drawn anew."""
    return judge(facts)


def _seed(venue: Venue) -> int:
    """The same draws for everybody of a house, on every page and machine."""
    return int(fingerprint([venue.code])[:12], 16)
