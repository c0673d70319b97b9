"""Who is ready: the facts from the tables, the verdict from `measures.readiness`."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from django.utils import timezone

from assessments.asked import ANY_SHIFT, Asked, bars_of
from assessments.board_sheet import Sheet
from assessments.history import Numbered
from assessments.measures.readiness import Standing, Verdict, judge
from assessments.measures.ready_facts import Facts, Orders
from assessments.models import SignOff
from assessments.own_history import miss_of_house
from assessments.ready_rows import known_of
from assessments.sales import as_sold
from assessments.sign_offs import best_sign_offs
from assessments.waiting import Waiting
from barcourse.people.models import Membership, Station, Venue
from recipes.kept import Kept, Stamp, stamp_of
from recipes.menu import Menu, MenuDrink, menu_at
from recipes.models import Module, ModuleAtStation


@dataclass(frozen=True, eq=False)
class Row:
    """One hire on the board of one station; `right` and `wrong` are the shares of orders expected,
    `right_low` the low end. What takes time is worked out for rows that are looked at: the facts,
    which the verdict rests on, and the verdict, which says why."""

    hire: Membership
    station: Station
    standing: Standing
    sheet: Sheet
    place: int

    @property
    def right(self) -> float:
        return self.sheet.rights[self.place]

    @property
    def right_low(self) -> float:
        return self.sheet.right_lows[self.place]

    @property
    def wrong(self) -> float:
        return self.sheet.wrongs[self.place]

    @property
    def is_seen(self) -> bool:
        """Whether the figures rest on anything that was seen of them, see `trials`."""
        return self.sheet.seen[self.place]

    @property
    def missing(self) -> int:
        """How much is between them and ready."""
        return self.sheet.missing[self.place]

    @property
    def barred(self) -> bool:
        """Whether something is missing that no trainer mends: safety, a permit, or that the house
        says what has to be shown."""
        return self.sheet.gates.barred[self.place]

    @cached_property
    def trials(self) -> float:
        """How much the figures rest on: answers about whole drinks and watched builds, on today's
        builds of what is poured there."""
        return self.sheet.trials(self.place)

    @cached_property
    def orders(self) -> Orders:
        return self.sheet.orders(self.place)

    @cached_property
    def facts(self) -> Facts:
        return self.sheet.facts(self.place, self.hire)

    @cached_property
    def verdict(self) -> Verdict:
        found = judge(self.facts)
        return found if found.standing is self.standing else replace(found, standing=self.standing)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Row) and self._told == other._told

    def __hash__(self) -> int:
        return hash((self.hire, self.station))

    @property
    def _told(self) -> tuple[Membership, Station, float, Facts]:
        return self.hire, self.station, self.trials, self.facts


def look_at(rows: Sequence[Row]) -> None:
    """Work out in one pass for each station what the verdicts on these rows need."""
    places: dict[Sheet, list[int]] = defaultdict(list)
    for row in rows:
        places[row.sheet].append(row.place)
    for sheet, of in places.items():
        sheet.look_at(of)


def board(
    station: Station,
    menu: Menu,
    hires: Sequence[Membership],
    module: Module | None = None,
    asked: Asked = ANY_SHIFT,
) -> list[Row]:
    """Where several people stand at one station, in the order given."""
    return boards([station], menu, hires, module, asked)[station.pk]


def boards(
    stations: Sequence[Station],
    menu: Menu,
    hires: Sequence[Membership],
    module: Module | None = None,
    asked: Asked = ANY_SHIFT,
) -> dict[int, list[Row]]:
    """The board of each station, by its key, in as many queries as one board takes. With a module
    as if the station poured that alone. The menu is weighed for the shift already."""
    laid = _laid_out(menu.venue)
    numbered = Numbered(menu)
    known = known_of(hires, numbered, laid.gates)
    poured = _poured_at(stations, menu, laid, module)
    safety_module = ", ".join(g.name for g in laid.gates)
    bars, miss = bars_of(stations, hires, menu, asked), miss_of_house(numbered)
    waiting = Waiting(hires, menu)
    sheets = [
        Sheet(s, poured[s.pk], known, numbered, bars[s.pk], safety_module, miss, waiting)
        for s in stations
    ]
    return {sheet.station.pk: _rows(sheet, hires) for sheet in sheets}


def rows_of(
    hire: Membership, stations: Sequence[Station], menu: Menu, asked: Asked = ANY_SHIFT
) -> list[Row]:
    """One person at each station, in the order given. The menu is weighed for the shift already."""
    found = boards(stations, menu, [hire], asked=asked)
    return [row for station in stations for row in found[station.pk]]


def verdict_for(hire: Membership, station: Station, at: dt.datetime) -> Verdict:
    """One person's verdict at a station, as of `at`."""
    return board(station, as_sold(menu_at(hire.venue, at)), [hire])[0].verdict


def order_stations(venue: Venue) -> list[Station]:
    """Stations that take orders; bar back is judged on tasks, never on orders."""
    return [s for s in venue.stations.all() if s.takes_orders]


def task_stations(venue: Venue) -> list[Station]:
    """Bar back and whatever else takes no orders."""
    return [s for s in venue.stations.all() if not s.takes_orders]


def hires_here(venue: Venue, at: dt.datetime) -> list[Membership]:
    here = Membership.objects.in_house(venue).hires().here(venue.business_day(at))
    return list(here.by_name().names_alone())


def proving_sign_offs(
    hire: Membership, items: Iterable[MenuDrink], at: dt.datetime | None = None
) -> list[SignOff]:
    """The sign-offs that prove these drinks as they are built, in the order given."""
    items = list(items)
    best = best_sign_offs([hire], items, at or timezone.now())[hire.pk]
    return [found.sign_off for i in items if (found := best.get(i.recipe.pk)) and found.proves]


@dataclass(frozen=True)
class _LaidOut:
    """A house's gates, and the modules poured at each station, by its key."""

    gates: tuple[Module, ...]
    modules: Mapping[int, frozenset[int]]


def _laid_out(venue: Venue) -> _LaidOut:
    """In two queries where this process hasn't got it."""
    stamp = stamp_of(venue)
    return _LAID_OUT.get(stamp, lambda: _read(venue)) if stamp else _read(venue)


_LAID_OUT = Kept[Stamp, _LaidOut](most=100)
"""By the house's stamp."""


def _read(venue: Venue) -> _LaidOut:
    modules: dict[int, set[int]] = defaultdict(set)
    for pair in ModuleAtStation.objects.filter(venue=venue):
        modules[pair.station_id].add(pair.module_id)
    gates = tuple(Module.objects.in_house(venue).gates())
    return _LaidOut(gates, {station: frozenset(of) for station, of in modules.items()})


def _poured_at(
    stations: Sequence[Station], menu: Menu, laid: _LaidOut, module: Module | None
) -> dict[int, tuple[MenuDrink, ...]]:
    """What is ordered at each station, by its key."""
    found = {}
    for station in stations:
        of = laid.modules.get(station.pk, frozenset())
        only = of & {module.pk} if module else of
        found[station.pk] = tuple(i for i in menu.items if i.recipe.module_id in only)
    return found


def _rows(sheet: Sheet, hires: Sequence[Membership]) -> list[Row]:
    return [
        Row(hire, sheet.station, standing, sheet, place)
        for place, (hire, standing) in enumerate(zip(hires, sheet.standings, strict=True))
    ]
