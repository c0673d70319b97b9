"""`manage.py import_recipes FILE [--venue SLUG] [--dry-run] [--add-ingredients] [--new-names]
[--same NAME=SLUG] [--json]`

Takes in the recipes of a sheet (CSV, XLSX or ODS), all of them or none. Columns: name, module,
glass, ice, method, ingredients, garnish, aliases, and if you like price, share, must_know, poured;
only name and ingredients are needed. Exit 0:
taken in, or with `--dry-run` could be. 2: not; every bad row stands on a line of stderr with its
line and its reason, or in the JSON, where nothing is then added, changed or unchanged. It is
written in the name of the house's owner.
"""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import CommandParser
from django.utils import timezone

from barcourse.people.management.asking import AskingCommand
from barcourse.people.models import Membership, Venue
from recipes.grammar.course import fold
from recipes.grammar.reasons import CannotBuild
from recipes.grammar.sheet_text import Sheet
from recipes.grammar.strength import strength
from recipes.import_words import named, sheet_problems, why
from recipes.imported import CannotImport, Imported, Outcome, Taken
from recipes.importing import ENCODINGS, received
from recipes.management.asking import house_named, menu_of, owner_of, refused
from recipes.models import Recipe
from recipes.publish_import import import_recipes, rehearse_import


class Command(AskingCommand):
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
        parser.add_argument(
            "--same",
            action="append",
            default=[],
            metavar="NAME=SLUG",
            help="this name of the sheet is that drink of the book (may be said several times)",
        )
        parser.add_argument("--encoding", choices=ENCODINGS, help="where it is found out wrongly")
        parser.add_argument("--json", action="store_true", dest="as_json")

    def handle(self, *args: Any, as_json: bool, **options: Any) -> None:
        house, at = house_named(options["venue"]), timezone.now()
        menu_of(house, at)
        by = owner_of(house, at)
        dry = options["dry_run"]
        try:
            sheet, encoding = _read(options["file"], options["encoding"])
        except CannotBuild as bad:
            self._refuse(options["file"], bad, dry, as_json)
        how: dict[str, Any] = {n: options[n] for n in ("add_ingredients", "new_names")}
        how["meant"] = _meant(options["same"], house)
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

    def _refuse(self, path: Path, bad: CannotBuild, dry: bool, as_json: bool) -> NoReturn:
        """What is no sheet of recipes at all."""
        says = sheet_problems(bad.reasons)
        if as_json:
            problems = [
                {"line": r.values.get("line"), "name": "", "code": r.code, "says": said}
                for r, said in zip(bad.reasons, says, strict=True)
            ]
            told = {**_NOTHING, "encoding": "", "problems": problems}
            said = told | {"dry_run": dry, "taken_in": False}
            self.stdout.write(json.dumps(said, ensure_ascii=False))
        raise refused(f"{path}: {' '.join(says)}")


def _read(path: Path, encoding: str | None) -> tuple[Sheet, str]:
    """Raises `CannotBuild` for what is no sheet of recipes."""
    try:
        return received(path.read_bytes()).sheet(encoding)
    except OSError as bad:
        raise refused(f"{path}: {bad.strerror}.") from None


def _meant(said: list[str], house: Venue) -> dict[str, str]:
    slugs = set(Recipe.objects.in_house(house).values_list("slug", flat=True))
    found = {}
    for pair in said:
        name, _sign, slug = pair.rpartition("=")
        if not fold(name):
            raise refused(f"--same {pair!r}: write NAME=SLUG.")
        if slug not in slugs:
            raise refused(f"--same {pair!r}: there is no drink {slug!r} in the book.")
        found[fold(name)] = slug
    return found


def _taken_in(by: Membership, sheet: Sheet, at: Any, how: Mapping[str, Any], dry: bool) -> Imported:
    """Also where rows are refused: what became of each."""
    if dry:
        return rehearse_import(by=by, sheet=sheet, at=at, **how)
    try:
        return import_recipes(by=by, sheet=sheet, at=at, **how)
    except CannotImport as bad:
        return bad.imported


_TAKEN = tuple(o for o in Outcome if o is not Outcome.REFUSED)
_LISTS = ("drinks", "ingredients", "unknown_ingredients", "ignored_columns")
_NOTHING: dict[str, Any] = {
    **{outcome.value: [] for outcome in _TAKEN},
    **{name: [] for name in _LISTS},
}


def _values(found: Imported, encoding: str) -> dict[str, Any]:
    rows = () if found.refused else found.rows
    return {
        **{o.value: [row.slug for row in rows if row.outcome is o] for o in _TAKEN},
        "drinks": [_drink(row, found) for row in rows],
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
    if row.glass:
        told["glass_chosen"] = row.glass
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
    new += [
        f"{named(row)}: in the {found.menu.glass_names[row.glass]}, the usual glass is too small."
        for row in found.rows
        if row.glass and row.outcome is not Outcome.UNCHANGED
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
