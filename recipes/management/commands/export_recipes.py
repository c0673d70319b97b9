"""`manage.py export_recipes [--venue SLUG]`: every recipe of the house as CSV on stdout.

The columns are those of `import_recipes`, which reads it back without a change.
"""

from __future__ import annotations

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import CommandParser
from django.utils import timezone

from barcourse.people.management.asking import AskingCommand
from recipes.exporting import recipes_sheet
from recipes.management.asking import house_named


class Command(AskingCommand):
    help = "Writes every recipe of the house as CSV."

    def add_arguments(self, parser: CommandParser | ArgumentParser) -> None:
        parser.add_argument("--venue", default="", help="slug of the house (default: the only one)")

    def handle(self, *args: Any, **options: Any) -> None:
        sheet = recipes_sheet(house_named(options["venue"]), timezone.now())
        self.stdout.write(sheet, ending="")
