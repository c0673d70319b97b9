"""`manage.py staff_for --orders-per-hour 180 --drinks-per-hour 70 --wait-seconds 120 --share 0.9
[--drinks-per-round 1] [--handling-seconds 0] [--people N] [--json]`

The fewest people with whom this share of guests waits no longer than that, and how guests wait
then; with `--people` how they wait with so many, whether that is enough or not. An order is one
guest's round of so many drinks; see `measures.staffing` for the method. Where more comes in than
the people can make, everybody waits and the mean wait is null. Exit 2 with one line on stderr where
no bar has such an hour.
"""

from __future__ import annotations

import json
import math
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import CommandParser

from assessments.measures.staffing import (
    MOST_PEOPLE,
    Aim,
    Demand,
    Wait,
    seconds_an_order,
    staff_for,
    wait_with,
)
from barcourse.people.management.asking import AskingCommand
from recipes.management.asking import house_named, refused

DIGITS = 6
ASKED = ("--orders-per-hour", "--drinks-per-hour", "--wait-seconds", "--share")


class Command(AskingCommand):
    help = "Says how many people an hour of orders needs, and how long guests wait."

    def add_arguments(self, parser: CommandParser | ArgumentParser) -> None:
        for name in ASKED:
            parser.add_argument(name, required=True)
        parser.add_argument("--drinks-per-round", default="1")
        parser.add_argument("--handling-seconds", default="0")
        parser.add_argument("--people", help="how guests wait with so many")
        parser.add_argument("--venue", default="", help="slug of the house; changes nothing")
        parser.add_argument("--json", action="store_true", dest="as_json")

    def handle(self, *args: Any, as_json: bool, **options: Any) -> None:
        if options["venue"]:
            house_named(options["venue"])
        try:
            found = _answer(options)
        except ValueError as bad:
            raise refused(f"No bar has such an hour: {bad}.") from None
        said = _values(found)
        self.stdout.write(json.dumps(said) if as_json else _text(found))


def _answer(options: dict[str, Any]) -> Wait:
    said = {name: _number(options[name]) for name in _NUMBERS}
    takes = seconds_an_order(
        said["drinks_per_hour"], said["drinks_per_round"], said["handling_seconds"]
    )
    demand = Demand(said["orders_per_hour"], takes)
    aim = Aim(said["wait_seconds"], said["share"])
    if options["people"] is None:
        return staff_for(demand, aim)
    return wait_with(demand, _people(options["people"]), aim.wait_seconds)


_NUMBERS = (
    "orders_per_hour", "drinks_per_hour", "wait_seconds", "share", "drinks_per_round",
    "handling_seconds",
)  # fmt: skip


def _number(said: Any) -> float:
    try:
        number = float(said)
    except ValueError:
        number = math.nan
    if not math.isfinite(number):
        raise refused(f"{said!r} is no number.")
    return number


def _people(said: Any) -> int:
    number = _number(said)
    if not (number.is_integer() and 0 <= number <= MOST_PEOPLE):
        raise refused(f"{said!r} is no number of people up to {MOST_PEOPLE}.")
    return int(number)


def _values(found: Wait) -> dict[str, Any]:
    mean = found.mean_wait_seconds
    return {
        "people": found.people,
        "chance_of_waiting": round(found.chance_of_waiting, DIGITS),
        "mean_wait_seconds": None if mean is None else round(mean, DIGITS),
        "share_within": round(found.share_within, DIGITS),
    }


def _text(found: Wait) -> str:
    if found.mean_wait_seconds is None:
        who = f"{_people_said(found.people)} can't make" if found.people else "Nobody makes"
        return f"{who} what comes in: the queue grows all hour."
    if not found.chance_of_waiting and not found.people:
        return "Nobody: no orders come in."
    return (
        f"{_people_said(found.people)}: {100 * found.chance_of_waiting:.1f} of 100 guests wait, "
        f"{found.mean_wait_seconds:.0f} s on average over all; "
        f"{100 * found.share_within:.1f} of 100 wait no longer than you said."
    )


def _people_said(people: int) -> str:
    return "One person" if people == 1 else f"{people} people"
