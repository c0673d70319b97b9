"""The shipped course and the demo house, safe to run again; prints who can sign in."""

from __future__ import annotations

import json
from typing import Any

from django.conf import settings
from django.core.management.base import CommandError, CommandParser
from django.utils import timezone

from barcourse.demo.house import OWNER, PASSWORD, STAFF, Hand
from barcourse.demo.seed import seed
from barcourse.people.management.asking import AskingCommand


class Command(AskingCommand):
    help = "Loads the shipped course and the demo house. Only with BARCOURSE_DEMO=1."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--json", action="store_true", help="print JSON")

    def handle(self, *args: Any, **options: Any) -> None:
        if not settings.DEMO:
            raise CommandError("The demo house is only for BARCOURSE_DEMO=1.", returncode=2)
        house = seed(timezone.now())
        hands = (OWNER, *STAFF)
        if options["json"]:
            said = [{"name": h.name, "role": h.role.value, "sign_in": h.sign_in} for h in hands]
            self.stdout.write(
                json.dumps({"house": house.slug, "password": PASSWORD, "people": said})
            )
            return
        self.stdout.write(f"{house.name} is open. Everybody's password: {PASSWORD}")
        for hand in hands:
            self.stdout.write(_line(hand))


def _line(hand: Hand) -> str:
    return f"  {hand.role.value:<8} {hand.sign_in:<8} ({hand.name})"
