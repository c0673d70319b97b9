"""`manage.py who_is_ready [--venue SLUG] [--station SLUG] [--shift KIND] [--at TIME] [--json]`

A row for each trainee: the same verdicts as on the board, for scripts. Exit 2 with one line on
stderr where the question makes no sense. Shares are from 0 to 1. `--shift` weighs drinks as such a
shift sells them and asks what ready takes on it; without `--at` that is the next such shift.

`drinks_per_hour` is the newest pace check's at that station in whole drinks, as pages tell it,
null where there is none: the house's line is met just where this is no less than it.
`override` is what lets somebody stand there for one shift of that business day (of that kind, where
one is asked for): {"day", "shift", "by", "reason"}, else null; `standing` says what the evidence
says. Where no orders are taken, people are judged on tasks: the shares are null. So they are of
whom nothing has been seen, as on the board; `missing` then begins by saying so.
"""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.core.management.base import CommandParser
from django.utils import timezone

from assessments import board, tasks
from assessments.gate_facts import newest_paces
from assessments.measures.pace_check import whole_pace
from assessments.measures.sales_mix import ShiftKind
from assessments.overrides import Stands, standing_once
from assessments.sales import as_sold
from assessments.shifts import asked_at, moment_of
from assessments.showing import show_row
from assessments.wording import word
from barcourse.people.management.asking import AskingCommand
from barcourse.people.models import Station, Venue
from recipes.management.asking import house_named, refused
from recipes.menu import NoRules, menu_at

DIGITS = 4
YEARS = range(1900, 3000)
SHARES = ("right", "right_low", "right_high", "ask", "wrong")


class Command(AskingCommand):
    help = "Says who is ready for a station, and what the others still need."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--venue", default="", help="slug of the house (default: the only one)")
        parser.add_argument(
            "--station", default="", help="slug of the station (default: the first)"
        )
        parser.add_argument("--shift", default="", help="kind of shift (default: all together)")
        parser.add_argument(
            "--at", default="", help="moment, ISO 8601, on the house's clock (default: now)"
        )
        parser.add_argument("--json", action="store_true", dest="as_json")

    def handle(self, *args: Any, as_json: bool, **options: Any) -> None:
        house = house_named(options["venue"])
        station, shift = _station(house, options["station"]), _shift(options["shift"])
        said = _rows(Question(station, shift, _moment(house, options["at"], shift)))
        rows = [one.row for one in said]
        self.stdout.write(json.dumps(rows, ensure_ascii=False) if as_json else _text(station, said))


@dataclass(frozen=True)
class Said:
    """A row for scripts; for people its figures in whole orders and what is missing, many of a
    kind under one heading, as on the board."""

    row: dict[str, Any]
    figures: str = ""
    missing: Sequence[str] = ()


@dataclass(frozen=True)
class Question:
    station: Station
    shift: ShiftKind | None
    at: dt.datetime


def _station(house: Venue, slug: str) -> Station:
    stations = list(house.stations.all())
    for station in stations:
        if slug in ("", station.slug):
            return station
    choices = ", ".join(s.slug for s in stations)
    raise refused(f"There is no station {slug!r}; these there are: {choices}.")


def _shift(said: str) -> ShiftKind | None:
    try:
        return ShiftKind(said) if said else None
    except ValueError:
        choices = ", ".join(ShiftKind)
        raise refused(f"{said!r} is no kind of shift; these are: {choices}.") from None


def _moment(house: Venue, said: str, shift: ShiftKind | None) -> dt.datetime:
    if not said:
        return moment_of(house, timezone.now(), shift)
    try:
        at = dt.datetime.fromisoformat(said)
    except ValueError:
        raise refused(f"{said!r} is no moment; write it as 2026-03-14T23:00.") from None
    if at.year not in YEARS:
        raise refused(f"No house was open in {at.year}, nor is one planned for then.")
    return at if at.tzinfo else at.replace(tzinfo=house.zone)


def _rows(asked: Question) -> list[Said]:
    """With pace and override beside each verdict, in a handful of queries."""
    station, house = asked.station, asked.station.venue
    verdicts = _verdicts(asked)
    hires = board.hires_here(house, asked.at)
    paces = newest_paces(hires, asked.at)
    once = standing_once(house, asked.at)
    found = []
    for hire, said in zip(hires, verdicts, strict=True):
        pace = paces.get((hire.pk, station.pk))
        beside = {
            "drinks_per_hour": whole_pace(pace.an_hour) if pace else None,
            "override": _override(once.get((hire.pk, station.pk), ()), asked),
        }
        row = {"id": hire.code, "person": hire.name} | said.row | beside
        found.append(replace(said, row=row))
    return found


def _verdicts(asked: Question) -> list[Said]:
    """In the order of the hires."""
    station = asked.station
    held = asked_at(station.venue, asked.at, asked.shift)
    hires = board.hires_here(station.venue, asked.at)
    if not station.takes_orders:
        return [_of_tasks(row) for row in tasks.task_rows(station, hires, asked.at, held)]
    try:
        menu = as_sold(menu_at(station.venue, asked.at), asked.shift)
    except NoRules:
        name = station.venue.name
        raise refused(f"{name} had no house rules then, so there was no menu.") from None
    rows = board.board(station, menu, hires, asked=held)
    board.look_at(rows)
    return [_of_orders(row) for row in rows]


def _of_tasks(row: tasks.TaskRow) -> Said:
    missing = [word(reason) for reason in row.verdict.missing]
    said = {
        "standing": row.verdict.standing.value,
        **dict.fromkeys(SHARES),
        "missing": missing,
        "next": [word(reason) for reason in row.verdict.next],
    }
    return Said(said, missing=missing)


def _of_orders(row: board.Row) -> Said:
    verdict, shown = row.verdict, show_row(row)
    unseen = [] if row.trials else [shown.guess]
    said = {
        "standing": row.standing.value,
        **{name: round(getattr(verdict, name), DIGITS) if row.trials else None for name in SHARES},
        "missing": [*unseen, *shown.missing],
        "next": list(shown.next),
    }
    figures = f"of 100 orders {shown.right} right, {shown.ask} ask, {shown.wrong} wrong"
    gaps = [gap.sentence for gap in shown.gaps]
    return Said(said, figures if row.trials else "no figures yet", [*unseen, *gaps])


def _override(once: Sequence[Stands], asked: Question) -> dict[str, str] | None:
    """The one for that business day, and that kind of shift where one is asked for."""
    day = asked.station.venue.business_day(asked.at)
    for one in once:
        if not one.barred and one.shift.day == day and asked.shift in (None, one.shift.kind):
            kind = one.shift.kind.value
            return {"day": day.isoformat(), "shift": kind, "by": one.by, "reason": one.reason}
    return None


def _text(station: Station, rows: list[Said]) -> str:
    if not rows:
        return f"{station.name}: nobody is being trained."
    return "\n".join(f"{station.name}: {_line(row)}" for row in rows)


def _line(said: Said) -> str:
    row = said.row
    standing = row["standing"].replace("_", " ")
    orders = f": {said.figures}" if said.figures else ""
    missing = f"; missing: {' '.join(said.missing)}" if said.missing else ""
    once = f"; for one shift on {row['override']['by']}'s word" if row["override"] else ""
    return f"{row['person']}, {standing}{orders}{once}{missing}"
