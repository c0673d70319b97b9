"""What the bottles of the house hold and cost, many of them written at once."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from django.db import transaction

from barcourse.people import log
from barcourse.people.models import Membership, Venue
from recipes.models import Ingredient


@dataclass(frozen=True)
class Priced:
    """What a bottle holds (ml, above 0) and what the house pays for it; None: nobody has said."""

    ml: float | None
    price: Decimal | None


@transaction.atomic
def set_prices(*, by: Membership, prices: Mapping[str, Priced], at: dt.datetime) -> list[str]:
    """Gives the slugs of what changed. What `prices` doesn't name stays as it is. Raises KeyError
    for a slug that the house doesn't stock."""
    venue = Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)
    rows = {row.slug: row for row in Ingredient.objects.in_house(venue)}
    changed = [rows[slug] for slug, said in prices.items() if _mark(rows[slug], said)]
    if not changed:
        return []
    Ingredient.objects.bulk_update(changed, ["bottle_ml", "bottle_price"])
    slugs = sorted(row.slug for row in changed)
    log.append(venue=venue, by=by, kind="prices_set", facts={"ingredients": slugs}, at=at)
    return slugs


def _mark(row: Ingredient, said: Priced) -> bool:
    """Sets what is said on the row, unsaved; whether that changed it."""
    if (row.bottle_ml, row.bottle_price) == (said.ml, said.price):
        return False
    row.bottle_ml, row.bottle_price = said.ml, said.price
    return True
