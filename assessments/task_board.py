"""The board of a station that takes no orders (bar back): everybody there, the ready first."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from assessments import board, tasks
from assessments.measures.readiness import Standing
from assessments.measures.ready_facts import ReadyPolicy
from assessments.overrides import Stands, standing_once
from assessments.policy import book_at
from assessments.shifts import When, reckoned
from assessments.tasks import TaskRow
from barcourse.people.models import Station
from recipes.menu import Menu


@dataclass(frozen=True)
class TaskBoard:
    """Each row with who stands there for one shift on a manager's word; `at` is the moment that it
    is reckoned for."""

    station: Station
    at: dt.datetime
    rows: Sequence[tuple[TaskRow, Sequence[Stands]]]
    policy: ReadyPolicy

    @property
    def ready(self) -> int:
        return sum(row.verdict.standing is Standing.READY for row, _once in self.rows)


def task_board(station: Station, menu: Menu, when: When) -> TaskBoard:
    """`menu` is that of now."""
    then = reckoned(menu, when)
    venue, at, shift = station.venue, then.menu.at, then.asked.shift
    rows = tasks.task_rows(station, board.hires_here(venue, at), at, then.asked)
    rows.sort(key=lambda row: list(Standing).index(row.verdict.standing))
    once = standing_once(venue, at, shift)
    return TaskBoard(
        station,
        at,
        [(row, once.get((row.hire.pk, station.pk), ())) for row in rows],
        book_at(venue, at).of(station, shift),
    )
