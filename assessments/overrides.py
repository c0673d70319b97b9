"""Who stands for one shift on somebody's word: read for pages and scripts, over by itself."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum

from assessments.facts import safety_of
from assessments.gate_facts import gates_of, gather_beside
from assessments.measures.gates import by_law
from assessments.measures.readiness import Standing
from assessments.measures.ready_facts import Gates, ReadyPolicy, Safety
from assessments.measures.sales_mix import ShiftKind
from assessments.models import Override
from assessments.policy import Book, Scope
from assessments.shifts import Shift, book_on, coming_shift, reckoned
from assessments.standing import Stand, stands
from assessments.wording import word
from barcourse.people.models import Membership, PersonalText, Station, Venue
from recipes.grammar.reasons import Reason
from recipes.kept import Kept, Stamp, stamp_of
from recipes.menu import menu_at
from recipes.models import Module


class Never(Enum):
    """Why nobody may let somebody stand for a shift."""

    SAFETY = "safety"
    PERMIT = "permit"
    READY = "ready"


@dataclass(frozen=True)
class Stands:
    """An override with its words; `reason` is empty where they were erased. `is_other`: of the
    kind that was asked for, but not the shift that is reckoned for. `barred_by`: what nobody's word
    lifts, though it was not asked for when the word was given."""

    row: Override
    shift: Shift
    reason: str
    is_other: bool = False
    barred_by: tuple[Reason, ...] = ()

    @property
    def by(self) -> str:
        return self.row.by.name

    @property
    def when(self) -> str:
        return self.shift.when

    @property
    def barred(self) -> str:
        """In words; empty where it holds."""
        return " ".join(word(reason) for reason in self.barred_by)


Once = Mapping[tuple[int, int], Sequence[Stands]]
"""Who stands for one shift, by hire and station."""


def standing_once(
    venue: Venue, at: dt.datetime, kind: ShiftKind | None = None
) -> dict[tuple[int, int], list[Stands]]:
    """By hire and station, whatever is not over at that moment, the soonest first; in three queries
    and those that ask whether they still hold. With a kind of shift only those of that kind: the
    one that is on then or comes next is the shift that is asked about, later ones are others."""
    if not (rows := _from_day(venue, venue.business_day(at))):
        return {}
    about = coming_shift(venue, at, kind) if kind else None
    shown = _shown([row for row in rows if row.at <= at], venue, at)
    found: dict[tuple[int, int], list[Stands]] = defaultdict(list)
    for one in shown:
        if one.shift.hours(venue)[1] > at and kind in (None, one.shift.kind):
            said = replace(one, is_other=about not in (None, one.shift))
            found[one.row.hire_id, one.row.station_id].append(said)
    return found


def _from_day(venue: Venue, day: dt.date) -> list[Override]:
    """Most houses have none on most days: that is kept until the house's log goes on."""
    standing = Override.objects.in_house(venue).standing().from_day(day)
    stamp = stamp_of(venue)
    if stamp and _NOBODY.get((stamp, day), lambda: not standing.exists()):
        return []
    return list(standing.soonest_first())


_NOBODY = Kept[tuple[Stamp, dt.date], bool](most=100)


def beside(once: Once, about: Shift | None) -> Once:
    """All that `standing_once` found, marked where it is about another shift than is reckoned
    for."""
    if about is None:
        return once
    return {
        key: [replace(one, is_other=one.shift != about) for one in ones]
        for key, ones in once.items()
    }


def elsewhere(once: Once, hire: Membership, here: Station | None) -> list[Stands]:
    """Of all that `standing_once` found, what is said of this person at other stations, the soonest
    first."""
    found = [
        one
        for (of, station), ones in once.items()
        if of == hire.pk and (here is None or station != here.pk)
        for one in ones
    ]
    return sorted(found, key=lambda one: (one.shift.day, one.shift.is_late, one.row.station.name))


def _shown(rows: Iterable[Override], venue: Venue, at: dt.datetime) -> list[Stands]:
    rows = list(rows)
    texts = PersonalText.objects.filter(code__in=[row.reason_code for row in rows])
    words = dict(texts.values_list("code", "text"))
    shifts = [Shift(row.day, ShiftKind(row.shift_kind)) for row in rows]
    barred = _barred(rows, shifts, venue, at)
    return [
        Stands(row, shift, words.get(row.reason_code, ""), barred_by=law)
        for row, shift, law in zip(rows, shifts, barred, strict=True)
    ]


def would_end(
    venue: Venue,
    scope: Scope,
    policy: ReadyPolicy | None,
    from_day: dt.date | None,
    at: dt.datetime,
) -> list[Stands]:
    """Those that hold now and would no more, were this the policy from that day on, each with what
    would bar it."""
    begins_at = max(at, venue.business_day_begins(from_day)) if from_day else at
    holding = [
        one
        for ones in standing_once(venue, at).values()
        for one in ones
        if not one.barred_by and begins_at <= max(at, one.shift.hours(venue)[0])
    ]
    rows, shifts = [one.row for one in holding], [one.shift for one in holding]
    books = {s: book_on(venue, s, at).set_at(scope, policy) for s in set(shifts)}
    barred = _barred(rows, shifts, venue, at, books)
    pairs = zip(holding, barred, strict=True)
    return [replace(one, barred_by=law) for one, law in pairs if law]


@dataclass(frozen=True)
class _Law:
    """What the law's gates are about, for one override."""

    safety: Safety
    safety_module: str
    policy: ReadyPolicy
    gates: Gates


def _barred(
    rows: Sequence[Override],
    shifts: Sequence[Shift],
    venue: Venue,
    at: dt.datetime,
    books: Mapping[Shift, Book] | None = None,
) -> Iterator[tuple[Reason, ...]]:
    """Asked anew at each look: a permit runs out, and the house may ask for another. Of whoever is
    let stand only the law's gates are looked at, all of them together: a board shows this."""
    if not rows:
        return
    hires = list({row.hire_id: row.hire for row in rows}.values())
    modules = list(Module.objects.in_house(venue).gates())
    safety, named = safety_of(hires, modules, at), ", ".join(m.name for m in modules)
    books = books or {shift: book_on(venue, shift, at) for shift in set(shifts)}
    pairs = list(zip(rows, shifts, strict=True))
    policies = [books[shift].of(row.station, shift.kind) for row, shift in pairs]
    beside = gather_beside(hires, policies, at)
    for (row, shift), policy in zip(pairs, policies, strict=True):
        gates = gates_of(row.hire, row.station, beside, at=at, on=shift.last_day(venue))
        passed = safety.get(row.hire_id, Safety.NOT_TAKEN)
        yield by_law(_Law(passed, named, policy, gates))


def _never(missing: Iterable[Reason]) -> Never | None:
    """What no manager lifts among it."""
    codes = {reason.code for reason in missing}
    if "safety_not_passed" in codes:
        return Never.SAFETY
    return Never.PERMIT if codes & {"permit_missing", "permit_ran_out"} else None


def stands_on(hire: Membership, station: Station, shift: Shift, at: dt.datetime) -> Stand:
    """As the board says of the same shift."""
    found = reckoned(menu_at(hire.venue, at), shift)
    return next(stands([station], [hire], found.menu, found.asked))


def why_never(hire: Membership, station: Station, shift: Shift, at: dt.datetime) -> Never | None:
    """None where somebody may."""
    stand = stands_on(hire, station, shift, at)
    never = _never(stand.missing)
    return never or (Never.READY if stand.standing is Standing.READY else None)
