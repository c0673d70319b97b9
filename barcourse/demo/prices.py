"""What the demo house pays and asks for. Every figure is invented."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from random import Random

from barcourse.people.models import Membership
from recipes.grammar.ingredients import Kind, LiquorClass, liquor_class
from recipes.menu import menu_at
from recipes.models import Ingredient
from recipes.publish_prices import Priced, set_prices
from recipes.publish_recipes import Card, change_card

_BY_CLASS = {
    LiquorClass.SPIRIT: (750, 22),
    LiquorClass.LIQUEUR: (750, 19),
    LiquorClass.FORTIFIED: (750, 14),
    LiquorClass.WINE: (750, 11),
    LiquorClass.BEER: (58_700, 150),
    LiquorClass.MIXER: (1000, 3),
}
"""What a bottle (ml) or keg of it holds, and about what it costs."""
_BY_KIND = {
    Kind.DASH_BITTERS: (200, 9),
    Kind.LOW_NO: (330, 1.5),
    Kind.CITRUS: (1000, 9),
    Kind.SYRUP: (750, 6),
    Kind.SAUCE: (300, 4),
}
_ASKED = {"highballs": 9, "rocks": 12, "shots": 7, "beer": 7}
"""About what a drink of a module costs a guest."""


def price_everything(trainer: Membership, at: dt.datetime) -> None:
    """Every bottle and every drink on the menu gets a price, the same in every demo house."""
    stocked = Ingredient.objects.in_house(trainer.venue)
    bottles = {row.slug: _bottle(row) for row in stocked if _is_poured(row)}
    set_prices(by=trainer, prices=bottles, at=at)
    for item in menu_at(trainer.venue, at).items:
        recipe = item.recipe
        price = _about(_ASKED.get(recipe.module.slug, 8), recipe.slug)
        aliases = tuple(recipe.aliases)
        card = Card(recipe.name, recipe.module, aliases, recipe.share, price)
        change_card(by=trainer, recipe=recipe, card=card, at=at)


def _is_poured(row: Ingredient) -> bool:
    return liquor_class(Kind(row.kind)) is not LiquorClass.SOLID


def _bottle(row: Ingredient) -> Priced:
    kind = Kind(row.kind)
    ml, price = _BY_KIND.get(kind) or _BY_CLASS[liquor_class(kind)]
    return Priced(ml, _about(price, row.slug))


def _about(price: float, slug: str) -> Decimal:
    """A little more or less, by the half."""
    random = Random(slug)  # noqa: S311 - invented, to be the same each time
    halves = max(1, round(price * random.uniform(0.85, 1.3) * 2))
    return Decimal(halves) / 2
