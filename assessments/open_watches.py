"""What a trainer is in the middle of watching, as their pages show it; and what somebody who left
had begun, for whoever watches it anew."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from assessments.models import OpenWatch
from assessments.watch_places import Words, place_of
from barcourse.people.models import Membership
from barcourse.people.roles import May


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


@dataclass(frozen=True)
class LeftBegun:
    """Begun by somebody who no longer watches here: `again` is the page on which the reader watches
    it anew, empty where they can't."""

    row: OpenWatch
    about: str
    again: str


def left_begun(reader: Membership, at: dt.datetime) -> list[LeftBegun]:
    """What was tapped stays unseen: nobody puts on record what they haven't watched."""
    venue, today = reader.venue, reader.venue.business_day(at)
    rows = OpenWatch.objects.in_house(venue).fresh(at).newest_first().with_trainer()
    left = [row for row in rows if not watches_here(row.trainer, today)]
    found = [(row, place_of(venue, row.where)) for row in left]
    words = Words.of(venue, [place for _row, place in found if place])
    hires = {code for _row, place in found if place for code in place.hires} - {reader.code}
    here = Membership.objects.in_house(venue).here(today).filter(code__in=hires)
    can = set(here.values_list("code", flat=True))
    return [
        LeftBegun(row, words.about(place), place.anew if can >= set(place.hires) else "")
        for row, place in found
        if place
    ]


def watches_here(trainer: Membership, today: dt.date) -> bool:
    return trainer.is_here(today) and trainer.may(May.WATCH)


def open_at(trainer: Membership, where: str, at: dt.datetime) -> OpenWatch | None:
    """What they had tapped on this page, if anything."""
    return OpenWatch.objects.of(trainer).at_address(where).fresh(at).first()
