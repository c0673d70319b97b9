"""Side work: short lists by station, signed by whoever did it, kept in the sealed record."""

from __future__ import annotations

import datetime as dt
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from django.conf import settings
from django.db import transaction

from . import log
from .models import (
    Membership,
    PersonalText,
    SideDone,
    SideTakenBack,
    SideTask,
    Station,
    Venue,
)
from .models.side_work import Moment
from .reasons import refuse
from .roles import May

SHIPPED = Path(settings.BASE_DIR) / "fixtures" / "side_work.toml"
WEEK = dt.timedelta(days=7)


@transaction.atomic
def bring_in_shipped(*, by: Membership, at: dt.datetime) -> list[SideTask]:
    """The lists that come with the program, for stations that the house has and that are empty."""
    tasks = _bring_in(by)
    if tasks:
        facts = {"tasks": len(tasks)}
        log.append(venue=by.venue, by=by, kind="side_work_brought_in", facts=facts, at=at)
    return tasks


def begin_with_shipped(*, by: Membership, **_unused: object) -> None:
    """A house that has just opened starts with them; that it opened is its entry in the log."""
    _bring_in(by)


def _bring_in(by: Membership) -> list[SideTask]:
    stations = {station.slug: station for station in by.venue.stations.all()}
    taken = set(SideTask.objects.in_house(by.venue).kept().values_list("station__slug", flat=True))
    wanted = [t for t in shipped_tasks() if t["station"] in stations.keys() - taken]
    return SideTask.objects.bulk_create(
        SideTask(venue=by.venue, **{**task, "station": stations[str(task["station"])]})
        for task in wanted
    )


def shipped_tasks() -> list[dict[str, object]]:
    tasks: list[dict[str, object]] = tomllib.loads(SHIPPED.read_text(encoding="utf-8"))["tasks"]
    return tasks


@transaction.atomic
def add_task(
    *,
    by: Membership,
    station: Station,
    when: str,
    text: str,
    caution: str = "",
    hours: int | None = None,
    at: dt.datetime,
) -> SideTask:
    if station.venue_id != by.venue_id:
        raise refuse("other_house")
    task = SideTask.objects.create(
        venue=by.venue, station=station, when=Moment(when), text=text.strip(),
        caution=caution.strip(), hours=hours,
    )  # fmt: skip
    _log(by, "side_task_added", task, at)
    return task


@transaction.atomic
def remove_task(*, by: Membership, task: SideTask, at: dt.datetime) -> None:
    """Off the list. What was signed before stays."""
    task = SideTask.objects.select_for_update(no_key=True).get(pk=task.pk)
    if task.venue_id != by.venue_id:
        raise refuse("other_house")
    if task.removed_at is not None:
        raise refuse("side_task_gone")
    task.removed_at = at
    task.save(update_fields=["removed_at"])
    _log(by, "side_task_removed", task, at)


@transaction.atomic
def sign(*, by: Membership, tasks: Iterable[SideTask], at: dt.datetime) -> list[SideDone]:
    """These are done, and by whom. Refuses none at all, and what is off the list."""
    tasks = list(tasks)
    if not tasks:
        raise refuse("side_work_none")
    if any(task.venue_id != by.venue_id for task in tasks):
        raise refuse("other_house")
    if any(task.removed_at is not None for task in tasks):
        raise refuse("side_task_gone")
    rows = SideDone.objects.bulk_create(
        SideDone(venue=by.venue, task=task, by=by, at=at, discard_at=_discard_at(task, at))
        for task in tasks
    )
    log.append_rows(venue=by.venue, by=by, kind="side_work_done", rows=rows, at=at)
    return rows


