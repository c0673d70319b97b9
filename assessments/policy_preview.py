"""Who would stand otherwise under another policy, and why: today's people, held against both."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from assessments.asked import Asked
from assessments.board import hires_here
from assessments.measures.readiness import Standing
from assessments.measures.ready_facts import ReadyPolicy
from assessments.measures.sales_mix import ShiftKind
from assessments.overrides import Stands, would_end
from assessments.policy import Scope, book_at
from assessments.sales import as_sold
from assessments.standing import Stand, stands
from barcourse.people.models import Venue
from recipes.menu import menu_at


@dataclass(frozen=True)
class Change:
    """Whose standing would be another one; `why` is what would be missing then and isn't now, or
    what would be missing no longer."""

    before: Stand
    after: Stand

    @property
    def why(self) -> list[str]:
        was, will = ([said for said, _how in s.mends] for s in (self.before, self.after))
        return [said for said in will if said not in was] or [s for s in was if s not in will]


@dataclass(frozen=True)
class Preview:
    """`looked_at` counts people at stations; `ready` those ready now and then; `ended` the words
    given for one shift that would hold no more."""

    changes: tuple[Change, ...]
    looked_at: int
    ready: tuple[int, int]
    ended: tuple[Stands, ...] = ()


def preview(
    venue: Venue, scope: Scope, policy: ReadyPolicy | None, at: dt.datetime,
    from_day: dt.date | None = None,
) -> Preview:  # fmt: skip
    """Today's people with what they have shown, whatever day the policy is to begin on; and the
    words given for one shift that it would end."""
    now = book_at(venue, at)
    then = now.set_at(scope, policy)
    station, shift = scope[0], ShiftKind(scope[1]) if scope[1] else None
    stations = [s for s in venue.stations.all() if station in (None, s.pk)]
    menu, hires = as_sold(menu_at(venue, at), shift), hires_here(venue, at)
    before = list(stands(stations, hires, menu, Asked(shift, now)))
    after = list(stands(stations, hires, menu, Asked(shift, then)))
    pairs = zip(before, after, strict=True)
    changes = tuple(Change(b, a) for b, a in pairs if b.standing is not a.standing)
    ended = tuple(would_end(venue, scope, policy, from_day, at))
    return Preview(changes, len(before), (_ready(before), _ready(after)), ended)


def _ready(stands: Sequence[Stand]) -> int:
    return sum(stand.standing is Standing.READY for stand in stands)
