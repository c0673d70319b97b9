"""Who decides where a hire and whoever marked them see it differently: never one of the two."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Generic, TypeVar

from assessments import showing_entries, to_look_at
from assessments.stuck_shown import StuckShown
from barcourse.people.models import Membership, Venue
from barcourse.people.roles import May

_Row = TypeVar("_Row")


@dataclass(frozen=True)
class ToDecide(Generic[_Row]):
    """What waits for a word. `ours`: whether it is whoever looks that gives it; `others` are the
    names of those who may besides."""

    row: _Row
    ours: bool
    others: tuple[str, ...]


def differently(
    reader: Membership, at: dt.datetime
) -> tuple[list[ToDecide[to_look_at.Disagreement]], list[ToDecide[showing_entries.Disagreement]]]:
    """What hires see differently, as it stands before this reader: builds, and other entries."""
    venue, who = reader.venue, who_decide(reader.venue, at)
    builds = [
        to_decide(d, (d.reply.hire_id, d.reply.watched.trainer_id), reader, who)
        for d in to_look_at.disagreements(venue)
    ]
    entries = [
        to_decide(d, (d.answer.hire_id, d.entry.trainer_id), reader, who)
        for d in showing_entries.disagreements(venue, at)
    ]
    return builds, entries


def plans(
    reader: Membership, stuck: Iterable[StuckShown], at: dt.datetime
) -> list[ToDecide[StuckShown]]:
    """How to go on after fails, as it stands before this reader."""
    who = who_decide(reader.venue, at)
    return [to_decide(one, (one.stuck.hire.pk,), reader, who) for one in stuck]


def who_decide(venue: Venue, at: dt.datetime) -> list[Membership]:
    """Managers and owners who are here."""
    return to_look_at.who_may(May.SEE_LOG, venue, at)


def to_decide(
    row: _Row, parties: Iterable[int], reader: Membership, who: Iterable[Membership]
) -> ToDecide[_Row]:
    """`parties`: the memberships it is about, none of which decides it."""
    part = set(parties)
    able = [m for m in who if m.pk not in part]
    others = tuple(m.name for m in able if m.pk != reader.pk)
    return ToDecide(row, reader.pk not in part, others)
