"""`manage.py read_call "double tall vodka cran, no ice" [--venue SLUG] [--json]`

What a call means at this house, tonight: every drink with its build, what has to be asked back,
what could not be placed. Exit 0 on any call: an empty one, or one of more than is
read at once, is answered too, as one that nobody understands. 2 where there is no such house.
"""

from __future__ import annotations

import json
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import CommandParser
from django.utils import timezone

from barcourse.people.management.asking import AskingCommand
from recipes.hearing import as_json as told
from recipes.hearing import hear_on
from recipes.management.asking import house_named, menu_of
from recipes.off_tonight import Tonight, standing
from recipes.words_hearing import reading_lines


class Command(AskingCommand):
    help = "Reads what a guest says: the drinks, what to ask, what could not be placed."

    def add_arguments(self, parser: CommandParser | ArgumentParser) -> None:
        parser.add_argument("call")
        parser.add_argument("--venue", default="", help="slug of the house (default: the only one)")
        parser.add_argument("--json", action="store_true", dest="as_json")

    def handle(self, *args: Any, call: str, as_json: bool, **options: Any) -> None:
        house, at = house_named(options["venue"]), timezone.now()
        menu = menu_of(house, at)
        reading = hear_on(call, menu, Tonight(menu, standing(house)))
        if as_json:
            self.stdout.write(json.dumps(told(reading, menu), ensure_ascii=False))
        else:
            self.stdout.write("\n".join(reading_lines(reading, menu)))
