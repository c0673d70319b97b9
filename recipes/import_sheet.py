"""What would come of a sheet of recipes, row by row, for whoever looks before taking it in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.translation import gettext as _

from recipes.drink_sheet import Difference, differences, same_as
from recipes.grammar.course import fold
from recipes.grammar.sheet_text import Sheet
from recipes.grammar.strength import strength
from recipes.import_words import named, why
from recipes.imported import Imported, Outcome, Taken
from recipes.menu import MenuDrink
from recipes.proposed import sign_revision
from recipes.publish_import import Meant
from recipes.strength_sheet import percent


@dataclass(frozen=True)
class NewDrink:
    """`abv` is empty for a drink that won't be poured. `twins` are drinks of the menu that are
    built the same under another name."""

    name: str
    abv: str
    glass: str
    twins: tuple[str, ...]


@dataclass(frozen=True)
class ChangedDrink:
    """`proposed` is signed for the page that says whose sign-offs a change touches; empty where
    that page can't be asked before the sheet is in, or nothing about the build changes."""

    name: str
    differences: tuple[Difference, ...]
    proposed: str


@dataclass(frozen=True)
class AskedName:
    """A name that is nearly that of a drink, with what may be said of it: value, words, chosen."""

    field: str
    said: str
    choices: tuple[tuple[str, str, bool], ...]


@dataclass(frozen=True)
class ImportSheet:
    refused: tuple[tuple[str, list[str]], ...]
    asked: tuple[AskedName, ...]
    added: tuple[NewDrink, ...]
    changed: tuple[ChangedDrink, ...]
    unchanged: int


def import_sheet(found: Imported, sent: Mapping[str, str]) -> ImportSheet:
    return ImportSheet(
        refused=tuple((named(row), why(row, found.menu)) for row in found.refused),
        asked=tuple(_asked(found, sent)),
        added=tuple(_new(row, found) for row in found.of(Outcome.ADDED)),
        changed=tuple(_changed(row, found) for row in found.of(Outcome.CHANGED)),
        unchanged=len(found.of(Outcome.UNCHANGED)),
    )


def meant_in(sent: Mapping[str, str], sheet: Sheet) -> Meant:
    """What was answered of names, by folded name; lines without an answer are left out."""
    said = {fold(row.cells["name"]): sent.get(f"name-{row.line}", "") for row in sheet.rows}
    return {
        name: "" if answer == "new" else answer.removeprefix("drink ")
        for name, answer in said.items()
        if answer == "new" or answer.startswith("drink ")
    }


def _asked(found: Imported, sent: Mapping[str, str]) -> list[AskedName]:
    """What was answered already stays on the page, so that it can be answered otherwise."""
    asked = []
    for row in found.rows:
        field = f"name-{row.line}"
        answer = sent.get(field, "")
        slugs = row.near or ((answer.removeprefix("drink "),) if answer else ())
        if not slugs:
            continue
        names = [(s, found.before.by_slug[s].recipe.name) for s in slugs
                 if s in found.before.by_slug]  # fmt: skip
        offered = [(f"drink {s}", _("This is %(drink)s") % {"drink": n}) for s, n in names]
        offered.append(("new", _("A new drink")))
        asked.append(
            AskedName(field, named(row), tuple((v, words, v == answer) for v, words in offered))
        )
    return asked


def _new(row: Taken, found: Imported) -> NewDrink:
    item = found.menu.by_slug.get(row.slug)
    abv = ""
    twins: tuple[str, ...] = ()
    if item is not None:
        twins = tuple(twin.name for twin in same_as(item, found.menu))
        held = strength(item.drink.spec, found.menu.pantry, found.menu.venue.country)
        abv = percent(held.abv_percent)
    return NewDrink(row.name, abv, _glass(row, found), twins)


def _glass(row: Taken, found: Imported) -> str:
    if not row.glass:
        return ""
    glass = found.menu.glass_names[row.glass]
    return _("in the %(glass)s: the usual glass is too small for it") % {"glass": glass}


def _changed(row: Taken, found: Imported) -> ChangedDrink:
    before = found.before.by_slug.get(row.slug)
    after = found.menu.by_slug.get(row.slug)
    if before is None or after is None:
        return ChangedDrink(row.name, (), "")
    told = differences(before, after, found.menu)
    return ChangedDrink(after.recipe.name, told, _proposed(row, before, found) if told else "")


def _proposed(row: Taken, before: MenuDrink, found: Imported) -> str:
    """A drink with an ingredient that only this sheet brings can't be published by itself yet."""
    parts = {str(p["ingredient"]) for p in row.spec.get("parts", ())}
    if not parts <= set(found.before.pantry):
        return ""
    return sign_revision(before.recipe, row.spec, None)
