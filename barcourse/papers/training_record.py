"""The training record of one person: what they were taught, asked and watched at, by whom, when.

Everything on it comes from the sealed record, whose head it carries: whoever keeps the paper can
ask later whether anything up to there was changed. What the pages keep from a trainer until they
have given a second look, the paper keeps from them too, and says so at its head: no copy differs
silently from another's.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments.calls_done import RunDone, runs_done
from assessments.models import QuizResult
from assessments.record_second import SECOND_WITHIN
from assessments.run_out import run_out_of
from assessments.said import Spoken, said_by
from assessments.showing_entries import heading
from assessments.to_look_at import kept_from
from barcourse.people import log
from barcourse.people.log import Head
from barcourse.people.models import Membership, Venue
from recipes.menu import Menu

from .builds_shown import Watched, void_words, watched
from .models import Certificate
from .pdf import Paper, to_pdf
from .practical_shown import Checked, checked
from .sheets import to_csv
from .states import state
from .wording import STATES


@dataclass(frozen=True)
class Asked:
    """A quiz that was finished, or `ran_out` and waits to be closed; of `left` the time was up
    before there was an answer. Nobody passes or fails a try-out, and it may have ended earlier."""

    day: dt.date
    name: str
    right: int
    ask: int
    wrong: int
    left: int
    passed: bool
    ran_out: bool = False
    is_try_out: bool = False

    @property
    def came(self) -> str:
        if self.ran_out:
            said = _("time is up, not closed yet; %(n)s not answered")
            return said % {"n": self.left}
        if self.is_try_out:
            open_still = _("%(n)s not answered") % {"n": self.left}
            return "; ".join((_("taken"), open_still) if self.left else (_("taken"),))
        came = _("passed") if self.passed else _("not passed")
        if not self.left:
            return came
        return "; ".join((came, _("%(n)s not answered: the time was up") % {"n": self.left}))


@dataclass(frozen=True)
class Called:
    """A run of calls that was practised; `left` says what became of those without an answer."""

    day: dt.date
    kind: str
    right: int
    ask: int
    wrong: int
    seconds: int | None
    minutes: int | None
    left: str


@dataclass(frozen=True)
class Said:
    """What the person said to an entry of `entry_day`; `words` say so where they were erased, and
    `became` is empty where they agreed."""

    day: dt.date
    about: str
    entry_day: dt.date
    words: str
    became: str


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
    said: tuple[Said, ...] = ()
    called: tuple[Called, ...] = ()
    size: str = "a4"

    @property
    def kept_back(self) -> str:
        """What this copy keeps from its reader, and whose copy has it; empty where nothing."""
        kept = [w for w in self.watched if w.kept_back]
        if not kept:
            return ""
        said = ngettext(
            "%(n)s result is kept back from you until you have given marks of your own or the day "
            "is over, %(hours)s hours after the build; the copy of %(names)s (who watched) has it.",
            "%(n)s results are kept back from you until you have given marks of your own or the "
            "day is over, %(hours)s hours after each build; the copy of %(names)s (who watched) "
            "has them.",
            len(kept),
        )
        names = _(", ").join(dict.fromkeys(w.by for w in kept))
        hours = int(SECOND_WITHIN / dt.timedelta(hours=1))
        return said % {"n": len(kept), "hours": hours, "names": names}

    @property
    def glance(self) -> list[tuple[str, str]]:
        """The record in a few figures, each with its label; what no longer counts is in none."""
        stand = [w for w in self.watched if w.void is None]
        quizzes = [a for a in self.asked if not (a.is_try_out or a.ran_out)]
        return [
            (_("Quizzes passed"), _of(sum(a.passed for a in quizzes), len(quizzes))),
            (_("Builds watched"), str(len(stand))),
            (_("of them signed off"), str(sum(w.is_signed for w in stand))),
            (
                _("Checks of pours and pace, rounds, marks"),
                str(sum(not c.is_void for c in self.checked)),
            ),
        ]


def _of(some: int, many: int) -> str:
    return _("%(n)s of %(of)s") % {"n": some, "of": many}


def facts_of(person: Membership, menu: Menu, *, reader: Membership, size: str = "") -> RecordFacts:
    venue, blind = menu.venue, kept_from(reader, menu.at, SECOND_WITHIN)
    return RecordFacts(
        house=venue.name,
        person=person.name,
        role=person.get_role_display(),
        first_day=person.start_day,
        left_day=person.left_day,
        as_of=venue.local(menu.at),
        head=log.head(venue),
        asked=(*_asked(person, venue), *_run_out(person, menu)),
        watched=tuple(watched(person, menu, blind)),
        held=tuple(_held(person, menu.at)),
        checked=checked(person, menu),
        said=tuple(_said(s, venue) for s in said_by(person) if s.entry.code not in blind),
        called=tuple(_called(done, venue) for done in reversed(runs_done(person))),
        size=size or venue.paper_size,
    )


def _called(done: RunDone, venue: Venue) -> Called:
    return Called(
        day=venue.business_day(done.at),
        kind=str(done.run.get_kind_display()),
        right=done.counts.right,
        ask=done.counts.ask,
        wrong=done.counts.wrong,
        seconds=done.seconds,
        minutes=done.minutes,
        left=done.stands,
    )


def _asked(person: Membership, venue: Venue) -> Iterator[Asked]:
    results = QuizResult.objects.of(person).select_related("quiz__module", "quiz__try_out")
    for result in results.with_left_open().order_by("at", "pk"):
        yield Asked(
            day=venue.business_day(result.at),
            name=result.quiz.title,
            right=result.right,
            ask=result.asked,
            wrong=result.wrong,
            left=result.left_open,
            passed=result.passed,
            is_try_out=result.quiz.is_try_out,
        )


def _run_out(person: Membership, menu: Menu) -> Iterator[Asked]:
    for row in reversed(run_out_of(person, menu.at)):
        yield Asked(
            day=menu.venue.business_day(row.quiz.ends_at or row.quiz.started_at),
            name=row.quiz.title,
            right=row.right,
            ask=row.ask,
            wrong=row.wrong,
            left=row.left,
            passed=False,
            ran_out=True,
        )


def _said(spoken: Spoken, venue: Venue) -> Said:
    return Said(
        day=venue.business_day(spoken.at),
        about=heading(spoken.entry),
        entry_day=venue.business_day(spoken.entry.at),
        words=spoken.words or _("words erased"),
        became=spoken.became,
    )


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
        _("right"), _("ask"), _("wrong"), _("outcome"), _("until"), _("made with"),
        _("went wrong"),
    ]  # fmt: skip
    day = facts.as_of.date()
    rows: list[list[object]] = [
        [_("whose record"), day, facts.person, "", facts.house],
    ]
    if facts.kept_back:
        rows.append([_("kept back from you"), day, facts.kept_back])
    for a in facts.asked:
        counts = (a.right, a.ask, a.wrong)
        rows.append([_("quiz"), a.day, a.name, "", "", "", "", *counts, a.came, ""])
    rows += [_call_row(called) for called in facts.called]
    rows += [_build_row(built) for built in facts.watched]
    rows += [
        [c.what, c.day, c.about, "", c.by, *("",) * 5, c.came, "", c.made_with]
        for c in facts.checked
    ]
    rows += [_answer_row(said) for said in facts.said]
    rows += [
        [_("certificate"), h.day, h.station, "", "", "", "", "", "", "", h.state, h.until]
        for h in facts.held
    ]
    when = facts.as_of.isoformat(sep=" ", timespec="minutes")
    rows.append([_("head of the log"), when, facts.head])
    return to_csv(head, ([*row, *("",) * (len(head) - len(row))] for row in rows))


def _build_row(built: Watched) -> list[object]:
    seconds = "" if built.seconds is None else built.seconds
    came = built.came
    if built.void:
        voided = void_words(built.void, built.void.day.isoformat())
        came = f"{came}; {voided}"
    return [
        _("build"), built.day, built.drink, built.revision, built.by, built.help, seconds,
        "", "", "", came, "", built.made_with, "; ".join(built.slips),
    ]  # fmt: skip


def _call_row(called: Called) -> list[object]:
    seconds = "" if called.seconds is None else called.seconds
    counts = (called.right, called.ask, called.wrong)
    what = _("call practice")
    return [what, called.day, called.kind, "", "", "", seconds, *counts, called.left, ""]


def _answer_row(said: Said) -> list[object]:
    about = _("%(about)s, %(day)s") % {"about": said.about, "day": said.entry_day.isoformat()}
    came = " ".join(filter(None, (f"“{said.words}”", said.became)))
    return [_("answer"), said.day, about, *("",) * 7, came, ""]
