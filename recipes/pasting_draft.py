"""What is typed or proposed of a new drink on the form of a pasted menu, and whether it can be
built."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from barcourse.people.models import Membership
from barcourse.people.reasons import Refused
from recipes.grammar.course import fold
from recipes.grammar.glass_fit import in_fitted_glass
from recipes.grammar.ingredients import Ingredient, Kind, Pantry
from recipes.grammar.kinds import TYPICAL_ABV, kind_of, new_ingredient, slug_of
from recipes.grammar.lines import read_garnish, read_parts
from recipes.grammar.menu_lines import Match
from recipes.grammar.near import near
from recipes.grammar.reasons import CannotBuild
from recipes.grammar.refusals import read_spec
from recipes.grammar.sheet_cells import spoken_parts
from recipes.menu import Menu
from recipes.publish_import import build_of
from recipes.publish_ingredients import Stock, add_ingredient

Said = Mapping[str, str]
_UNKNOWN = frozenset({"unknown_ingredient", "misspelt_ingredient"})


@dataclass(frozen=True)
class Prefilled:
    """What stands in the fields of a new drink at first: nothing that would be refused. `stock`:
    with the ingredients that it takes in as new."""

    parts: str = ""
    garnish: str = ""
    stock: bool = False


def prefilled(match: Match, menu: Menu) -> Prefilled:
    slugs = [slug for slug in match.garnish.split(";") if slug in menu.pantry]
    garnish = "; ".join(menu.pantry[slug].name for slug in slugs)
    parts = "\n".join(match.draft)
    if not parts:
        return Prefilled()
    news = {i.slug: i for name in match.unread if (i := new_ingredient(name, set(menu.pantry)))}
    pantry = {**menu.pantry, **news}
    for on_it in dict.fromkeys((garnish, "")):
        try:
            read_spec(typed_spec(parts, on_it, {}, menu, pantry), menu.rules, pantry)
        except CannotBuild:
            continue
        return Prefilled(parts, on_it, bool(news))
    return Prefilled()


def typed_spec(
    parts: str, garnish: str, more: Mapping[str, str], menu: Menu, pantry: Pantry
) -> dict[str, Any]:
    """The recipe as it was typed, in the smallest glass that holds it where none was chosen.
    Raises `CannotBuild`."""
    lines, alcohol_free = spoken_parts(parts)
    said: dict[str, Any] = {
        "parts": read_parts("\n".join(lines), pantry),
        "garnish": read_garnish(garnish, pantry),
        "alcohol_free": alcohol_free,
        **{field: value for field, value in more.items() if value},
    }
    fitted = in_fitted_glass(build_of(said), menu.rules, pantry)
    return {**said, "glass": fitted.glass, "ice": fitted.ice}


def unknown_in(parts: str, garnish: str, pantry: Pantry) -> list[str]:
    """Names that are nothing of the house's and that nobody could have meant by a slip."""
    names = {fold(n): slug for slug, i in pantry.items() for n in (slug, i.name, *i.aliases)}
    found: list[str] = []
    for line in spoken_parts(parts)[0]:
        found += _unknown(line, pantry, garnish=False)
    for line in garnish.split(";"):
        found += _unknown(line, pantry, garnish=True)
    return [name for name in dict.fromkeys(found) if not near(name, names)]


def _unknown(line: str, pantry: Pantry, *, garnish: bool) -> Iterable[str]:
    try:
        read_garnish(line, pantry) if garnish else read_parts(line, pantry)
    except CannotBuild as bad:
        for reason in bad.reasons:
            if reason.code in _UNKNOWN:
                values = reason.values
                yield str(values.get("said", values["ingredient"])).removeprefix("of ")


def as_stock(name: str, kind: Kind | None) -> Ingredient | None:
    """`kind` where the name tells none; None where nobody says."""
    if kind_of(name) is not None or kind is None:
        return new_ingredient(name, set())
    return Ingredient(
        slug=slug_of(name) or kind.value.replace("_", "-"),
        name=name[:80],
        kind=kind,
        abv=TYPICAL_ABV.get(kind, 0.0),
    )


def take_in(by: Membership, items: Iterable[Ingredient], at: dt.datetime) -> None:
    """One whose name something else has stays unknown."""
    for item in items:
        stock = Stock(name=item.name, kind=item.kind, abv=item.abv, colour=item.colour)
        try:
            add_ingredient(by=by, stock=stock, at=at)
        except Refused:
            continue
