"""A drink itself: its name, its place in the book, its price, and when it leaves the menu.

How it is built stands in its revisions (`publish`). Every verb is one transaction with its log
entry and refuses with `Refused` (words in `words_editing`) or, where a build is at fault, with
`CannotBuild`.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.db import transaction

from barcourse.people import log
from barcourse.people.models import Membership, Venue
from barcourse.people.reasons import refuse
from recipes.grammar.calls import Book
from recipes.grammar.reasons import CannotBuild
from recipes.in_effect import broken_from, holding_at, waiting
from recipes.menu import pantry_of
from recipes.models import Module, Recipe, Revision, RulesVersion
from recipes.naming import (
    free_slug,
    parts_in,
    refuse_names_given_on,
    refuse_taken_names,
    tidy_aliases,
)
from recipes.publish import publish_revision

CODES = frozenset(
    {
        "retires_in_the_past",
        "already_retired",
        "not_retired",
        "last_on_the_menu",
        "not_waiting",
        "nothing_to_go_back_to",
    }
)


@dataclass(frozen=True)
class Card:
    """What the book says of a drink besides its build. `share` is relative to other drinks."""

    name: str
    module: Module
    aliases: tuple[str, ...] = ()
    share: float = 1.0
    price: Decimal | None = None


@transaction.atomic
def add_recipe(
    *,
    by: Membership,
    card: Card,
    spec: Mapping[str, Any],
    at: dt.datetime,
    takes_effect_at: dt.datetime | None = None,
    must_know: bool = False,
    book: Book | None = None,
) -> Recipe:
    """A new drink with its first revision. On the menu from the moment that revision counts.
    `book`: the words of now, where many are added at once."""
    venue = _lock(by)
    aliases = tidy_aliases(card.name, card.aliases)
    refuse_taken_names(venue, card.name, aliases, at=at, parts=parts_in(spec), book=book)
    recipe = Recipe.objects.create(
        venue=venue, module=card.module, slug=free_slug(Recipe, venue, card.name, "drink"),
        name=card.name, aliases=list(aliases), position=_last_place(card.module),
        share=card.share, price=card.price, must_know=must_know,
    )  # fmt: skip
    publish_revision(by=by, recipe=recipe, spec=spec, at=at, takes_effect_at=takes_effect_at)
    log.append(venue=venue, by=by, kind="drink_added", facts={"drink": recipe.slug}, at=at)
    return recipe


@transaction.atomic
def change_card(
    *, by: Membership, recipe: Recipe, card: Card, at: dt.datetime, book: Book | None = None
) -> list[str]:
    """Name, other names, module, share and price; gives the names of what changed.

    A drink keeps its address under another name. `CannotBuild` where the other module asks for
    alcohol that isn't in it.
    """
    venue, row = _lock(by), _fresh(recipe)
    aliases = tidy_aliases(card.name, card.aliases)
    specs = (revision.spec for revision in row.revisions.all())
    parts = [slug for spec in specs for slug in parts_in(spec)]
    refuse_taken_names(venue, card.name, aliases, at=at, besides=row, parts=parts, book=book)
    wanted = {
        "name": card.name, "module": card.module, "aliases": list(aliases),
        "share": card.share, "price": card.price,
    }  # fmt: skip
    changed = [field for field, value in wanted.items() if getattr(row, field) != value]
    if not changed:
        return []
    if "module" in changed:
        row.position = _last_place(card.module)
    for field in changed:
        setattr(row, field, wanted[field])
    if "module" in changed and not row.is_retired(at):
        _refuse_unbuildable(venue, row, at)
    row.save(update_fields=[*changed, "position"])
    facts = {"drink": row.slug, "changed": changed}
    log.append(venue=venue, by=by, kind="drink_card_changed", facts=facts, at=at)
    return changed


@transaction.atomic
def retire(
    *, by: Membership, recipe: Recipe, at: dt.datetime, retires_at: dt.datetime | None = None
) -> Recipe:
    """Takes the drink off the menu, now or from a later moment; what is on record of it stays."""
    venue, row = _lock(by), _fresh(recipe)
    moment = retires_at or at
    if moment < at:
        raise refuse("retires_in_the_past", "retires_at")
    if row.is_retired(at):
        raise refuse("already_retired", drink=row.name)
    others = Recipe.objects.in_house(venue).on_menu(moment).exclude(pk=row.pk)
    if row.is_poured and not others.exists():
        raise refuse("last_on_the_menu", drink=row.name)
    row.retires_at = moment
    row.save(update_fields=["retires_at"])
    facts = {"drink": row.slug, "from": moment.isoformat()}
    log.append(venue=venue, by=by, kind="drink_retired", facts=facts, at=at)
    return row


@transaction.atomic
def bring_back(*, by: Membership, recipe: Recipe, at: dt.datetime) -> Recipe:
    """The drink stands on the menu as it did before it was retired, or was going to be.

    `CannotBuild` where the house's rules have changed meanwhile and can't build it any more.
    """
    venue, row = _lock(by), _fresh(recipe)
    if row.retires_at is None:
        raise refuse("not_retired", drink=row.name)
    refuse_names_given_on(venue, row, at)
    row.retires_at = None
    if row.is_poured:
        _refuse_unbuildable(venue, row, at)
    row.save(update_fields=["retires_at"])
    log.append(venue=venue, by=by, kind="drink_brought_back", facts={"drink": row.slug}, at=at)
    return row


@transaction.atomic
def take_back_revision(*, by: Membership, recipe: Recipe, number: int, at: dt.datetime) -> Revision:
    """What waits will not come: from its moment on the drink is built as just before it.

    Revisions are never removed. Another one takes the place of this one at the same moment, and it
    is given back. `CannotBuild` where the rules of then can't build what there was before.
    """
    _lock(by)
    rows = list(recipe.revisions.all())
    row = next((r for r in waiting(rows, at) if r.number == number), None)
    if row is None:
        raise refuse("not_waiting", drink=recipe.name, number=number)
    earlier = [r for r in rows if r.takes_effect_at < row.takes_effect_at]
    before = holding_at(earlier, row.takes_effect_at)
    if before is None:
        raise refuse("nothing_to_go_back_to", drink=recipe.name, number=number)
    kept = publish_revision(
        by=by, recipe=recipe, spec=before.spec, at=at, takes_effect_at=row.takes_effect_at
    )
    facts = {"drink": recipe.slug, "number": number}
    log.append(venue=by.venue, by=by, kind="revision_taken_back", facts=facts, at=at)
    return kept


def _lock(by: Membership) -> Venue:
    return Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)


def _fresh(recipe: Recipe) -> Recipe:
    return Recipe.objects.select_related("module").get(pk=recipe.pk)


def _last_place(module: Module) -> int:
    last = module.recipes.order_by("-position").first()
    return last.position + 1 if last else 1


def _refuse_unbuildable(venue: Venue, recipe: Recipe, at: dt.datetime) -> None:
    revisions = list(Revision.objects.in_house(venue).of_recipe(recipe))
    versions = list(RulesVersion.objects.in_house(venue))
    if reasons := broken_from(at, {recipe: revisions}, versions, pantry_of(venue)):
        raise CannotBuild(reasons)
