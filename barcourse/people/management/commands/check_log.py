"""`manage.py check_log [--venue SLUG] [--head N:HASH] [--json]`: is the sealed log whole?

Exit 0: it is. 1: something is wrong, each finding on a line. 2: the question makes no sense.

Entries cut off at the end, with their rows, leave a shorter log that is whole: only a head printed
before shows it. Without one the answer says so, and `held_against` is null.
"""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser
from typing import Any, NoReturn

from django.core.management.base import CommandParser

from barcourse.people import log
from barcourse.people.management.asking import AskingCommand
from barcourse.people.models import Venue
from barcourse.people.reasons import Reason
from barcourse.people.wording import say

CUT = (
    "Whether its end was cut off shows only against a head printed before: check_log --head N:HASH."
)


class Command(AskingCommand):
    help = "Checks the sealed log of a house against itself and against the rows it speaks of."

    def add_arguments(self, parser: CommandParser | ArgumentParser) -> None:
        parser.add_argument("--venue", default="", help="slug of the house (default: the only one)")
        parser.add_argument("--head", default="", help="NUMBER:HASH from a printed paper")
        parser.add_argument("--json", action="store_true", dest="as_json")

    def handle(self, *args: Any, venue: str, head: str, as_json: bool, **options: Any) -> None:
        house, printed = _house(venue), _head(head)
        findings = log.check(house, printed)
        newest = log.head(house)
        print(
            _json(house, newest, findings, printed)
            if as_json
            else _text(house, newest, findings, printed)
        )
        if findings:
            sys.exit(1)


def _house(slug: str) -> Venue:
    houses = list(Venue.objects.filter(slug=slug) if slug else Venue.objects.all())
    if len(houses) == 1:
        return houses[0]
    if slug:
        _bad_input(f"There is no house {slug!r}.")
    slugs = ", ".join(f"--venue {house.slug}" for house in houses)
    return _bad_input(f"Say which house: {slugs}" if houses else "There is no house yet.")


def _head(text: str) -> log.Head | None:
    try:
        return log.Head.parse(text) if text else None
    except ValueError as error:
        return _bad_input(str(error))


def _bad_input(sentence: str) -> NoReturn:
    print(sentence, file=sys.stderr)
    sys.exit(2)


def _json(house: Venue, newest: log.Head, findings: list[Reason], printed: log.Head | None) -> str:
    found = [{"code": r.code, **dict(r.params), "says": say(r)} for r in findings]
    answer = {
        "venue": house.slug, "head": str(newest), "whole": not findings, "findings": found,
        "held_against": str(printed) if printed else None,
    }  # fmt: skip
    return json.dumps(answer, ensure_ascii=False)


def _text(house: Venue, newest: log.Head, findings: list[Reason], printed: log.Head | None) -> str:
    whole = f"{house.name}: {newest.number} entries, nothing wrong. Head {newest}"
    if printed:
        whole += f"\nThe printed head is entry {printed.number} of this log, unchanged."
    else:
        whole += f"\n{CUT}"
    return "\n".join(say(reason) for reason in findings) or whole
