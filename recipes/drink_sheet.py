"""Everything that the house book says of one drink, in words, ready to be shown."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.formats import number_format
from django.utils.translation import gettext as _

from recipes.grammar import stamped
from recipes.grammar.aspects import Aspect, Content, contents
from recipes.grammar.house_spec import HousePart, HouseSpec, Origin
from recipes.grammar.lookalikes import nearest, one_build, twins
from recipes.grammar.spec import How
from recipes.grammar.steps import build_steps
from recipes.grammar.strength import MODAL_STANDARD_DRINK_G, STANDARD_DRINK_G, strength
from recipes.in_effect import holding_at, waiting
from recipes.menu import Menu, MenuDrink
from recipes.models import Recipe, Revision
from recipes.rules_sheet import rule_of
from recipes.wording import (
    aspect_words,
    label,
    name_of,
    part_words,
    step_words,
    volume_words,
)
from recipes.words_amounts import measure_words
from recipes.words_mixers import aspect_label


@dataclass(frozen=True)
class AspectSheet:
    """An aspect in words, and what of it a house rule decides."""

    label: str
    lines: tuple[str, ...]
    by_rule: str


_HOUSE_PART = "; the house"
"""Where a shipped note stops telling the list and begins to tell how the course differs."""


def on_the_list(item: MenuDrink) -> str:
    """How an international list has the drink. How the house differs is told only as long as it
    pours what the course shipped: of a build of its own the note knows nothing."""
    listed = item.recipe.listed
    if not listed:
        return ""
    said: str = listed["differs"]
    if item.revision.number == 1 or _HOUSE_PART not in said:
        return said
    return said.partition(_HOUSE_PART)[0] + "."


def off_measure(item: MenuDrink, menu: Menu) -> list[str]:
    """Each spirit of the drink that is no whole stamped measure, though it would have to be."""
    return [
        _("%(amount)s of %(spirit)s is no whole measure: yours is %(measure)s.")
        % {
            "amount": measure_words(part.ml or 0.0, menu.rules.country),
            "spirit": name_of(part.ingredient, menu.names),
            "measure": measure_words(_measure_of(part, menu), menu.rules.country),
        }
        for part in stamped.off_measure(item.drink.spec, menu.rules, menu.pantry)
    ]


def drinks_off_measure(menu: Menu) -> list[MenuDrink]:
    """Drinks of the menu with such a spirit, as they stand on it."""
    return [i for i in menu.items if stamped.off_measure(i.drink.spec, menu.rules, menu.pantry)]


def _measure_of(part: HousePart, menu: Menu) -> float:
    return menu.rules.pours[menu.pantry[part.ingredient].liquor_class].ml


@dataclass(frozen=True)
class StepSheet:
    does: str
    why: str
    fails: bool


@dataclass(frozen=True)
class Difference:
    """`why` names the garnish rule that makes it so there, where one does."""

    label: str
    here: str
    there: str
    why: str = ""


@dataclass(frozen=True)
class Alike:
    """A drink that is easily taken for this one, and every aspect in which it differs: none where
    the two are one build."""

    recipe: Recipe
    differences: tuple[Difference, ...]


@dataclass(frozen=True)
class Strong:
    """Estimates for training, in words: never a ground to serve or to drive."""

    abv: str
    volume: str
    grams: str
    standard_drinks: str
    standard_grams: str


@dataclass(frozen=True)
class RevisionSheet:
    """`waits`: it takes effect later, and will change something then."""

    revision: Revision
    state: str
    waits: bool = False


def aspects(item: MenuDrink, menu: Menu) -> list[AspectSheet]:
    held = contents(item.drink.spec)
    return [
        AspectSheet(
            aspect_label(aspect, item.drink.spec, menu.pantry),
            tuple(_lines(aspect, held[aspect], item, menu)),
            _by_rule(aspect, item.drink.spec, menu),
        )
        for aspect in Aspect
    ]


def steps(item: MenuDrink, menu: Menu) -> list[StepSheet]:
    country, glasses = menu.rules.country, menu.glass_names
    return [
        StepSheet(*step_words(step, glass_names=glasses, country=country), fails=step.fails)
        for step in build_steps(item.drink.spec, menu.pantry)
    ]


def alike(item: MenuDrink, menu: Menu, count: int = 3) -> list[Alike]:
    """Drinks of the same build first, then the nearest, each with what differs."""
    others = [d for d in menu.drinks if not one_build(d, item.drink)]
    found = [menu.by_slug[d.slug] for d in nearest(item.drink, others, count)]
    near = [Alike(other.recipe, differences(item, other, menu)) for other in found]
    return [Alike(twin, ()) for twin in same_as(item, menu)] + near


def same_as(item: MenuDrink, menu: Menu) -> list[Recipe]:
    """Drinks on the menu under another name that are built the same."""
    return [menu.by_slug[d.slug].recipe for d in twins(item.drink, menu.drinks)]


def _label_of_both(aspect: Aspect, here: MenuDrink, there: MenuDrink, menu: Menu) -> str:
    mine, theirs = (aspect_label(aspect, i.drink.spec, menu.pantry) for i in (here, there))
    return mine if mine == theirs else label(aspect)


def differences(here: MenuDrink, there: MenuDrink, menu: Menu) -> tuple[Difference, ...]:
    mine, theirs = contents(here.drink.spec), contents(there.drink.spec)
    return tuple(
        Difference(
            _label_of_both(aspect, here, there, menu),
            ", ".join(_lines(aspect, mine[aspect], here, menu)),
            ", ".join(_lines(aspect, theirs[aspect], there, menu)),
            _why(aspect, here, there, menu),
        )
        for aspect in Aspect
        if here.drink.fingerprints[aspect] != there.drink.fingerprints[aspect]
    )


def strong(item: MenuDrink, menu: Menu) -> Strong:
    """Standard drinks are those of the country that the house stands in."""
    country = menu.venue.country
    found = strength(item.drink.spec, menu.pantry, country)
    return Strong(
        abv=number_format(f"{found.abv_percent:.1f}"),
        volume=volume_words(found.volume_ml, menu.rules.country),
        grams=number_format(f"{found.ethanol_g:.1f}"),
        standard_drinks=number_format(f"{found.standard_drinks:.1f}"),
        standard_grams=number_format(
            f"{STANDARD_DRINK_G.get(country, MODAL_STANDARD_DRINK_G):.4g}"
        ),
    )


def revisions(recipe: Recipe, at: dt.datetime) -> list[RevisionSheet]:
    """All revisions, newest first, each with whether it holds, waits or is past."""
    rows = list(recipe.revisions.with_publisher().newest_first())
    now = holding_at(rows, at)
    coming, later = changing(rows, at), waiting(rows, at)
    return [
        RevisionSheet(
            row, _("holds now") if row == now else _state(row, coming, later, at), row in coming
        )
        for row in rows
    ]


def changing(rows: Sequence[Revision], at: dt.datetime) -> list[Revision]:
    """What waits and will change the build when it takes effect, soonest first; not what only
    stands there so that the build stays."""
    found, before = [], holding_at(rows, at)
    for row in waiting(rows, at):
        if before is None or row.build != before.build:
            found.append(row)
        before = row
    return found


def _state(
    row: Revision, coming: Sequence[Revision], later: Sequence[Revision], at: dt.datetime
) -> str:
    if row.takes_effect_at <= at:
        return _("past")
    if row not in later:
        return _("taken back or replaced before it came")
    return _("waits") if row in coming else _("keeps the build as it is")


def _lines(aspect: Aspect, content: Content, item: MenuDrink, menu: Menu) -> list[str]:
    country = menu.rules.country
    poured = [p for p in item.drink.spec.parts if p.how not in (How.TOP, How.MUDDLED)]
    if aspect is Aspect.POURS and poured:
        lines = [
            part_words(p.amount or 0.0, p.unit, menu.names[p.ingredient], p.ml, country)
            for p in poured
        ]
        return lines + ([_("alcohol-free")] if item.drink.spec.alcohol_free else [])
    return aspect_words(aspect, content, menu.names, menu.glass_names, country)


def _why(aspect: Aspect, here: MenuDrink, there: MenuDrink, menu: Menu) -> str:
    spec = there.drink.spec
    if aspect is not Aspect.FINISH or here.drink.spec.garnish == spec.garnish:
        return ""
    return _by_rule(aspect, spec, menu)


def _by_rule(aspect: Aspect, spec: HouseSpec, menu: Menu) -> str:
    origins = spec.origins
    if aspect is Aspect.GLASS and origins.glass is Origin.RULE:
        return _("by house rule")
    if aspect is Aspect.METHOD and origins.ice is Origin.RULE:
        return _("ice by house rule")
    if aspect is Aspect.FINISH and origins.garnish_rule:
        return _("garnish by %(rule)s") % {"rule": rule_of(spec, menu)}
    return ""
