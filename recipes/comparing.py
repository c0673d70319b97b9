"""Two revisions of a drink side by side, aspect by aspect."""

from __future__ import annotations

from dataclasses import dataclass, replace

from django.utils.translation import gettext as _

from recipes import drink_sheet
from recipes.grammar.aspects import Aspect
from recipes.grammar.drink import make_drink
from recipes.grammar.refusals import problems
from recipes.in_effect import holding_at
from recipes.menu import Menu, MenuDrink
from recipes.models import Revision, RulesVersion
from recipes.saying import sentences


@dataclass(frozen=True)
class Side:
    """One revision under one version of the rules. No `item` where those can't build it."""

    revision: Revision
    menu: Menu
    item: MenuDrink | None
    why_not: tuple[str, ...] = ()

    @property
    def rules(self) -> int:
        return self.menu.rules_version.number


@dataclass(frozen=True)
class Column:
    number: int
    lines: tuple[str, ...]


@dataclass(frozen=True)
class Pair:
    """An aspect on both sides. `differs` goes by content, not by the words it is told in."""

    label: str
    columns: tuple[Column, Column]
    differs: bool


def side(revision: Revision, menu: Menu, *, under_rules_of_then: bool, mark: str) -> Side:
    """`mark` tells the two drawings of a page apart."""
    if under_rules_of_then:
        menu = _of_then(revision, menu)
    recipe, build = revision.recipe, revision.build
    alcohol = recipe.module.alcohol
    reasons = problems(build, menu.rules, menu.pantry, alcohol_module=alcohol)
    if reasons:
        return Side(revision, menu, None, tuple(sentences(reasons, menu)))
    drink = make_drink(
        slug=f"{recipe.slug}-{mark}", name=recipe.name, module=recipe.module.slug, spec=build,
        rules=menu.rules, pantry=menu.pantry,
    )  # fmt: skip
    return Side(revision, menu, MenuDrink(recipe, revision, drink))


def pairs(left: Side, right: Side) -> list[Pair]:
    """Every aspect in the order of a build; nothing where a side can't be built."""
    if left.item is None or right.item is None:
        return []
    mine, theirs = left.item.drink.fingerprints, right.item.drink.fingerprints
    sheets = zip(
        Aspect,
        drink_sheet.aspects(left.item, left.menu),
        drink_sheet.aspects(right.item, right.menu),
        strict=True,
    )
    return [
        Pair(
            here.label,
            (_column(left, here), _column(right, there)),
            mine[aspect] != theirs[aspect],
        )
        for aspect, here, there in sheets
    ]


def _column(side: Side, sheet: drink_sheet.AspectSheet) -> Column:
    return Column(side.revision.number, sheet.lines)


def _of_then(revision: Revision, menu: Menu) -> Menu:
    """The rules that held when the revision began to count. Stock and names are today's."""
    versions = list(RulesVersion.objects.in_house(menu.venue))
    version = holding_at(versions, revision.takes_effect_at)
    if version is None:
        return menu
    return replace(menu, rules_version=version, rules=version.house_rules)


def title(revision: Revision) -> str:
    return _("Revision %(number)s") % {"number": revision.number}
