"""What is known of people beside drinks: permits, pour checks, paces, what is left to prove.

Asked for only where some policy wants it, in as many queries for one hire as for two hundred.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from assessments.measures.pace_check import LEAST_DRINKS
from assessments.measures.proving import exercises, propose
from assessments.measures.ready_facts import Gates, ReadyPolicy
from assessments.models import PaceCheck, PourCheck
from assessments.tickets import count_of
from barcourse.people.models import Membership, Permit, Station, Venue
from recipes.menu import MenuDrink


@dataclass(frozen=True)
class PaceMade:
    """The newest check at a station: drinks an hour over the whole ticket, and when."""

    an_hour: float
    at: dt.datetime


@dataclass(frozen=True)
class Beside:
    """By hire; paces by hire and station. Empty where no policy asks."""

    permits: Mapping[int, Sequence[Permit]] = field(default_factory=dict)
    pours: Mapping[int, tuple[dt.datetime, bool]] = field(default_factory=dict)
    paces: Mapping[tuple[int, int], PaceMade] = field(default_factory=dict)


def gather_beside(
    hires: Sequence[Membership], policies: Iterable[ReadyPolicy], at: dt.datetime
) -> Beside:
    wanted = list(policies)
    return Beside(
        permits=_permits(hires) if any(p.permits for p in wanted) else {},
        pours=_pours(hires, at) if any(p.pour_days for p in wanted) else {},
        paces=newest_paces(hires, at) if any(p.least_pace for p in wanted) else {},
    )


def _permits(hires: Sequence[Membership]) -> dict[int, list[Permit]]:
    found: dict[int, list[Permit]] = defaultdict(list)
    for permit in Permit.objects.kept().held_by(hires):
        found[permit.member_id].append(permit)
    return found


def _pours(hires: Sequence[Membership], at: dt.datetime) -> dict[int, tuple[dt.datetime, bool]]:
    """The newest check of each that came to a verdict."""
    rows = PourCheck.objects.of(*hires).standing(at).judged().oldest_first()
    return {
        hire: (then, bool(passed))
        for hire, then, passed in rows.values_list("hire", "at", "passed")
    }


def newest_paces(hires: Sequence[Membership], at: dt.datetime) -> dict[tuple[int, int], PaceMade]:
    """By hire and station; a ticket that is too short to say anything is left out."""
    rows = PaceCheck.objects.of(*hires).standing(at).oldest_first()
    return {
        (hire, station): PaceMade(3600 * drinks / seconds, then)
        for hire, station, ticket, seconds, then in rows.values_list(
            "hire", "station", "ticket", "seconds", "at"
        )
        if (drinks := count_of(ticket)) >= LEAST_DRINKS
    }


def gates_of(
    hire: Membership, station: Station, beside: Beside, *, at: dt.datetime, on: dt.date
) -> Gates:
    """`at` is the moment of the verdict, `on` the day of the calendar on which permits must
    hold."""
    permits = beside.permits.get(hire.pk, ())
    held = frozenset(p.kind for p in permits if p.holds_on(on))
    pours, pace = beside.pours.get(hire.pk), beside.paces.get((hire.pk, station.pk))
    return Gates(
        permits_held=held,
        permits_over=_over(permits, held),
        pours_days=_days(hire.venue, pours[0], at) if pours else None,
        pours_passed=bool(pours and pours[1]),
        pace=pace.an_hour if pace else None,
        pace_days=_days(hire.venue, pace.at, at) if pace else None,
    )


def _over(permits: Iterable[Permit], held: Collection[str]) -> tuple[tuple[str, str], ...]:
    last = {
        p.kind: p.valid_until.isoformat()
        for p in sorted(permits, key=lambda p: p.valid_until or dt.date.max)
        if p.valid_until and p.kind not in held
    }
    return tuple(sorted(last.items()))


def _days(venue: Venue, then: dt.datetime, at: dt.datetime) -> int:
    """Business days between the two."""
    return (venue.business_day(at) - venue.business_day(then)).days


class ToProve:
    """The fewest builds of a station's must-knows that show what no sign-off has shown, by what
    is proven already; people with the same sign-offs share the answer."""

    def __init__(self, items: Sequence[MenuDrink]) -> None:
        self._shows = {i.drink.slug: exercises(i.drink) for i in items}
        self._names = {i.drink.slug: i.drink.name for i in items}
        self._share = {i.drink.slug: i.drink.share for i in items}
        self._must = [i.drink.slug for i in items if i.recipe.must_know]
        self._found: dict[frozenset[str], tuple[str, ...]] = {}

    def names(self, proven: Iterable[str]) -> tuple[str, ...]:
        """`proven` are the slugs that stand signed off on today's build."""
        done = frozenset[str]().union(*(self._shows[s] for s in proven))
        if done not in self._found:
            wanted = {slug: self._shows[slug] for slug in self._must}
            picks = propose(wanted, done, self._share).picks
            self._found[done] = tuple(self._names[p.slug] for p in picks)
        return self._found[done]
