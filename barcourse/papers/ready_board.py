"""Who can stand where, on paper: standings at every station, and one station's board in full."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from django.utils.translation import gettext as _

from assessments import board, tasks
from assessments.board import Row
from assessments.board_look import Look, Seen, look_at, weighed
from assessments.measures.readiness import Standing
from assessments.measures.waits import ANYBODY, Reader
from assessments.overrides import Stands, standing_once
from assessments.shifts import asked_at, coming_shift
from assessments.showing import Gap, show_rows
from assessments.showing_record import board_says
from assessments.tasks import TaskRow
from assessments.wording_practical import SHIFTS, STANDINGS
from barcourse.people.models import Membership
from recipes.menu import Menu

from .pdf import Paper, to_pdf
from .sheets import to_csv

MOST_NAMED = 8
"""Drinks that one thing is missing on; the screen has them all."""

Once = Mapping[tuple[int, int], Sequence[Stands]]
"""Who stands for one shift, by hire and station."""


@dataclass(frozen=True)
class Figures:
    """Of 100 orders; the interval of right rounded outwards."""

    right: int
    low: int
    high: int
    ask: int
    wrong: int


@dataclass(frozen=True)
class Stand:
    """How somebody stands at a station. Without `figures` nothing has been shown yet; `guess` warns
    while they rest on hardly any drink; `once` says for which shift and on whose word they stand
    all the same."""

    person: str
    standing: Standing
    figures: Figures | None
    guess: str
    gaps: tuple[Gap, ...]
    missing: tuple[str, ...]
    next: str
    once: tuple[str, ...] = ()

    @property
    def says(self) -> str:
        return str(STANDINGS[self.standing])


@dataclass(frozen=True)
class BoardFacts:
    """Everything that the paper says. `everywhere`: a person, and how they stand at each of
    `stations`. `shift`, `module` and `only`, one standing, are empty where all are meant. `as_of`
    is the moment that the figures are reckoned for, `on` the shift that begins then, empty for now;
    `wider` says why spans are drawn wider than the evidence makes them."""

    house: str
    as_of: dt.datetime
    station: str
    shift: str
    module: str
    stations: tuple[str, ...]
    everywhere: tuple[tuple[str, tuple[Stand, ...]], ...]
    rows: tuple[Stand, ...]
    bar: int
    most_wrong: int
    second_right: int
    size: str = "a4"
    on: str = ""
    only: str = ""
    wider: str = ""


def facts_of(menu: Menu, look: Look, size: str = "", reader: Reader = ANYBODY) -> BoardFacts:
    """`size` is "letter" or "a4"; the house's own paper unless said. As `reader` is told."""
    venue = menu.venue
    stations = board.order_stations(venue)
    seen = look_at(menu, board.hires_here(venue, menu.at), look)
    asked = asked_at(venue, menu.at, look.shift)
    found = board.boards(
        stations, weighed(menu, look.shift), [r.hire for r in seen.rows], asked=asked
    )
    board.look_at([*seen.rows, *chain.from_iterable(found.values())])
    once = standing_once(venue, menu.at, look.shift)
    hires, without = [r.hire for r in seen.rows], board.task_stations(venue)
    by_tasks = [tasks.task_rows(s, hires, menu.at, asked) for s in without]
    return BoardFacts(
        house=venue.name,
        as_of=venue.local(menu.at),
        station=look.station.name,
        shift=str(SHIFTS[look.shift]) if look.shift else "",
        module=look.module.name if look.module else "",
        stations=tuple(s.name for s in (*stations, *without)),
        everywhere=_everywhere(seen, [found[s.pk] for s in stations], by_tasks, once, reader),
        rows=tuple(_stand(row, once, reader) for row in seen.rows),
        bar=round(100 * seen.policy.least_right),
        most_wrong=round(100 * seen.policy.most_wrong),
        second_right=round(100 * seen.policy.second_right),
        size=size or venue.paper_size,
        on=coming_shift(venue, menu.at, look.shift).when if look.shift else "",
        only=str(STANDINGS[look.standing]) if look.standing else "",
        wider=board_says(seen.miss),
    )


