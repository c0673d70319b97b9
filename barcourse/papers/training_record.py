"""The training record of one person: what they were taught, asked and watched at, by whom, when.

Everything on it comes from the sealed record, whose head it carries: whoever keeps the paper can
ask later whether anything up to there was changed.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.translation import gettext as _

from assessments import reads
from assessments.models import QuizResult
from barcourse.people import log
from barcourse.people.log import Head
from barcourse.people.models import Membership, Venue
from recipes.menu import Menu

from .models import Certificate
from .pdf import Paper, to_pdf
from .practical_shown import Checked, checked
from .sheets import to_csv
from .states import state
from .wording import STATES


@dataclass(frozen=True)
class Asked:
    """A quiz that was finished."""

    day: dt.date
    name: str
    right: int
    ask: int
    wrong: int
    passed: bool


@dataclass(frozen=True)
class Watched:
    """A build that was watched; `came` in words: passed, not passed, signed off, voided."""

    day: dt.date
    drink: str
    revision: int
    by: str
    help: str
    seconds: int | None
    came: str


@dataclass(frozen=True)
class Held:
    """A certificate."""

    day: dt.date
    station: str
    until: dt.date
    state: str


@dataclass(frozen=True)
class RecordFacts:
    """Everything that the paper says."""

    house: str
    person: str
    role: str
    first_day: dt.date
    left_day: dt.date | None
    as_of: dt.datetime
    head: Head
    asked: tuple[Asked, ...]
    watched: tuple[Watched, ...]
    held: tuple[Held, ...]
    checked: tuple[Checked, ...] = ()
    size: str = "a4"


def facts_of(person: Membership, menu: Menu, size: str = "") -> RecordFacts:
    venue = menu.venue
    return RecordFacts(
        house=venue.name,
        person=person.name,
        role=person.get_role_display(),
        first_day=person.start_day,
        left_day=person.left_day,
        as_of=venue.local(menu.at),
        head=log.head(venue),
        asked=tuple(_asked(person, venue)),
        watched=tuple(_watched(person, menu)),
        held=tuple(_held(person, menu.at)),
        checked=checked(person, menu),
        size=size or venue.paper_size,
    )


def _asked(person: Membership, venue: Venue) -> Iterator[Asked]:
    results = QuizResult.objects.of(person).select_related("quiz__module").order_by("at", "pk")
    for result in results:
        yield Asked(
            day=venue.business_day(result.at),
            name=result.quiz.title,
            right=result.right,
            ask=result.would_ask,
            wrong=result.wrong,
            passed=result.passed,
        )


def _watched(person: Membership, menu: Menu) -> Iterator[Watched]:
    for shown in reversed(reads.builds_of(person, menu)):
        yield Watched(
            day=menu.venue.business_day(shown.build.at),
            drink=shown.build.recipe.name,
            revision=shown.build.revision.number,
            by=shown.build.trainer.name,
            help=shown.build.get_help_level_display(),
            seconds=shown.build.seconds,
            came=_came(shown),
        )


def _came(shown: reads.BuildShown) -> str:
    if shown.is_void:
        return _("voided")
    if shown.is_signed and shown.changed:
        return _("signed off, the house has changed it since")
    if shown.is_signed:
        return _("signed off")
    return _("passed") if shown.build.passed else _("not passed")


def _held(person: Membership, at: dt.datetime) -> Iterator[Held]:
    for row in Certificate.objects.of(person).with_all().order_by("issued_at", "pk"):
        yield Held(
            day=row.valid_from,
            station=row.what_was_shown.station,
            until=row.valid_until,
            state=str(STATES[state(row, at)]),
        )


def record_pdf(facts: RecordFacts) -> bytes:
    title = _("Training record of %(person)s") % {"person": facts.person}
    return to_pdf(
        Paper(
            template="papers/paper/training_record.html",
            styles=("paged.css", "record.css"),
            size=facts.size,
            title=title,
            dated=facts.as_of.isoformat(timespec="seconds"),
            context={"facts": facts, "house": facts.house, "head": str(facts.head)},
        )
    )


def record_csv(facts: RecordFacts) -> str:
    head = [
        _("what"), _("business day"), _("about"), _("revision"), _("by"), _("help"), _("seconds"),
        _("right"), _("ask"), _("wrong"), _("outcome"), _("until"),
    ]  # fmt: skip
    day = facts.as_of.date()
    rows: list[list[object]] = [
        [_("whose record"), day, facts.person, "", facts.house, *("",) * 7],
    ]
    for a in facts.asked:
        came = _("passed") if a.passed else _("not passed")
        rows.append([_("quiz"), a.day, a.name, "", "", "", "", a.right, a.ask, a.wrong, came, ""])
    for w in facts.watched:
        seconds = "" if w.seconds is None else w.seconds
        rows.append(
            [_("build"), w.day, w.drink, w.revision, w.by, w.help, seconds, "", "", "", w.came, ""]
        )
    rows += [
        [c.what, c.day, c.about, "", c.by, "", "", "", "", "", c.came, ""] for c in facts.checked
    ]
    rows += [
        [_("certificate"), h.day, h.station, "", "", "", "", "", "", "", h.state, h.until]
        for h in facts.held
    ]
    rows.append(
        [
            _("head of the log"),
            facts.as_of.isoformat(sep=" ", timespec="minutes"),
            facts.head,
            "",
            "",
            "",
            "",
            "",
            "",
            "",
            "",
            "",
        ]
    )
    return to_csv(head, rows)
