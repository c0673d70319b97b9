"""The inspection folder: what a licensing officer at the door asks for, on one paper.

How the house sells by age, who is trained in safety and when that is due again, whose permits are
in date, who may serve where, and what was refused in the last year.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from django.utils.translation import gettext as _

from assessments.board import boards, hires_here, order_stations
from assessments.measures.readiness import Standing
from assessments.models import QuizResult
from barcourse.people import log, refusals
from barcourse.people.log import Head
from barcourse.people.models import Membership, Venue
from barcourse.people.permits import PermitShown, permits_in
from recipes.menu import Menu
from recipes.models import Module

from .pdf import Paper, to_pdf
from .sheets import to_csv

REFUSALS_FOR = dt.timedelta(days=366)


@dataclass(frozen=True)
class Trained:
    """A module without which nobody is ready: passed on `day`, to be taken again by `due`; where
    `due_again`, that day is over. All are the house's business days."""

    module: str
    day: dt.date
    due: dt.date
    due_again: bool = False


@dataclass(frozen=True)
class PermitLine:
    kind: str
    number: str
    until: dt.date | None
    holds: bool


@dataclass(frozen=True)
class PersonLine:
    """Somebody who works here. `ready` and `second` are the stations where they are just that;
    for who isn't in training, the house's own word that they serve."""

    name: str
    role: str
    since: dt.date
    in_training: bool
    ready: tuple[str, ...]
    second: tuple[str, ...]
    trained: tuple[Trained, ...]
    untrained: tuple[str, ...]
    permits: tuple[PermitLine, ...]


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
    passed, permits = _passed(here, gates, menu.at), _permits(venue, today)
    stands = _stands(menu)
    for person in here:
        ready, second = stands.get(person.pk, ((), ()))
        trained = tuple(
            _trained(venue, module, passed[person.pk, module.pk], menu.at)
            for module in gates
            if (person.pk, module.pk) in passed
        )
        yield PersonLine(
            name=person.name,
            role=person.get_role_display(),
            since=person.start_day,
            in_training=person.pk in stands,
            ready=ready,
            second=second,
            trained=trained,
            untrained=tuple(m.name for m in gates if (person.pk, m.pk) not in passed),
            permits=tuple(permits[person.pk]),
        )


def _trained(venue: Venue, module: Module, passed: dt.datetime, at: dt.datetime) -> Trained:
    day = venue.business_day(passed)
    due = day + dt.timedelta(days=venue.certificate_days)
    return Trained(module.name, day, due, due < venue.business_day(at))


def _passed(
    people: Iterable[Membership], gates: Iterable[Module], at: dt.datetime
) -> dict[tuple[int, int], dt.datetime]:
    """When somebody last passed a module, by person and module."""
    results = QuizResult.objects.of(*people).on(gates).until(at).order_by("at")
    return {(r.hire_id, r.module_id): r.at for r in results if r.passed and r.module_id}


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


def _stands(menu: Menu) -> dict[int, tuple[tuple[str, ...], tuple[str, ...]]]:
    """Stations at which each hire is ready, and second, by person."""
    hires, stations = hires_here(menu.venue, menu.at), order_stations(menu.venue)
    rows = boards(stations, menu, hires)

    def at(person: Membership, standing: Standing) -> tuple[str, ...]:
        return tuple(
            station.name
            for station in stations
            for row in rows[station.pk]
            if row.hire.pk == person.pk and row.standing is standing
        )

    return {h.pk: (at(h, Standing.READY), at(h, Standing.SECOND)) for h in hires}


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


def folder_csv(facts: FolderFacts) -> str:
    """One line a fact: whose or what, which, from when, until when, and a word about it."""
    head = [_("what"), _("who"), _("which"), _("from"), _("until"), _("said")]
    return to_csv(head, [*_policy_rows(facts), *_people_rows(facts), *_refused_rows(facts)])


Row = tuple[object, ...]


def _policy_rows(facts: FolderFacts) -> Iterator[Row]:
    yield (_("age policy"), "", _("age of sale"), "", "", facts.legal_age)
    yield (_("age policy"), "", _("asked for proof below"), "", "", facts.challenge_age)
    when = facts.as_of.isoformat(sep=" ", timespec="minutes")
    yield (_("head of the log"), "", facts.head, when, "", "")


def _people_rows(facts: FolderFacts) -> Iterator[Row]:
    for who in facts.people:
        yield (_("works here"), who.name, who.role, who.since, "", "")
        for station in who.ready:
            yield (_("may serve"), who.name, station, "", "", _("ready"))
        for station in who.second:
            yield (_("may serve"), who.name, station, "", "", _("beside somebody who is ready"))
        if not who.in_training:
            yield (_("may serve"), who.name, "", "", "", _("by the house's own word, as staff"))
        for t in who.trained:
            due = _("due again") if t.due_again else ""
            yield (_("training"), who.name, t.module, t.day, t.due, due)
        for name in who.untrained:
            yield (_("training"), who.name, name, "", "", _("not passed here"))
        for p in who.permits:
            said = p.number if p.holds else " ".join(filter(None, (p.number, _("ran out"))))
            yield (_("permit"), who.name, p.kind, "", p.until or "", said)


def _refused_rows(facts: FolderFacts) -> Iterator[Row]:
    for line in facts.refused:
        when = line.at.isoformat(sep=" ", timespec="minutes")
        yield (_("refused or happened"), line.by, line.what, when, "", line.words)
