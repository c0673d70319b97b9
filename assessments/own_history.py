"""The house's own builds held against what the model would have said of each beforehand.

Counted is what came until the business day began, so a day's figures stand all day. Drinks that
have changed since are left out: what was said of them was about another build.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, replace

from django.db.models import Count
from django.utils import timezone

from assessments.history import Numbered, shown_by
from assessments.measures.house_miss import LEAST, Case, Miss, miss_of
from assessments.measures.orders.replay import how_many, replay
from assessments.models import Answer, CallMark, OwnRecord, SpotMark, WatchedBuild
from barcourse.people.models import Membership
from recipes.grammar.aspects import fingerprint
from recipes.kept import Kept, Stamp, stamp_of
from recipes.menu import Menu

LAYOUT = 3
"""Goes up where what is kept, or how it is worked out, changes: every record is made anew."""

MOST = 400
"""Builds that are held against the model, the newest ones: a season of a small house."""

MOST_TRIALS = 60_000
"""Looked at for it, so that the first look of a day takes about a second (measured here)."""

ROUNDED = 4


@dataclass(frozen=True)
class _Until:
    """The moment until which the record is counted, as a menu, and how it is named."""

    numbered: Numbered
    day: dt.date
    stamp: str

    @property
    def menu(self) -> Menu:
        return self.numbered.menu


def miss_of_house(numbered: Numbered, now: dt.datetime | None = None) -> Miss:
    """By how much forecasts miss here beyond chance. One query, save at the first look of a day or
    of a menu."""
    found = _kept(numbered, now or timezone.now())
    return Miss(found.down, found.up)


def cases_of(menu: Menu, now: dt.datetime | None = None) -> list[Case]:
    """Each build that is held against the model, by person and in the order of time."""
    return [Case(*each) for each in _kept(Numbered(menu), now or timezone.now()).cases]


def how_many_builds(menu: Menu, now: dt.datetime | None = None) -> int:
    """How many the record has of those that may count; `MOST` where there are more."""
    day = menu.venue.business_day(min(menu.at, now or timezone.now()))
    return len(_whose_builds(replace(menu, at=menu.venue.business_day_begins(day))))


def _kept(numbered: Numbered, now: dt.datetime) -> OwnRecord:
    venue = numbered.menu.venue
    day = venue.business_day(min(numbered.menu.at, now))
    stamp = fingerprint([LAYOUT, day.isoformat(), numbered.print])
    if not (house := stamp_of(venue)):
        return _found(numbered, day, stamp)
    return _HERE.get((house, stamp), lambda: _found(numbered, day, stamp))


_HERE = Kept[tuple[Stamp, str], OwnRecord](most=50)
"""By the house's stamp and the record's own."""


def _found(numbered: Numbered, day: dt.date, stamp: str) -> OwnRecord:
    venue = numbered.menu.venue
    found = OwnRecord.objects.kept(venue, stamp).first()
    if found is None:
        found = _reckoned(numbered, day, stamp)
        OwnRecord.objects.of_other_days(venue, day).delete()
        OwnRecord.objects.bulk_create([found], ignore_conflicts=True)
    return found


def _reckoned(numbered: Numbered, day: dt.date, stamp: str) -> OwnRecord:
    venue = numbered.menu.venue
    begins = venue.business_day_begins(day)
    until = Numbered(replace(numbered.menu, at=begins))
    cases = _replayed(until)
    miss, rows = miss_of(cases), [_row(c) for c in cases]
    return OwnRecord(venue=venue, stamp=stamp, day=day, cases=rows, down=miss.down, up=miss.up)


def _row(case: Case) -> list[object]:
    chances = [round(x, ROUNDED) for x in (case.right, case.ask, case.wrong)]
    return [case.person, *chances, case.came, case.chosen]


def _replayed(until: Numbered) -> list[Case]:
    newest = _whose_builds(until.menu)
    if len(newest) < LEAST:
        return []
    wanted = how_many(newest, _how_much(set(newest)), MOST, MOST_TRIALS)
    hires = list(Membership.objects.filter(pk__in=wanted).order_by("pk"))
    shown = shown_by(hires, until)
    found = replay(until.for_orders, [shown[h.pk] for h in hires], [wanted[h.pk] for h in hires])
    return [Case(f.person, f.right, f.ask, f.wrong, f.shown.outcome, f.shown.chosen) for f in found]


def _whose_builds(menu: Menu) -> list[int]:
    """By whom the newest builds were, watched or marked in service, the newest first."""
    builds = WatchedBuild.objects.in_house(menu.venue).standing(menu.at).newest_first()
    spots = SpotMark.objects.in_house(menu.venue).standing(menu.at).newest_first()
    rows = [*builds.values_list("at", "hire_id")[:MOST], *spots.values_list("at", "hire_id")[:MOST]]
    return [hire for _at, hire in sorted(rows, key=lambda r: (r[0], -r[1]), reverse=True)[:MOST]]


def _how_much(hires: set[int]) -> Mapping[int, int]:
    """How much each has shown: about as many trials as a fit of them has."""
    found = dict.fromkeys(hires, 0)
    answers = Answer.objects.filter(item__quiz__hire__in=hires).values_list("item__quiz__hire")
    for kind in (
        answers,
        CallMark.objects.filter(hire__in=hires).values_list("hire"),
        WatchedBuild.objects.filter(hire__in=hires).values_list("hire"),
    ):
        for hire, n in kind.annotate(n=Count("pk")):
            found[hire] += n
    return found
