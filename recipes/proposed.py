"""A change that was shown on the first of the two steps, signed, for pages outside the book.

The house book knows no people's records. A page that does gets the change from the form here,
rehearses it, and leads back to where it is published.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.core import signing
from django.urls import reverse
from django.utils.dateparse import parse_datetime

from barcourse.people.models import Membership, Venue
from recipes.grammar.rules import HouseRules
from recipes.models import Recipe
from recipes.publish import publish_revision, publish_rules

_SALT = "recipes.proposed"


class NotProposed(ValueError):  # noqa: N818  # read as a sentence: raise NotProposed
    """Not signed here, or for another house."""


@dataclass(frozen=True)
class Proposed:
    """A revision of `drink` (a slug), or house rules where that is None. `path` is the page on
    which it was typed; `takes_effect_at` None means at once."""

    drink: str | None
    content: Mapping[str, Any]
    takes_effect_at: dt.datetime | None
    path: str

    def publish(self, by: Membership, at: dt.datetime) -> object:
        """Raises what publishing raises; Recipe.DoesNotExist for a drink that is gone."""
        effect = self.takes_effect_at
        if self.drink is None:
            rules = HouseRules.model_validate(self.content)
            return publish_rules(by=by, rules=rules, at=at, takes_effect_at=effect)
        recipe = Recipe.objects.in_house(by.venue).select_related("module").get(slug=self.drink)
        return publish_revision(
            by=by, recipe=recipe, spec=self.content, at=at, takes_effect_at=effect
        )


def sign_revision(recipe: Recipe, spec: Mapping[str, Any], effect: dt.datetime | None) -> str:
    path = reverse("drink_change", args=[recipe.venue.slug, recipe.slug])
    return _sign(recipe.venue, Proposed(recipe.slug, spec, effect, path))


def sign_rules(
    venue: Venue, rules: HouseRules, effect: dt.datetime | None, page: str = "house_rules_change"
) -> str:
    """`page` is the one of the house rules on which it was typed."""
    path = reverse(page, args=[venue.slug])
    return _sign(venue, Proposed(None, rules.model_dump(mode="json"), effect, path))


def read(text: str, by: Membership) -> Proposed:
    """Raises `NotProposed` for anything that `sign_…` has not made for this house."""
    try:
        house, drink, content, effect, path = signing.loads(text, salt=_SALT)
    except (signing.BadSignature, ValueError):
        raise NotProposed from None
    if house != by.venue.code:
        raise NotProposed
    return Proposed(drink, content, parse_datetime(effect) if effect else None, path)


def _sign(venue: Venue, proposed: Proposed) -> str:
    effect = proposed.takes_effect_at.isoformat() if proposed.takes_effect_at else None
    said = [venue.code, proposed.drink, proposed.content, effect, proposed.path]
    return signing.dumps(said, salt=_SALT, compress=True)
