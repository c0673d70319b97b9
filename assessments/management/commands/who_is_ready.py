"""`manage.py who_is_ready [--venue SLUG] [--station SLUG] [--at TIME] [--json]`

A row for each trainee: the same verdicts as on the board, for scripts. Exit 2 with one line on
stderr where the question makes no sense. Shares are from 0 to 1. `drinks_per_hour` and `override`
are null: nothing in the house says either yet.
"""

from __future__ import annotations

import datetime as dt
import json
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from assessments.board import Row, board, hires_here, order_stations
from assessments.sales import as_sold
from assessments.showing import show_verdict
from barcourse.people.models import Station, Venue
from recipes.menu import NoRules, menu_at

DIGITS = 4


class Command(BaseCommand):
    help = "Says who is ready for a station, and what the others still need."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--venue", default="", help="slug of the house (default: the only one)")
        parser.add_argument(
            "--station", default="", help="slug of the station (default: the first)"
        )
        parser.add_argument(
            "--at", default="", help="moment, ISO 8601, on the house's clock (default: now)"
        )
        parser.add_argument("--json", action="store_true", dest="as_json")

    def handle(self, *args: Any, as_json: bool, **options: Any) -> None:
        house = _house(options["venue"])
        station = _station(house, options["station"])
        rows = _rows(house, station, _moment(house, options["at"]))
        said = [_values(row) for row in rows]
        self.stdout.write(json.dumps(said, ensure_ascii=False) if as_json else _text(station, said))


def _house(slug: str) -> Venue:
    houses = list(Venue.objects.filter(slug=slug) if slug else Venue.objects.all())
    if len(houses) == 1:
        return houses[0]
    if slug:
        raise _refused(f"There is no house {slug!r}.")
    choices = " or ".join(f"--venue {house.slug}" for house in houses)
    raise _refused(f"Say which house: {choices}." if houses else "There is no house yet.")


def _station(house: Venue, slug: str) -> Station:
    stations = order_stations(house)
    for station in stations:
        if slug in ("", station.slug):
            return station
    choices = ", ".join(s.slug for s in stations)
    raise _refused(f"No station {slug!r} takes orders; these do: {choices}.")


def _moment(house: Venue, said: str) -> dt.datetime:
    if not said:
        return timezone.now()
    try:
        at = dt.datetime.fromisoformat(said)
    except ValueError:
        raise _refused(f"{said!r} is no moment; write it as 2026-03-14T23:00.") from None
    return at if at.tzinfo else at.replace(tzinfo=house.zone)


def _rows(house: Venue, station: Station, at: dt.datetime) -> list[Row]:
    try:
        menu = as_sold(menu_at(house, at))
    except NoRules:
        raise _refused(f"{house.name} had no house rules then, so there was no menu.") from None
    return board(station, menu, hires_here(house, at))


def _refused(sentence: str) -> CommandError:
    return CommandError(sentence, returncode=2)


def _values(row: Row) -> dict[str, Any]:
    verdict, shown = row.verdict, show_verdict(row.verdict)
    return {
        "id": row.hire.code,
        "person": row.hire.name,
        "standing": verdict.standing.value,
        "right": round(verdict.right, DIGITS),
        "right_low": round(verdict.right_low, DIGITS),
        "right_high": round(verdict.right_high, DIGITS),
        "ask": round(verdict.ask, DIGITS),
        "wrong": round(verdict.wrong, DIGITS),
        "drinks_per_hour": None,
        "missing": shown.missing,
        "next": shown.next,
        "override": None,
    }


def _text(station: Station, rows: list[dict[str, Any]]) -> str:
    if not rows:
        return f"{station.name}: nobody is being trained."
    return "\n".join(f"{station.name}: {_line(row)}" for row in rows)


def _line(row: dict[str, Any]) -> str:
    figures = ", ".join(f"{100 * row[name]:.0f} {name}" for name in ("right", "ask", "wrong"))
    missing = f"; missing: {' '.join(row['missing'])}" if row["missing"] else ""
    standing = row["standing"].replace("_", " ")
    return f"{row['person']}, {standing}: of 100 orders {figures}{missing}"
