"""What ready takes at a station on a kind of shift: the versions in force and their history."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from assessments.measures.ready_facts import ReadyPolicy
from assessments.measures.sales_mix import ShiftKind
from assessments.models import PolicyVersion
from barcourse.people.models import Station, Venue
from recipes.kept import Kept, Stamp, stamp_of

Scope = tuple[int | None, str]
"""A station's key, None for all of them; a kind of shift, empty for all."""

EVERYWHERE: Scope = (None, "")


@dataclass(frozen=True)
class Book:
    """Every policy in force at a moment. The nearest counts as a whole: a station's own for that
    kind of shift, its own for all shifts, the house's for that kind, the house's."""

    policies: Mapping[Scope, ReadyPolicy]

    def of(self, station: Station, shift: ShiftKind | None = None) -> ReadyPolicy:
        return self.policies[self.scope_of(station.pk, shift or "")]

    def scope_of(self, station: int | None, shift: str) -> Scope:
        """Where the policy that counts for this scope was set."""
        return next(s for s in _nearest(station, shift) if s in self.policies)

    def at(self, scope: Scope) -> ReadyPolicy:
        return self.policies[self.scope_of(*scope)]

    def counting(self, about: Scope, stations: Iterable[int]) -> set[Scope]:
        """Where all that counts for a part of this scope was set; `stations` are the house's."""
        station, shift = about
        kinds = [shift] if shift else list(ShiftKind)
        places = [station] if station else stations
        return {self.scope_of(place, kind) for place in places for kind in kinds}

    def set_at(self, scope: Scope, policy: ReadyPolicy | None) -> Book:
        """As it would be with this policy there, or with none of its own."""
        kept = {s: p for s, p in self.policies.items() if s != scope}
        return Book(kept if policy is None else {**kept, scope: policy})


def _nearest(station: int | None, shift: str) -> list[Scope]:
    return list(dict.fromkeys([(station, shift), (station, ""), (None, shift), EVERYWHERE]))


def concerns(page: Scope, version: Scope) -> bool:
    """Whether what is set there can count for the station and kind of shift of a page, or for one
    of them where the page is about all."""
    pairs = zip(page, version, strict=True)
    return all(about in (None, "", of) or of in (None, "") for about, of in pairs)


def in_force_at(venue: Venue, at: dt.datetime) -> dict[Scope, PolicyVersion]:
    """The version that counts of each scope that has one of its own."""
    found: dict[Scope, PolicyVersion] = {}
    rows = PolicyVersion.objects.in_house(venue).select_related("by__person")
    for row in rows.as_they_begin():
        if row.counts(at):
            found[row.scope] = row
    return {scope: row for scope, row in found.items() if not row.follows}


def book_at(venue: Venue, at: dt.datetime) -> Book:
    """In one query where this process hasn't got it. Until the house has set anything, what it
    opened with counts everywhere."""
    return _book(venue, _versions(venue), at)


def changes_of(station: Station, shift: ShiftKind | None, until: dt.datetime) -> list[dt.datetime]:
    """The moments until then from which on something else counts at this station on this kind of
    shift than before, in the order of time; what leaves it as it was is none."""
    venue = station.venue
    versions = _versions(venue)
    begun = {max(row.begins_at, row.at) for row in versions}
    before, found = opening(venue), []
    for at in sorted(at for at in begun if at <= until):
        policy = _book(venue, versions, at).of(station, shift)
        if policy != before:
            found.append(at)
        before = policy
    return found


def _book(venue: Venue, versions: Iterable[PolicyVersion], at: dt.datetime) -> Book:
    found: dict[Scope, ReadyPolicy] = {EVERYWHERE: opening(venue)}
    for row in versions:
        if not row.counts(at):
            continue
        if row.follows:
            found.pop(row.scope, None)
        else:
            found[row.scope] = row.policy
    return Book(found)


def _versions(venue: Venue) -> tuple[PolicyVersion, ...]:
    stamp = stamp_of(venue)
    return _ROWS.get(stamp, lambda: _rows(venue)) if stamp else _rows(venue)


def _rows(venue: Venue) -> tuple[PolicyVersion, ...]:
    return tuple(PolicyVersion.objects.in_house(venue).as_they_begin())


_ROWS = Kept[Stamp, tuple[PolicyVersion, ...]](most=100)
"""By the house's stamp."""


def opening(venue: Venue) -> ReadyPolicy:
    """What a house begins with: common practice, no source, for each house to set."""
    return ReadyPolicy(
        least_right=venue.least_right / 100,
        most_wrong=venue.most_wrong / 100,
        second_right=venue.second_right / 100,
    )


def scopes(venue: Venue) -> list[Scope]:
    """Everything that can have a policy of its own, in the order of the page."""
    stations: list[int | None] = [None, *(s.pk for s in venue.stations.all())]
    return [(s, k) for s in stations for k in ("", *(k.value for k in ShiftKind))]
