"""The inspection folder: what a licensing officer at the door asks for, on one paper.

How the house sells by age, who is trained in safety and when that is due again, whose permits are
in date, who may serve where, who may not yet and why, and what was refused in the last year. The
sheet (`folder_sheet`) says the same facts.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from django.utils.translation import gettext as _

from assessments.board import Row, boards, hires_here, look_at, order_stations
from assessments.measures.readiness import Standing
from assessments.models import QuizResult
from assessments.overrides import Stands, standing_once
from assessments.showing import FIGURES, show_gaps, show_row
from barcourse.people import log, refusals
from barcourse.people.log import Head
from barcourse.people.models import Membership, Venue
from barcourse.people.permits import PermitShown, permits_in
from recipes.menu import Menu
from recipes.models import Module

from .pdf import Paper, to_pdf

REFUSALS_FOR = dt.timedelta(days=366)


@dataclass(frozen=True)
class Trained:
    """A module without which nobody is ready: last passed on `day`, to be taken again by `due`;
    where `due_again`, that day is over; `before` are the earlier days on which it was passed. All
    are the house's business days."""

    module: str
    day: dt.date
    due: dt.date
    due_again: bool = False
    before: tuple[dt.date, ...] = ()


@dataclass(frozen=True)
class PermitLine:
    kind: str
    number: str
    until: dt.date | None
    holds: bool


@dataclass(frozen=True)
class NotYet:
    """Stations at which somebody may not serve, and the same reasons why at each."""

    stations: tuple[str, ...]
    why: tuple[str, ...]


@dataclass(frozen=True)
class Once:
    """One shift, today or later, at which somebody stands on a manager's word; `barred` says what
    no word lifts, else it is empty, and so is `reason` where its words were erased."""

    station: str
    when: str
    by: str
    reason: str
    barred: str


@dataclass(frozen=True)
class PersonLine:
    """Somebody who works here. `ready` and `second` are the stations where they are just that,
    `not_yet` the others, `once` what holds for a shift all the same; for who isn't in training,
    the house's own word that they serve."""

    name: str
    role: str
    since: dt.date
    in_training: bool
    ready: tuple[str, ...]
    second: tuple[str, ...]
    trained: tuple[Trained, ...]
    untrained: tuple[str, ...]
    permits: tuple[PermitLine, ...]
    not_yet: tuple[NotYet, ...] = ()
    once: tuple[Once, ...] = ()


@dataclass(frozen=True)
class RefusedLine:
    at: dt.datetime
    what: str
    words: str
    by: str


@dataclass(frozen=True)
class FolderFacts:
    """Everything that the folder says. `refused_since` is how far back its refusals go."""

    house: str
    as_of: dt.datetime
    head: Head
    legal_age: int
    challenge_age: int
    people: tuple[PersonLine, ...]
    refused: tuple[RefusedLine, ...]
    refused_since: dt.date
    size: str = "a4"

    @property
    def age_rules(self) -> tuple[str, ...]:
        """How the house sells by age, a sentence each."""
        return (
            _("Alcohol is served from the age of %(age)s, counted by the calendar.")
            % {"age": self.legal_age},
            _("Whoever looks younger than %(age)s is asked for proof of age, every time.")
            % {"age": self.challenge_age},
            _("Without valid proof nothing is sold, and nobody buys for somebody who may not."),
            _(
                "Every refusal is noted with its time, its reason and who refused, and can't be "
                "changed afterwards."
            ),
        )


def facts_of(menu: Menu, size: str = "") -> FolderFacts:
    venue, here = menu.venue, menu.venue.local(menu.at)
    since = menu.at - REFUSALS_FOR
    return FolderFacts(
        house=venue.name,
        as_of=here,
        head=log.head(venue),
        legal_age=venue.legal_age,
        challenge_age=venue.challenge_age,
        people=tuple(_people(menu, here.date())),
        refused=tuple(_refused(venue, since)),
        refused_since=venue.business_day(since),
        size=size or venue.paper_size,
    )


