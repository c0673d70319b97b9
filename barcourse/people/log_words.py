"""Entries of the log as lines to read. The names come from today's people, not from the log."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from .models import LogEntry, Membership, Venue
from .wording import KINDS, TELLERS


@dataclass(frozen=True)
class Line:
    number: int
    at: dt.datetime
    who: str
    what: str
    whom: str
    told: str = ""
    """What its facts say; empty where they say nothing to a reader."""


def newest(venue: Venue, most: int) -> list[Line]:
    members = Membership.objects.in_house(venue).select_related("person")
    names = {member.code: member.name for member in members}
    entries = LogEntry.objects.filter(venue=venue).order_by("-number")[:most]
    stations = dict(venue.stations.values_list("slug", "name"))
    return [_line(entry, names, stations) for entry in entries]


def _line(entry: LogEntry, names: dict[str, str], stations: dict[str, str]) -> Line:
    tell = TELLERS.get(entry.kind)
    about_somebody_else = entry.subject_code and entry.subject_code != entry.by_code
    return Line(
        number=entry.number,
        at=entry.at,
        who=names.get(entry.by_code, ""),
        what=str(KINDS.get(entry.kind, entry.kind)),
        whom=names.get(entry.subject_code, "") if about_somebody_else else "",
        told=tell(stations, entry.facts) if tell else "",
    )
