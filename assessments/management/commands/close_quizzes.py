"""`manage.py close_quizzes [--venue SLUG] [--json]`

Closes every quiz, try-out and rush whose time is up and whose hire has not come back to see how it
went: what was answered counts as of the moment its time ended, and the rest has no answer, just as
if they had opened it. Made to be run every night; twice is once. Without `--venue` it closes those
of every house on this machine. `--json` gives `{"closed": [{"house", "person", "what", "ended"}]}`.
"""

from __future__ import annotations

import datetime as dt
import json
from argparse import ArgumentParser
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from typing import Any

from django.core.management.base import CommandParser
from django.utils import timezone

from assessments import record_calls, record_quiz
from assessments.models import CallRun, Quiz
from barcourse.people.management.asking import AskingCommand
from barcourse.people.models import Venue
from recipes.management.asking import house_named


@dataclass(frozen=True)
class Closed:
    """`person` is a code, `ended` a moment in ISO 8601."""

    house: str
    person: str
    what: str
    ended: str


class Command(AskingCommand):
    help = "Closes quizzes, try-outs and rushes whose time is up and that nobody came back to."

    def add_arguments(self, parser: CommandParser | ArgumentParser) -> None:
        parser.add_argument("--venue", default="", help="slug of the house (default: every house)")
        parser.add_argument("--json", action="store_true", dest="as_json")

    def handle(self, *args: Any, venue: str, as_json: bool, **options: Any) -> None:
        houses = [house_named(venue)] if venue else list(Venue.objects.order_by("slug"))
        at = timezone.now()
        closed = [row for house in houses for row in (*_quizzes(house, at), *_rushes(house, at))]
        if as_json:
            self.stdout.write(json.dumps({"closed": [asdict(row) for row in closed]}))
            return
        for row in closed:
            self.stdout.write(f"{row.house}: {row.what} of {row.person}, over since {row.ended}")
        self.stdout.write(f"Closed: {len(closed)}.")


def _quizzes(house: Venue, at: dt.datetime) -> Iterator[Closed]:
    rows = Quiz.objects.in_house(house).open().filter(ends_at__lt=at).select_related("hire")
    for quiz in rows.order_by("ends_at", "pk"):
        record_quiz.close_quiz(by=quiz.hire, quiz=quiz, at=at)
        yield _closed(house, quiz, "try-out" if quiz.plan.get("try_out") else "quiz")


def _rushes(house: Venue, at: dt.datetime) -> Iterator[Closed]:
    for run in CallRun.objects.in_house(house).open().select_related("hire").order_by("pk"):
        if run.is_over(at):
            record_calls.close_calls(by=run.hire, run=run, at=at)
            yield _closed(house, run, "rush")


def _closed(house: Venue, row: Quiz | CallRun, what: str) -> Closed:
    ended = row.ends_at.isoformat(timespec="seconds") if row.ends_at else ""
    return Closed(house.slug, row.hire.code, what, ended)
