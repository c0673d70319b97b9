"""A module on paper: what there is to know, every drink on the menu, the rules behind them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from recipes.drawing_words import describe
from recipes.grammar.drawing import draw
from recipes.menu import Menu, MenuDrink
from recipes.models import Module
from recipes.off_tonight import Tonight, standing
from recipes.off_words import line_of
from recipes.rules_in_notes import with_rules
from recipes.wording import drink_card

from .house_rules import RuleLines, rules_behind
from .mixed_up import MixedUp, easily_mixed_up
from .pdf import Paper, to_pdf

PICTURE = 40
"""How high a drink is drawn, in CSS pixels: little over a centimetre."""


@dataclass(frozen=True)
class DrinkRow:
    """A drink's row: its drawing, then glass, pours, mixers, finish and method, each in lines."""

    picture: SafeString
    name: str
    revision: int
    must_know: bool
    cells: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class HandoutFacts:
    """Everything that the handout says. `as_of` is when the newest thing on it took effect.

    `tonight` are lines about drinks of the module that are off, or made with a substitute, on the
    night it is printed; the rest of it stays as the book has it.
    """

    house: str
    module: str
    notes: str
    lessons: tuple[tuple[str, str], ...]
    heads: tuple[str, ...]
    drinks: tuple[DrinkRow, ...]
    mixed_up: tuple[MixedUp, ...]
    rules: tuple[RuleLines, ...]
    rules_version: int
    as_of: dt.datetime
    size: str = "a4"
    printed_on: dt.date | None = None  # the night that `tonight` speaks of
    tonight: tuple[str, ...] = ()


def facts_of(menu: Menu, module: Module, size: str = "") -> HandoutFacts:
    """`size` is "letter" or "a4"; the house's own paper unless said."""
    items = menu.of_module(module)
    tonight = _tonight(menu, items)
    drinks = [item.drink for item in items]
    dates = [menu.rules_version.takes_effect_at, *(i.revision.takes_effect_at for i in items)]
    cards = [drink_card(d, menu.names, menu.glass_names, menu.rules.country) for d in drinks]
    return HandoutFacts(
        house=menu.venue.name,
        module=module.name,
        notes=with_rules(module.notes, menu),
        lessons=tuple((x.name, with_rules(x.body, menu)) for x in module.lessons.all()),
        heads=tuple(label for label, _lines in cards[0]) if cards else (),
        drinks=tuple(_row(menu, i, card) for i, card in zip(items, cards, strict=True)),
        mixed_up=easily_mixed_up(menu, drinks),
        rules=rules_behind(menu, drinks),
        rules_version=menu.rules_version.number,
        as_of=menu.venue.local(max(dates)),
        size=size or menu.venue.paper_size,
        printed_on=menu.venue.business_day(menu.at) if tonight else None,
        tonight=tonight,
    )


def _tonight(menu: Menu, items: Sequence[MenuDrink]) -> tuple[str, ...]:
    rows = standing(menu.venue)
    if not rows:
        return ()
    found = Tonight(menu, rows)
    return tuple(line for item in items if (line := line_of(item, found)))


def _row(menu: Menu, item: MenuDrink, card: list[tuple[str, list[str]]]) -> DrinkRow:
    spec, pantry = item.drink.spec, menu.pantry
    title = describe(spec, pantry, menu.names, menu.glass_names)
    return DrinkRow(
        picture=SafeString(draw(spec, pantry, title=title, height=PICTURE)),  # safe: it escapes
        name=item.drink.name,
        revision=item.revision.number,
        must_know=item.drink.must_know,
        cells=tuple(tuple(lines) for _label, lines in card),
    )


def handout_pdf(facts: HandoutFacts) -> bytes:
    title = _("%(module)s: handout of %(house)s") % {"module": facts.module, "house": facts.house}
    return to_pdf(
        Paper(
            template="papers/paper/handout.html",
            styles=("paged.css", "handout.css"),
            size=facts.size,
            title=title,
            dated=facts.as_of.isoformat(timespec="seconds"),
            context={"facts": facts, "house": facts.house},
        )
    )