def _people(menu: Menu, today: dt.date) -> Iterator[PersonLine]:
    venue = menu.venue
    here = list(Membership.objects.in_house(venue).here(venue.business_day(menu.at)).by_name())
    gates = list(Module.objects.in_house(venue).gates())
    passed, permits = _passed(venue, here, gates, menu.at), _permits(venue, today)
    stands = _stands(menu)
    for person in here:
        at_stations = stands.get(person.pk, _Stands())
        days = {m: passed[person.pk, m.pk] for m in gates if (person.pk, m.pk) in passed}
        yield PersonLine(
            name=person.name,
            role=person.get_role_display(),
            since=person.start_day,
            in_training=person.pk in stands,
            ready=tuple(at_stations.ready),
            second=tuple(at_stations.second),
            trained=tuple(_trained(venue, module, on, menu.at) for module, on in days.items()),
            untrained=tuple(m.name for m in gates if m not in days),
            permits=tuple(permits[person.pk]),
            not_yet=tuple(NotYet(tuple(s), why) for why, s in at_stations.not_yet.items()),
            once=tuple(at_stations.once),
        )


def _trained(venue: Venue, module: Module, days: list[dt.date], at: dt.datetime) -> Trained:
    *before, day = days
    due = day + dt.timedelta(days=venue.certificate_days)
    return Trained(module.name, day, due, due < venue.business_day(at), tuple(before))


def _passed(
    venue: Venue, people: Iterable[Membership], gates: Iterable[Module], at: dt.datetime
) -> dict[tuple[int, int], list[dt.date]]:
    """The days on which somebody passed a module, by person and module, the last one last."""
    found: dict[tuple[int, int], list[dt.date]] = {}
    for r in QuizResult.objects.of(*people).on(gates).until(at).order_by("at", "pk"):
        if r.passed and r.module_id:
            days = found.setdefault((r.hire_id, r.module_id), [])
            days.extend({venue.business_day(r.at)} - set(days))
    return found


def _permits(venue: Venue, today: dt.date) -> dict[int, list[PermitLine]]:
    found: dict[int, list[PermitLine]] = defaultdict(list)
    for shown in permits_in(venue, today):
        found[shown.permit.member_id].append(_permit(shown))
    return found


def _permit(shown: PermitShown) -> PermitLine:
    permit = shown.permit
    return PermitLine(
        kind=permit.get_kind_display(),
        number=shown.number,
        until=permit.valid_until,
        holds=shown.holds,
    )


@dataclass
class _Stands:
    """Stations by how somebody stands there; those where they may not serve by the reasons why."""

    ready: list[str] = field(default_factory=list)
    second: list[str] = field(default_factory=list)
    not_yet: dict[tuple[str, ...], list[str]] = field(default_factory=dict)
    once: list[Once] = field(default_factory=list)


def _stands(menu: Menu) -> dict[int, _Stands]:
    """How each hire stands at each station, by person."""
    hires, stations = hires_here(menu.venue, menu.at), order_stations(menu.venue)
    rows = [row for of in boards(stations, menu, hires).values() for row in of]
    look_at([row for row in rows if row.standing not in SERVES])
    words = standing_once(menu.venue, menu.at)
    found = {hire.pk: _Stands() for hire in hires}
    for row in rows:
        _add(found[row.hire.pk], row)
        found[row.hire.pk].once += _once(row, words.get((row.hire.pk, row.station.pk), ()))
    return found


SERVES = (Standing.READY, Standing.SECOND)


def _add(stands: _Stands, row: Row) -> None:
    """What the house reckons of orders is named as a reason only where no plainer one is there."""
    name = row.station.name
    if row.standing is Standing.READY:
        stands.ready.append(name)
    elif row.standing is Standing.SECOND:
        stands.second.append(name)
    else:
        told = show_row(row).told
        plain = [reason for reason in told if reason.code not in FIGURES]
        why = tuple(gap.sentence for gap in show_gaps(plain or told))
        stands.not_yet.setdefault(why, []).append(name)


def _once(row: Row, words: Iterable[Stands]) -> Iterator[Once]:
    for one in words:
        yield Once(row.station.name, one.when, one.by, one.reason, one.barred)


def _refused(venue: Venue, since: dt.datetime) -> Iterator[RefusedLine]:
    for noted in refusals.since(venue, since):
        yield RefusedLine(
            at=venue.local(noted.row.happened_at),
            what=noted.row.get_what_display(),
            words=noted.words,
            by=noted.row.by.name,
        )


def folder_pdf(facts: FolderFacts) -> bytes:
    title = _("Inspection folder of %(house)s") % {"house": facts.house}
    return to_pdf(
        Paper(
            template="papers/paper/folder.html",
            styles=("paged.css", "record.css"),
            size=facts.size,
            title=title,
            dated=facts.as_of.isoformat(timespec="seconds"),
            context={
                "facts": facts,
                "house": facts.house,
                "head": str(facts.head),
            },
        )
    )