def _everywhere(
    seen: Seen,
    by_station: Sequence[Sequence[Row]],
    by_tasks: Sequence[Sequence[TaskRow]],
    once: Once,
    reader: Reader,
) -> tuple[tuple[str, tuple[Stand, ...]], ...]:
    people: list[Membership] = [row.hire for row in seen.rows]
    return tuple(
        (
            hire.name,
            (
                *(_stand(rows[n], once, reader) for rows in by_station),
                *(_by_tasks(rows[n], once) for rows in by_tasks),
            ),
        )
        for n, hire in enumerate(people)
    )


def _stand(row: Row, once: Once, reader: Reader) -> Stand:
    [(_row, shown)] = show_rows([row], once, reader)
    figures = Figures(shown.right, shown.low, shown.high, shown.ask, shown.wrong)
    return Stand(
        person=row.hire.name,
        standing=row.standing,
        figures=figures if row.trials else None,
        guess=shown.guess if row.trials else "",
        gaps=tuple(_short(gap) for gap in shown.gaps),
        missing=tuple(shown.missing),
        next=shown.next[0] if shown.next else "",
        once=once_said(shown.once),
    )


def _by_tasks(row: TaskRow, once: Once) -> Stand:
    """Where no orders are taken there are no figures."""
    said = once.get((row.hire.pk, row.station.pk), ())
    missing = tuple(said for said, _how in row.mends)
    return Stand(
        person=row.hire.name, standing=row.verdict.standing, figures=None, guess="", gaps=(),
        missing=missing, next="", once=once_said(said),
    )  # fmt: skip


def once_said(once: Sequence[Stands]) -> tuple[str, ...]:
    """Each in a sentence."""
    return tuple(map(_one_said, once))


def _one_said(one: Stands) -> str:
    """With the reason, where it wasn't erased."""
    if one.barred:
        said = _("said for %(when)s on the word of %(name)s, and holds no more")
        return f"{said % {'when': one.when, 'name': one.by}}: {one.barred}"
    if one.is_other:
        said = _("for another shift, %(when)s, on the word of %(name)s")
    else:
        said = _("for one shift, %(when)s, on the word of %(name)s")
    said %= {"when": one.when, "name": one.by}
    return f"{said}: {one.reason}" if one.reason else said


def _short(gap: Gap) -> Gap:
    """With no more drinks than one reads."""
    more = len(gap.of) - MOST_NAMED
    if more <= 0:
        return gap
    return replace(gap, of=[*gap.of[:MOST_NAMED], _("%(n)s more") % {"n": more}])


def ready_pdf(facts: BoardFacts) -> bytes:
    title = _("Who can stand where: %(house)s") % {"house": facts.house}
    return to_pdf(
        Paper(
            template="papers/paper/ready_board.html",
            styles=("paged.css", "record.css", "ready_board.css"),
            size=facts.size,
            title=title,
            dated=facts.as_of.isoformat(timespec="seconds"),
            context={"facts": facts, "house": facts.house},
        )
    )


def ready_csv(facts: BoardFacts) -> str:
    """A row a person at the station that was asked for; figures of 100 orders. With a module they
    are of it alone, and so is what is missing; standing never is."""
    head = [
        _("person"), _("station"), _("kind of shift"), _("module"), _("as of"),
        _("standing at the whole station") if facts.module else _("standing"),
        _("right"), _("right, low end"), _("right, high end"), _("ask"), _("wrong"),
        _("missing"), _("what is missing"), _("shortest way there"), _("for one shift"),
    ]  # fmt: skip
    said = [facts.station, facts.shift, facts.module, f"{facts.as_of:%Y-%m-%d %H:%M}"]
    rows = [
        [row.person, *said, row.says, *_cells(row.figures), len(row.missing),
         " ".join(row.missing), row.next, "; ".join(row.once)]
        for row in facts.rows
    ]  # fmt: skip
    return to_csv(head, rows)


def _cells(figures: Figures | None) -> list[object]:
    if figures is None:
        return [""] * 5
    return [figures.right, figures.low, figures.high, figures.ask, figures.wrong]