@transaction.atomic
def take_back_done(*, by: Membership, row: SideDone, reason: str, at: dt.datetime) -> SideTakenBack:
    """A signature put by mistake no longer counts; it stays on record, with the reason. By whoever
    put it, or a manager."""
    if row.venue_id != by.venue_id:
        raise refuse("other_house")
    if not may_take_back(by, row):
        raise refuse("side_work_of_others")
    if not reason.strip():
        raise refuse("taking_back_needs_reason", "reason")
    SideTask.objects.select_for_update(no_key=True).get(pk=row.task_id)
    if SideTakenBack.objects.filter(done=row).exists():
        raise refuse("side_work_taken_back")
    text = log.keep_text(about=row.by, text=reason.strip())
    void = SideTakenBack.objects.create(
        venue=row.venue, done=row, by=by, reason_code=text.code, at=at
    )
    log.append(
        venue=by.venue, by=by, kind="side_work_voided", subject=row.by, row=void, text=text, at=at
    )
    return void


def may_take_back(by: Membership, row: SideDone) -> bool:
    """Whether somebody could, were it not taken back already."""
    return by.pk == row.by_id or by.may(May.SEE_LOG)


def why_taken_back(void: SideTakenBack) -> str:
    """The reason, empty where its words were erased."""
    text = PersonalText.objects.filter(code=void.reason_code, erased_at=None).first()
    return text.text if text else ""


def _discard_at(task: SideTask, at: dt.datetime) -> dt.datetime | None:
    return at + dt.timedelta(hours=task.hours) if task.hours else None


def _log(by: Membership, kind: str, task: SideTask, at: dt.datetime) -> None:
    facts = {"task": task.code, "station": task.station.slug}
    log.append(venue=by.venue, by=by, kind=kind, facts=facts, at=at)


@dataclass(frozen=True)
class TaskShown:
    """A line of the list. `done` is the newest signing that counts: of this business day, of the
    last seven days for what is weekly. `overdue`: what was made ready should be gone by now.
    `void`: a later one that was taken back."""

    task: SideTask
    done: SideDone | None
    overdue: bool
    void: SideDone | None = None


@dataclass(frozen=True)
class ListShown:
    heading: str
    tasks: list[TaskShown]


def lists_at(station: Station, at: dt.datetime) -> list[ListShown]:
    """What there is to do at a station, by its moment, with what has been done."""
    venue = station.venue
    tasks = list(SideTask.objects.in_house(venue).kept().at(station))
    for task in tasks:
        task.venue = venue  # saves asking for it once more
    newest, taken_back = _newest(venue, at)
    found = []
    for moment in Moment:
        lines = [
            _shown(t, newest.get(t.pk), taken_back.get(t.pk), at) for t in tasks if t.when == moment
        ]
        if lines:
            found.append(ListShown(str(moment.label), lines))
    return found


def to_take_back(by: Membership, lists: Iterable[ListShown]) -> list[SideDone]:
    """Of what the lists show as signed, what this member could take back or did."""
    lines = [line for shown in lists for line in shown.tasks]
    rows = [row for line in lines for row in (line.done, line.void) if row is not None]
    return [row for row in rows if may_take_back(by, row)]


def _newest(venue: Venue, at: dt.datetime) -> tuple[dict[int, SideDone], dict[int, SideDone]]:
    """By task: the newest signature that stands, and a later one that was taken back."""
    stands: dict[int, SideDone] = {}
    taken_back: dict[int, SideDone] = {}
    for row in SideDone.objects.in_house(venue).since(at - WEEK):
        if row.is_void:
            taken_back[row.task_id] = row
        else:
            stands[row.task_id] = row
            taken_back.pop(row.task_id, None)
    return stands, taken_back


def _shown(
    task: SideTask, done: SideDone | None, void: SideDone | None, at: dt.datetime
) -> TaskShown:
    overdue = done is not None and done.discard_at is not None and done.discard_at <= at
    if done is not None and not _counts(task, done, task.venue, at):
        done = None
    if void is not None and not _counts(task, void, task.venue, at):
        void = None
    return TaskShown(task, done, overdue and done is not None, void)


def _counts(task: SideTask, done: SideDone, venue: Venue, at: dt.datetime) -> bool:
    if task.when == Moment.WEEKLY:
        return done.at > at - WEEK
    return venue.business_day(done.at) == venue.business_day(at)
