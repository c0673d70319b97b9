"""Who is ready where no orders are taken, on paper and as CSV."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from django.utils.translation import gettext as _

from assessments.shifts import When, when_words
from assessments.task_board import TaskBoard
from assessments.wording_ready import task_policy_words

from .pdf import Paper, to_pdf
from .ready_board import Stand, once_said
from .sheets import to_csv


@dataclass(frozen=True)
class Line:
    """How somebody stands, and what is missing, each with the way to mend it."""

    stand: Stand
    mends: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class TasksFacts:
    """Everything that the paper says. `as_of` is the moment that it is reckoned for, `on` the shift
    or the day to come that begins then, empty for now."""

    house: str
    station: str
    as_of: dt.datetime
    on: str
    takes: tuple[str, ...]
    lines: tuple[Line, ...]
    size: str = "a4"


def facts_of(found: TaskBoard, when: When, size: str = "") -> TasksFacts:
    """`size` as `ready_board.facts_of` takes it."""
    venue = found.station.venue
    return TasksFacts(
        house=venue.name,
        station=found.station.name,
        as_of=venue.local(found.at),
        on=when_words(when),
        takes=tuple(str(said) for said in task_policy_words(found.policy)),
        lines=tuple(
            Line(
                Stand(
                    person=row.hire.name, standing=row.verdict.standing, figures=None, guess="",
                    gaps=(), missing=(), next="", once=once_said(once),
                ),
                tuple(row.mends),
            )
            for row, once in found.rows
        ),
        size=size or venue.paper_size,
    )  # fmt: skip


def tasks_pdf(facts: TasksFacts) -> bytes:
    return to_pdf(
        Paper(
            template="papers/paper/ready_tasks.html",
            styles=("paged.css", "record.css", "ready_board.css"),
            size=facts.size,
            title=_("Who can stand where: %(house)s") % {"house": facts.house},
            dated=facts.as_of.isoformat(timespec="seconds"),
            context={"facts": facts, "house": facts.house},
        )
    )


def tasks_csv(facts: TasksFacts) -> str:
    """A row a person."""
    head = [
        _("person"), _("station"), _("as of"), _("standing"), _("missing"), _("what is missing"),
        _("how to mend it"), _("for one shift"),
    ]  # fmt: skip
    said = [facts.station, f"{facts.as_of:%Y-%m-%d %H:%M}"]
    rows = [
        [line.stand.person, *said, line.stand.says, len(line.mends),
         " ".join(what for what, _how in line.mends), " ".join(how for _what, how in line.mends),
         "; ".join(line.stand.once)]
        for line in facts.lines
    ]  # fmt: skip
    return to_csv(head, rows)
