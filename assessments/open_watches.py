"""What a trainer is in the middle of watching, as their pages show it."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from assessments.models import OpenWatch
from assessments.watch_places import Words, place_of
from barcourse.people.models import Membership


@dataclass(frozen=True)
class OpenWatchShown:
    row: OpenWatch
    about: str


def open_watches(trainer: Membership, at: dt.datetime) -> list[OpenWatchShown]:
    """Their own alone, the one tapped last first."""
    rows = list(OpenWatch.objects.of(trainer).fresh(at).newest_first())
    found = [(row, place_of(trainer.venue, row.where)) for row in rows]
    words = Words.of(trainer.venue, [place for _row, place in found if place])
    return [OpenWatchShown(row, words.about(place)) for row, place in found if place]


def open_at(trainer: Membership, where: str, at: dt.datetime) -> OpenWatch | None:
    """What they had tapped on this page, if anything."""
    return OpenWatch.objects.of(trainer).at_address(where).fresh(at).first()
