"""Who would stand otherwise under another policy, and why: held against both at the moment from
which on it would be asked."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace

from assessments.board import hires_here
from assessments.measures.readiness import Standing
from assessments.measures.ready_facts import ReadyPolicy
from assessments.measures.sales_mix import ShiftKind
from assessments.overrides import Stands, would_end
from assessments.policy import Scope, book_at
from assessments.sales import as_sold
from assessments.shifts import Shift, asked_at, coming_shift, moment_of
from assessments.standing import Stand, stands
from barcourse.people.models import Venue
from recipes.menu import menu_at


@dataclass(frozen=True)
class Change:
    """Whose standing would be another one; `why` is what would be missing then and isn't now, or
    where there is nothing of that, `no_longer`, what would be missing no more."""

    before: Stand
    after: Stand

    @property
    def why(self) -> list[str]:
        return self._new or [said for said in self._was if said not in self._will]

    @property
    def no_longer(self) -> bool:
        return bool(self.why) and not self._new

    @property
    def _was(self) -> list[str]:
        return [said for said, _how in self.before.mends]

    @property
    def _will(self) -> list[str]:
        return [said for said, _how in self.after.mends]

    @property
    def _new(self) -> list[str]:
        return [said for said in self._will if said not in self._was]


@dataclass(frozen=True)
class Preview:
    """`looked_at` counts people at stations; `ready` those ready without and with it; `ended` the
    words given for one shift that would hold no more; `at` the moment that is reckoned for, and
    `shift` the one that it is the beginning of, where one kind is asked about."""

    changes: tuple[Change, ...]
    looked_at: int
    ready: tuple[int, int]
    at: dt.datetime
    shift: Shift | None = None
    ended: tuple[Stands, ...] = ()


def preview(
    venue: Venue, scope: Scope, policy: ReadyPolicy | None, at: dt.datetime,
    from_day: dt.date | None = None,
) -> Preview:  # fmt: skip
    """The people of the first shift that it would count for, with what will be left by then of what
    they have shown, on the menu of then; and the words given for one shift that it would end."""
    station, shift = scope[0], ShiftKind(scope[1]) if scope[1] else None
    first = _first_moment(venue, shift, from_day, at)
    now = book_at(venue, first)
    then = now.set_at(scope, policy)
    stations = [s for s in venue.stations.all() if station in (None, s.pk)]
    menu, hires = as_sold(menu_at(venue, first), shift), hires_here(venue, first)
    asked = asked_at(venue, first, shift)
    before = list(stands(stations, hires, menu, replace(asked, book=now)))
    after = list(stands(stations, hires, menu, replace(asked, book=then)))
    pairs = zip(before, after, strict=True)
    return Preview(
        changes=tuple(Change(b, a) for b, a in pairs if b.standing is not a.standing),
        looked_at=len(before),
        ready=(_ready(before), _ready(after)),
        at=first,
        shift=coming_shift(venue, first, shift) if shift else None,
        ended=tuple(would_end(venue, scope, policy, from_day, at)),
    )


def _first_moment(
    venue: Venue, shift: ShiftKind | None, from_day: dt.date | None, at: dt.datetime
) -> dt.datetime:
    """The beginning of the first such shift from that day on; `at` where it is on by then."""
    begins = venue.business_day_begins(from_day) if from_day else at
    return moment_of(venue, max(at, begins), shift)


def _ready(stands: Sequence[Stand]) -> int:
    return sum(stand.standing is Standing.READY for stand in stands)
