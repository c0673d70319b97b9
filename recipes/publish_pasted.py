"""A menu that was pasted becomes the menu of the house: all of it, or nothing and every reason."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from django.db import transaction

from barcourse.people import log
from barcourse.people.models import Membership, Venue
from barcourse.people.reasons import Reason as PeopleReason
from barcourse.people.reasons import Refused
from recipes.grammar.calls import Book
from recipes.grammar.course import fold
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.rules import family
from recipes.menu import menu_at
from recipes.models import Module, Recipe
from recipes.naming import words_at
from recipes.publish import OnMenu, set_menu
from recipes.publish_import import build_of, module_of_its_like
from recipes.publish_recipes import Card, add_recipe, change_card

CODES = frozenset({"menu_empty"})


@dataclass(frozen=True)
class Sold:
    """One line of the menu. With a `slug` it is that drink, and `name`, unless empty, becomes
    another name of it; without one it is a new drink of this name, built as `spec` says, in the
    module with the slug `module`, or, where that is empty, where its like are."""

    line: int
    slug: str | None
    name: str
    price: Decimal | None
    must_know: bool
    spec: Mapping[str, Any] = field(default_factory=dict)
    module: str = ""


@dataclass(frozen=True)
class Pasted:
    """New drinks, and those whose standing on the menu changed."""

    added: tuple[Recipe, ...]
    changed: tuple[Recipe, ...]


class CannotPaste(ValueError):  # noqa: N818  # it is no error of the program
    """Reasons by line; nothing was written. Line 0: they are of the menu as a whole."""

    def __init__(self, reasons: Mapping[int, tuple[Reason | PeopleReason, ...]]) -> None:
        super().__init__(f"{len(reasons)} lines refused")
        self.reasons = reasons


@transaction.atomic
def take_menu(*, by: Membership, sold: Sequence[Sold], drop_rest: bool, at: dt.datetime) -> Pasted:
    """What is sold is poured, with its price, and the must-knows are those among it that are marked
    so. `drop_rest`: what isn't on the list comes off the menu; else it is poured as before. Raises
    `CannotPaste`."""
    if not sold:
        raise CannotPaste({0: (Reason.of("menu_empty"),)})
    venue = Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)
    recipes = {r.slug: r for r in Recipe.objects.in_house(venue).select_related("module")}
    added, refused = list[Recipe](), dict[int, tuple[Reason | PeopleReason, ...]]()
    book = words_at(venue, at)
    for line in sold:
        try:
            with transaction.atomic():
                if line.slug is None:
                    added.append(_add(by, line, book, at))
                else:
                    _change(by, recipes[line.slug], line, book, at)
        except CannotBuild as bad:
            refused[line.line] = bad.reasons
        except Refused as no:
            refused[line.line] = (no.reason,)
    if refused:
        raise CannotPaste(refused)
    here = [r for r in recipes.values() if not r.is_retired(at)]
    rest = {r.slug: r.is_poured and not drop_rest for r in here if drop_rest or r.must_know}
    changed = _stand(by, sold, rest, at)
    facts = {"lines": len(sold), "added": len(added), "dropped_rest": drop_rest}
    log.append(venue=venue, by=by, kind="menu_pasted", facts=facts, at=at)
    return Pasted(tuple(added), tuple(changed))


def _add(by: Membership, line: Sold, book: Book | None, at: dt.datetime) -> Recipe:
    module = Module.objects.in_house(by.venue).filter(slug=line.module).first()
    if module is None:
        module = module_of_its_like(menu_at(by.venue, at), family(build_of(line.spec)))
    card = Card(line.name, module, price=line.price)
    return add_recipe(by=by, card=card, spec=line.spec, at=at, must_know=line.must_know, book=book)


def _change(by: Membership, recipe: Recipe, line: Sold, book: Book | None, at: dt.datetime) -> None:
    """Its price, where the menu has one, and the name that the menu has for it."""
    aliases = tuple(recipe.aliases)
    known = {fold(name) for name in (recipe.name, *aliases)}
    if line.name and fold(line.name) not in known:
        aliases = (*aliases, line.name)
    price = recipe.price if line.price is None else line.price
    card = Card(recipe.name, recipe.module, aliases, recipe.share, price)
    change_card(by=by, recipe=recipe, card=card, at=at, book=book)


def _stand(
    by: Membership, sold: Sequence[Sold], rest: Mapping[str, bool], at: dt.datetime
) -> list[Recipe]:
    """How the drinks that were there already stand from now on. `rest` isn't on the list: whether
    it is poured all the same."""
    standing = {slug: OnMenu.POURED if stays else OnMenu.OFF for slug, stays in rest.items()}
    for line in sold:
        if line.slug is not None:
            standing[line.slug] = OnMenu.MUST_KNOW if line.must_know else OnMenu.POURED
    try:
        return set_menu(by=by, standing=standing, at=at)
    except CannotBuild as bad:
        raise CannotPaste({0: bad.reasons}) from bad
