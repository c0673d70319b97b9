"""`manage.py import_recipes FILE [--venue SLUG] [--dry-run] [--add-ingredients] [--new-names]
[--json]`

Takes in the recipes of a sheet (CSV, XLSX or ODS), all of them or none. Columns: name, module,
glass, ice, method, ingredients, garnish, aliases, and if you like price, share, must_know, poured;
only name and ingredients are needed. Exit 0:
taken in, or with `--dry-run` could be. 2: not; every bad row stands on a line of stderr with its
line and its reason, or in the JSON. It is written in the name of the house's owner.
"""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser
from django.utils import timezone

from barcourse.people.models import Membership
from recipes.grammar.reasons import CannotBuild
from recipes.grammar.sheet_text import Sheet
from recipes.grammar.strength import strength
from recipes.import_words import named, sheet_problems, why
from recipes.importing import ENCODINGS, received
from recipes.management.asking import house_named, menu_of, owner_of, refused
from recipes.publish_import import (
    CannotImport,
    Imported,
    Outcome,
    Taken,
    import_recipes,
    rehearse_import,
)


class Command(BaseCommand):
    help = "Takes in the recipes of a sheet: all of them, or none and every reason."

    def add_arguments(self, parser: CommandParser | ArgumentParser) -> None:
        parser.add_argument("file", type=Path)
        parser.add_argument("--venue", default="", help="slug of the house (default: the only one)")
        parser.add_argument("--dry-run", action="store_true", help="only say what would be done")
        parser.add_argument(
            "--add-ingredients", action="store_true", help="take unknown ingredients in as new"
        )
        parser.add_argument(
            "--new-names",
            action="store_true",
            help="a name that is nearly that of a drink in the book is a new drink",
        )
        parser.add_argument("--encoding", choices=ENCODINGS, help="where it is found out wrongly")
        parser.add_argument("--json", action="store_true", dest="as_json")

    def handle(self, *args: Any, as_json: bool, **options: Any) -> None:
        house, at = house_named(options["venue"]), timezone.now()
        menu_of(house, at)
        by = owner_of(house, at)
        sheet, encoding = _read(options["file"], options["encoding"])
        dry = options["dry_run"]
        how = {name: options[name] for name in ("add_ingredients", "new_names")}
        found = _taken_in(by, sheet, at, how, dry)
        taken_in = not dry and not found.refused
        if as_json:
            said = _values(found, encoding) | {"dry_run": dry, "taken_in": taken_in}
            self.stdout.write(json.dumps(said, ensure_ascii=False))
        elif not found.refused:
            self.stdout.write(_text(found, dry))
        if found.refused:
            _tell(found, as_json)
            sys.exit(2)


def _read(path: Path, encoding: str | None) -> tuple[Sheet, str]:
    try:
        return received(path.read_bytes()).sheet(encoding)
    except OSError as bad:
        raise refused(f"{path}: {bad.strerror}.") from None
    except CannotBuild as bad:
        raise refused(f"{path}: {' '.join(sheet_problems(bad.reasons))}") from None


def _taken_in(
    by: Membership, sheet: Sheet, at: Any, how: Mapping[str, bool], dry: bool
) -> Imported:
    """Also where rows are refused: what became of each."""
    if dry:
        return rehearse_import(by=by, sheet=sheet, at=at, **how)
    try:
        return import_recipes(by=by, sheet=sheet, at=at, **how)
    except CannotImport as bad:
        return bad.imported


def _values(found: Imported, encoding: str) -> dict[str, Any]:
    return {
        **{o.value: [row.slug for row in found.of(o)] for o in Outcome if o is not Outcome.REFUSED},
        "drinks": [_drink(row, found) for row in found.rows if row.outcome is not Outcome.REFUSED],
        "ingredients": [
            {"slug": i.slug, "name": i.name, "kind": i.kind, "abv": i.abv}
            for i in found.ingredients
        ],
        "unknown_ingredients": list(found.unknown),
        "ignored_columns": list(found.ignored),
        "encoding": encoding,
        "problems": [
            {"line": row.line, "name": row.name, "code": reason.code, "says": says}
            for row in found.refused
            for reason, says in zip(row.reasons, why(row, found.menu), strict=True)
        ],
    }


def _drink(row: Taken, found: Imported) -> dict[str, Any]:
    """With its strength; null for a drink that is not poured."""
    item = found.menu.by_slug.get(row.slug)
    told: dict[str, Any] = {"line": row.line, "slug": row.slug, "outcome": row.outcome.value}
    if item is None:
        return {**told, "strength": None}
    strong = strength(item.drink.spec, found.menu.pantry, found.menu.venue.country)
    return {**told, "strength": {k: round(v, 3) for k, v in vars(strong).items()}}


def _text(found: Imported, dry: bool) -> str:
    head = "Would be taken in" if dry else "Taken in"
    counts = ", ".join(f"{len(found.of(o))} {o.value}" for o in Outcome if o is not Outcome.REFUSED)
    new = [
        f"New ingredient: {i.name} ({i.kind.replace('_', ' ')}, {i.abv:g} %; read its label)"
        for i in found.ingredients
    ]
    ignored = [f"Column not read: {column}" for column in found.ignored]
    return "\n".join([f"{head}: {counts}.", *new, *ignored])


def _tell(found: Imported, as_json: bool) -> None:
    """In JSON everything is said already, so one line; else a line a reason."""
    if as_json:
        print(f"Nothing was taken in: {len(found.refused)} rows can't be.", file=sys.stderr)
        return
    for row in found.refused:
        for says in why(row, found.menu):
            print(f"{named(row)}: {says}", file=sys.stderr)
    for column in found.ignored:
        print(f"Column not read: {column}", file=sys.stderr)
    if found.unknown:
        print(f"Unknown ingredients: {', '.join(found.unknown)}.", file=sys.stderr)
